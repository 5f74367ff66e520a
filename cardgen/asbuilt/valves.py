"""Turn one coil into what is known of it: its circuit, its colors, what a meter must show."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from cardgen.asbuilt.connectors import at_output
from cardgen.asbuilt.marks import mark
from cardgen.asbuilt.model.built_conductors import Band
from cardgen.asbuilt.model.built_valves import BuiltDecoder, BuiltStep, BuiltValve, Elsewhere
from cardgen.electrics import ExpectedReading, Running
from cardgen.electrics.loops import at_coil
from cardgen.facts import Facts
from cardgen.job.job_parts import Controller, MasterValve, Station
from cardgen.units import SupplyKind, Tolerance
from cardgen.wiring.wiring_parts import (
    Conductor,
    End,
    Leg,
    Load,
    LoadKind,
    Route,
    Step,
    ThroughContact,
)

# By conductor, number of the leg, and where it is entered: a leg of a common is in many circuits.
Steps = dict[tuple[str, int, str], BuiltStep]


def valve(facts: Facts, load: Load, steps: Steps) -> BuiltValve:
    """All that concerns the hand in the box; legs that it shares with others are in `steps`."""
    circuit, half = facts.circuits.get(load.id), facts.half_circuits.get(load.id)
    back = circuit or half
    first, last = (circuit.hot_at_controller, circuit.hot_at_valve) if circuit else (None, None)
    if half:
        first, last = known_at_ends(facts, load)
    owner, controller = load.owner, facts.job.controllers[load.controller]
    latching = controller.supply.value.kind is SupplyKind.LATCHING
    polarity = controller.polarity
    running = facts.running.get(owner.id)
    device = owner.device.value if isinstance(owner, Station) and owner.device else ""
    return BuiltValve(
        id=load.id,
        station=owner.id,
        kind=str(load.kind),
        area=owner.area.value if isinstance(owner, Station) and owner.area else "",
        box=load.box,
        controller=load.controller,
        terminal=load.terminal,
        isolators=tuple(_isolators(load)),
        hot=mark(last) if last else None,
        hot_at_controller=mark(first) if first else None,
        back=mark(back.back_at_valve) if back and back.back else None,
        own_return=load.back is not None,
        ohms=_ohms(facts.readings.get(owner.id)),
        coil=_coil(load),
        volts=_volts(running, load),
        milliamperes=round(running.milliamperes) if running else None,
        beside=tuple(_beside(facts, load)) if running else (),
        others=tuple(
            Elsewhere(id=other.id, box=other.box)
            for other in facts.loads_of[owner.id]
            if other is not load
        ),
        latching=latching,
        normally_open=isinstance(owner, MasterValve) and owner.normally_open,
        polarity=(polarity.hot, polarity.common) if latching and polarity else (),
        decoder=_decoder(facts, load),
        device=device,
        notes=tuple(name.value for name in owner.notes) if isinstance(owner, Station) else (),
        hot_way=tuple(_way(circuit.hot, steps)) if circuit else (),
        back_way=tuple(_way(back.back, steps)) if back else (),
        ring=back is not None and back.ring,
        coil_id=load.coil.id if load.coil else "",
        leads=str(load.coil.leads or "") if load.coil else "",
        tied=tuple(_tied(facts, load)),
        in_hot=round(running.in_hot) if running else None,
        supply=_supply(controller),
        hot_unknown=half is not None,
        line_voltage=any(other.kind is LoadKind.RELAY for other in facts.loads_in[load.box]),
    )


def known_at_ends(facts: Facts, load: Load) -> tuple[Conductor | None, Conductor | None]:
    """Of a hot that is not known as a whole, what is on the terminal and what on the coil."""
    return (
        _known_in(load.known_out) or _joined_with(facts, load.hot_end),
        _known_in(load.known_in) or _joined_with(facts, _hot_lead(facts, load)),
    )


def _hot_lead(facts: Facts, load: Load) -> End | None:
    """Of a coil whose hot is not known, the lead that is not on its way back."""
    back = facts.network.group(load.back_end)
    leads = (load.hot_lead, load.back_lead)
    away = [lead for lead in leads if facts.network.group(lead) != back]
    return away[0] if len(away) == 1 else None


def _known_in(part: Route | None) -> Conductor | None:
    """The conductor on the terminal, or on the lead, at which what is known of a hot begins."""
    return part.hops[0].conductor if part else None


def _joined_with(facts: Facts, end: End | None) -> Conductor | None:
    """The one conductor that joints as built put on a terminal or on a lead."""
    joint = facts.joint_of.get(end) if end else None
    ends = joint.ends if joint and joint.as_built else ()
    found = {each.of: facts.wiring.conductors.get(each.of) for each in ends}
    conductors = [conductor for conductor in found.values() if conductor]
    return conductors[0] if len(conductors) == 1 else None


def _isolators(load: Load) -> Iterator[str]:
    if load.hot_end.of != load.controller and isinstance(load.owner, MasterValve):
        yield from (name.value for name in load.owner.controllers)


def _ohms(reading: ExpectedReading | None) -> Band | None:
    if reading is None or reading.ohms is None or reading.low is None or reading.high is None:
        return None
    return Band(expected=reading.ohms, low=reading.low, high=reading.high)


def _volts(running: Running | None, load: Load) -> tuple[float, ...]:
    if running is None or load.id not in running.low:
        return ()
    return running.low[load.id], running.high[load.id]


def _coil(load: Load) -> Band | None:
    if load.coil_ohms is None:
        return None
    expected, low, high = at_coil(load.coil_ohms)
    return Band(expected=expected, low=low, high=high)


# Of 24 V: 21.6 to 28.1 V, what plug-in transformers give under load and without; assumed.
USUAL_TOLERANCE = Tolerance(below=10, above=17)


def _supply(controller: Controller) -> Band | None:
    volts = controller.supply.value.volts
    if controller.supply.value.kind is not SupplyKind.AC or volts is None:
        return None
    said = controller.supply_tolerance
    off = said.value if said else USUAL_TOLERANCE
    low, high = volts * (1 - off.below / 100), volts * (1 + off.above / 100)
    return Band(expected=volts, low=low, high=high)


def _beside(facts: Facts, load: Load) -> Iterator[str]:
    """The master valve and the relay whose milliamperes count in those of a station."""
    if load.kind is LoadKind.VALVE:
        yield from facts.beside_stations[load.controller]


def _tied(facts: Facts, load: Load) -> Iterator[str]:
    owners = dict.fromkeys(other.owner.id for other in facts.together.get(load.owner.id, ()))
    yield from (owner for owner in owners if owner != load.owner.id)


def _decoder(facts: Facts, load: Load) -> BuiltDecoder | None:
    if load.decoder is None:
        return None
    said = load.decoder
    return BuiltDecoder(
        id=said.id,
        address=said.address.value,
        serial=said.serial,
        leads=str(said.leads),
        box=said.box.value,
        to_valve=said.to_valve.value if said.to_valve else None,
        connectors=tuple(at_output(facts, load)),
    )


def _way(way: Iterable[Step], steps: Steps) -> Iterator[BuiltStep]:
    for step in way:
        if isinstance(step, Leg):
            key = step.conductor.name, step.number, step.start
            if key not in steps:
                steps[key] = _along(step)
            yield steps[key]
        elif isinstance(step, ThroughContact):
            yield BuiltStep(
                conductor=None, contact=step.sensor, start=step.at, end=step.at, length=""
            )
        else:
            length = str(step.pigtail.length or "")
            name = step.pigtail.id
            yield BuiltStep(
                conductor=None, contact="", start=step.at, end=step.at, length=length, name=name
            )


def _along(leg: Leg) -> BuiltStep:
    return BuiltStep(
        conductor=mark(leg.conductor),
        contact="",
        start=leg.start,
        end=leg.end,
        length=str(leg.length or ""),
        name=leg.conductor.name,
    )
