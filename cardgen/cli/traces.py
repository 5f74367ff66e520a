"""Show each circuit segment by segment: terminal, conductors, joints, coil, and the way back."""

from __future__ import annotations

import json
import math
from collections.abc import Iterable, Iterator, Sequence
from typing import Any

from cardgen.electrics.legs import leg_ohms
from cardgen.electrics.loops import at_coil
from cardgen.facts import Facts
from cardgen.units import Ohms, plain
from cardgen.wiring.model import IN, OUT, Circuit, End, Leg, Load, Step


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
        yield "  " + _why_not(load)
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
    ohms, low, high = at_coil(load.coil.resistance)
    return f", {plain(ohms)} ohm{_band(low, high)}"


def _band(low: float, high: float) -> str:
    return f" ({max(math.floor(low), 0)} to {math.ceil(high)})"


def _why_not(load: Load) -> str:
    if load.decoder is not None:
        return (
            f"driven by decoder {load.decoder.id}, address {load.decoder.address.value}: "
            f"measure at the decoder, not at the controller; coil of {load.id}{_coil(load)}"
        )
    return "no complete circuit"


def _terminal(end: End, facts: Facts) -> str:
    if end.of in facts.job.controllers:
        return f"terminal {end.side} of {end.of}"
    return f"{end.side} output of the isolators of {end.of}"


def _reversed(steps: Sequence[Step]) -> tuple[Step, ...]:
    return tuple(
        s._replace(start=s.end, end=s.start) if isinstance(s, Leg) else s for s in reversed(steps)
    )


def _lines(facts: Facts, steps: Sequence[Step]) -> Iterator[str]:
    for step in steps:
        if not isinstance(step, Leg):
            yield f"    contact of sensor {step.sensor}"
            continue
        yield f"    {_joint_words(facts, step, step.start)}"
        ohms = leg_ohms(step)
        name = step.conductor.name
        yield (
            f"      {name:<20} {step.start} to {step.end}, {step.length}, "
            f"{step.conductor.gauge}, {ohms:.2f} ohm"
        )
    if steps and isinstance(steps[-1], Leg):
        yield f"    {_joint_words(facts, steps[-1], steps[-1].end)}"


def _joint_words(facts: Facts, leg: Leg, place: str) -> str:
    """What this conductor is joined with there, or that it passes uncut."""
    ends = leg.conductor.ends_at(place)
    side = (
        OUT if leg.conductor.places.index(leg.start) < leg.conductor.places.index(leg.end) else IN
    )
    if place == leg.end:
        side = IN if side == OUT else OUT
    joint = facts.joint_of.get(next(end for end in ends if end.side == side))
    if joint is None:
        return f"{place}: passes uncut"
    how = "as built" if joint.as_built else "usual"
    return f"{place}: joint ({how}) of " + " + ".join(_end(end) for end in joint.ends)


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
        low, high = running.low[circuit.load.id], running.high[circuit.load.id]
        volts = f"{math.floor(10 * low) / 10:.1f} to {math.ceil(10 * high) / 10:.1f} V"
        yield f"{volts} while it holds, {running.milliamperes:.0f} mA in all"
    if circuit.ring:
        yield "part of it is a ring: the way shown is the shortest"


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
        return {**found, "reason": _why_not(load)}
    volts = reading.volts.get(load.id) if reading else None
    running = facts.running.get(load.owner.id)
    return {
        **found,
        "hot": [_step(facts, step) for step in circuit.hot],
        "common": [_step(facts, step) for step in _reversed(circuit.back)],
        "ring": circuit.ring,
        "coil_ohms_20C": load.coil.resistance if load.coil else None,
        "coil_band_20C": _around(*at_coil(load.coil.resistance)[1:]) if load.coil else None,
        "ohms_20C": round(reading.ohms, 3) if reading and reading.ohms is not None else None,
        "ohms_band_20C": _around(reading.low, reading.high) if reading else None,
        "volts_at_inrush": round(volts, 3) if volts is not None else None,
        "volts_holding_low": round(running.low[load.id], 3) if running else None,
        "volts_holding_high": round(running.high[load.id], 3) if running else None,
        "milliamperes": round(running.milliamperes) if running else None,
    }


def _around(low: Ohms | None, high: Ohms | None) -> list[float] | None:
    """Where an honest meter lies."""
    return None if low is None or high is None else [round(low, 3), round(high, 3)]


def _step(facts: Facts, step: Step) -> dict[str, Any]:
    if not isinstance(step, Leg):
        return {"contact": step.sensor, "at": step.at}
    return {
        "cable": step.conductor.cable.id,
        "conductor": step.conductor.name,
        "from": step.start,
        "to": step.end,
        "length_m": round(step.length.metres, 3),
        "gauge": str(step.conductor.gauge),
        "ohms_20C": round(leg_ohms(step), 4),
        "joint_from": _joint_words(facts, step, step.start),
        "joint_to": _joint_words(facts, step, step.end),
    }
