"""Show each circuit segment by segment: terminal, conductors, joints, coil, and the way back."""

from __future__ import annotations

import json
import math
from collections.abc import Iterable, Iterator, Sequence
from typing import Any

from cardgen.asbuilt.valves import known_at_ends
from cardgen.electrics.legs import leg_ohms, link_ohms, step_ohms
from cardgen.electrics.loops import at_coil
from cardgen.facts import Facts
from cardgen.units import Ohms, in_meters, plain
from cardgen.wiring.wiring_parts import (
    IN,
    OUT,
    Circuit,
    End,
    Leg,
    Load,
    Route,
    Step,
    ThroughContact,
    ThroughPigtail,
)
from cardgen.wiring.written import PIGTAIL_SIDES


def as_text(facts: Facts, loads: Iterable[Load]) -> str:
    """One block for each coil, from the terminal to the coil and back to C."""
    return "\n\n".join("\n".join(_block(facts, load)) for load in loads)


def as_json(facts: Facts, loads: Iterable[Load]) -> str:
    return json.dumps(
        {"circuits": [_as_dict(facts, load) for load in loads]}, indent=2, ensure_ascii=False
    )


def _block(facts: Facts, load: Load) -> Iterator[str]:
    area = getattr(load.owner, "area", None)
    yield " · ".join([load.id, *([area.value] if area else [str(load.kind)]), load.box])
    circuit = facts.circuits.get(load.id)
    if circuit is None:
        yield "  " + _why_not(facts, load)
        return
    yield f"  {_terminal(load.hot_end, facts)}"
    yield from _lines(facts, circuit.hot)
    yield f"    coil of {load.id}{_coil(load)}"
    yield from _lines(facts, _reversed(circuit.back))
    yield f"  {_terminal(load.back_end, facts)}"
    yield "  " + "; ".join(_readings(facts, circuit))


def _coil(load: Load) -> str:
    """`, 30 ohm (24 to 36)`: by itself, its leads off; as on its tag."""
    if load.coil is None:
        return ""
    if load.coil_ohms is None:
        return ", ohms not known"
    ohms, low, high = at_coil(load.coil_ohms)
    return f", {plain(ohms)} ohm{_band(low, high)}"


def _band(low: float, high: float) -> str:
    return f" ({max(math.floor(low), 0)} to {math.ceil(high)})"


def _why_not(facts: Facts, load: Load) -> str:
    if load.decoder is not None:
        return (
            f"driven by decoder {load.decoder.id}, address {load.decoder.address.value}: "
            f"measure at the decoder, not at the controller; coil of {load.id}{_coil(load)}"
        )
    if load.hot_unknown:
        known = "; ".join(_known_of_hot(facts, load))
        if known:
            return f"its hot is known in part: {known}; the rest is not known"
        return "its hot is not known"
    return "no complete circuit"


def _known_of_hot(facts: Facts, load: Load) -> Iterator[str]:
    """`A-K1 red from terminal 3 of A to VB-1`, and as far as it is known what comes to the coil."""
    terminal, coil = _terminal(load.hot_end, facts), f"the coil of {load.id}"
    first, last = known_at_ends(facts, load)
    if load.known_out:
        yield f"{_names(load.known_out)} from {terminal} to {_far_end(load.known_out)}"
    elif first:
        yield f"{first.name} on {terminal}"
    if load.known_in:
        yield f"{_names(load.known_in, inward=True)} from {_far_end(load.known_in)} to {coil}"
    elif last:
        yield f"{last.name} on {coil}"


def _names(route: Route, *, inward: bool = False) -> str:
    """Its conductors, outward."""
    names = [hop.conductor.name for hop in route.hops]
    return " + ".join(reversed(names) if inward else names)


def _far_end(route: Route) -> str:
    """The place behind which nobody knows it."""
    last = route.hops[-1]
    return last.arrival(last.end).at


def _terminal(end: End, facts: Facts) -> str:
    if end.of in facts.job.controllers:
        return f"terminal {end.side} of {end.of}"
    return f"{end.side} output of the isolating relays of {end.of}"


def _reversed(steps: Sequence[Step]) -> tuple[Step, ...]:
    return tuple(
        s._replace(start=s.end, end=s.start) if isinstance(s, Leg) else s for s in reversed(steps)
    )


def _lines(facts: Facts, steps: Sequence[Step]) -> Iterator[str]:
    for number, step in enumerate(steps):
        if isinstance(step, ThroughPigtail):
            entered, left = _ends_of_pigtail(facts, steps, number)
            yield f"    {_words_of_joint(facts, entered)}"
            yield f"    {_between(step)}"
            if number + 1 == len(steps):
                yield f"    {_words_of_joint(facts, left)}"
            continue
        if isinstance(step, ThroughContact):
            yield f"    {_between(step)}"
            continue
        yield f"    {_joint_words(facts, step, step.start)}"
        yield f"      {step.conductor.name:<20} {', '.join(_leg_words(step))}"
    if steps and isinstance(steps[-1], Leg):
        yield f"    {_joint_words(facts, steps[-1], steps[-1].end)}"


def _leg_words(step: Leg) -> Iterator[str]:
    ohms, gauge = leg_ohms(step), step.conductor.gauge
    yield f"{step.start} to {step.end}"
    yield str(step.length) if step.length else "length not known"
    yield str(gauge) if gauge else "gauge not known"
    if ohms is not None:
        yield f"{ohms:.2f} ohm"


def _between(step: ThroughContact | ThroughPigtail) -> str:
    if isinstance(step, ThroughContact):
        return f"contact of sensor {step.sensor}"
    pigtail = step.pigtail
    return f"pigtail {pigtail.id} in {step.at}, " + ", ".join(
        str(detail)
        for detail in (pigtail.color and pigtail.color.word, pigtail.length, pigtail.gauge)
        if detail
    )


def _ends_of_pigtail(facts: Facts, steps: Sequence[Step], number: int) -> tuple[End, End]:
    """The end by which a way comes into a pigtail, and the one by which it goes on."""
    step = steps[number]
    assert isinstance(step, ThroughPigtail)
    one, two = (End(step.pigtail.id, step.at, side) for side in PIGTAIL_SIDES)
    after = steps[number + 1] if number + 1 < len(steps) else None
    before = steps[number - 1] if number else None
    if isinstance(after, Leg):
        return (two, one) if _touches(facts, one, _start_of(after)) else (one, two)
    if isinstance(before, Leg):
        return (one, two) if _touches(facts, one, _end_of(before)) else (two, one)
    return one, two


def _touches(facts: Facts, one: End, other: End) -> bool:
    return facts.network.net(one) == facts.network.net(other)


def _start_of(leg: Leg) -> End:
    places = leg.conductor.places
    side = OUT if places.index(leg.start) < places.index(leg.end) else IN
    return End(leg.conductor.name, leg.start, side)


def _end_of(leg: Leg) -> End:
    return _start_of(leg._replace(start=leg.end, end=leg.start))


def _joint_words(facts: Facts, leg: Leg, place: str) -> str:
    """What this conductor is joined with there, or that it passes uncut."""
    return _words_of_joint(facts, _start_of(leg) if place == leg.start else _end_of(leg))


def _words_of_joint(facts: Facts, end: End) -> str:
    joint = facts.joint_of.get(end)
    if joint is None:
        return f"{end.at}: passes uncut"
    how = "as built" if joint.as_built else "usual"
    pigtails = facts.job.pigtails
    names = (e.of if e.of in pigtails else _end(e) for e in joint.ends)
    return f"{end.at}: joint ({how}) of " + " + ".join(names)


def _end(end: End) -> str:
    return f"terminal {end.side}" if end.of == end.at else f"{end.of} {end.side}"


def _readings(facts: Facts, circuit: Circuit) -> Iterator[str]:
    reading = facts.readings.get(circuit.load.owner.id)
    if reading is None or reading.ohms is None:
        yield "ohms at the controller: not known"
    else:
        band = ""
        if reading.low is not None and reading.high is not None:
            band = _band(reading.low, reading.high)
        yield f"{reading.ohms:.1f} ohm{band} at the controller at 20 C"
    if reading is not None and circuit.load.id in reading.volts:
        yield f"{reading.volts[circuit.load.id]:.1f} V at the coil at inrush"
    running = facts.running.get(circuit.load.owner.id)
    if running is not None:
        volts = "volts not known"
        if circuit.load.id in running.low:
            low, high = running.low[circuit.load.id], running.high[circuit.load.id]
            volts = f"{math.floor(10 * low) / 10:.1f} to {math.ceil(10 * high) / 10:.1f} V"
        yield f"{volts} while holding, {running.milliamperes:.0f} mA in all"
    if circuit.ring:
        known = all(step_ohms(step) is not None for step in (*circuit.hot, *circuit.back))
        shown = "the way shown has the least ohms" if known else "the way shown is one of several"
        yield f"part of it is a ring: {shown}"


def _as_dict(facts: Facts, load: Load) -> dict[str, Any]:
    circuit = facts.circuits.get(load.id)
    reading = facts.readings.get(load.owner.id)
    found: dict[str, Any] = {
        "id": load.id,
        "station": load.owner.id,
        "controller": load.controller,
        "terminal": load.terminal,
        "box": load.box,
        "complete": circuit is not None,
    }
    if circuit is None:
        return {**found, "reason": _why_not(facts, load)}
    volts = reading.volts.get(load.id) if reading else None
    running = facts.running.get(load.owner.id)
    return {
        **found,
        "hot": [_step(facts, step) for step in circuit.hot],
        "common": [_step(facts, step) for step in _reversed(circuit.back)],
        "ring": circuit.ring,
        "coil_ohms_20C": load.coil_ohms,
        "coil_band_20C": _around(*at_coil(ohms)[1:]) if (ohms := load.coil_ohms) else None,
        "ohms_20C": round(reading.ohms, 3) if reading and reading.ohms is not None else None,
        "ohms_band_20C": _around(reading.low, reading.high) if reading else None,
        "volts_at_inrush": round(volts, 3) if volts is not None else None,
        "volts_holding_low": _rounded(running.low.get(load.id)) if running else None,
        "volts_holding_high": _rounded(running.high.get(load.id)) if running else None,
        "milliamperes": round(running.milliamperes) if running else None,
    }


def _rounded(value: float | None, digits: int = 3) -> float | None:
    """None where it is not known."""
    return None if value is None else round(value, digits)


def _around(low: Ohms | None, high: Ohms | None) -> list[float] | None:
    """Where an honest meter lies."""
    return None if low is None or high is None else [round(low, 3), round(high, 3)]


def _step(facts: Facts, step: Step) -> dict[str, Any]:
    if isinstance(step, ThroughPigtail):
        ohms = round(link_ohms(step), 4)
        pigtail = step.pigtail
        length = _rounded(in_meters(pigtail.length))
        return {
            "pigtail": pigtail.id,
            "at": step.at,
            "length_m": length,
            "gauge": str(pigtail.gauge),
            "ohms_20C": ohms,
        }
    if isinstance(step, ThroughContact):
        return {"contact": step.sensor, "at": step.at}
    return {
        "cable": step.conductor.cable.id,
        "conductor": step.conductor.name,
        "from": step.start,
        "to": step.end,
        "length_m": _rounded(in_meters(step.length)),
        "gauge": str(step.conductor.gauge) if step.conductor.gauge else None,
        "ohms_20C": _rounded(leg_ohms(step), 4),
        "joint_from": _joint_words(facts, step, step.start),
        "joint_to": _joint_words(facts, step, step.end),
    }
