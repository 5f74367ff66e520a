"""What a value on a spare shows: that it is whole, open, poor, touched nearer by, or live.

```
   meter                  tied in `box`
  spare  o----------------------o      as built: ohms of both, out and back
  other  o----------------------o      fewer: they touch nearer by, no farther than in that ratio
```
Volts with no load on a wire that ends in the air are induced by the wires beside it: no fault.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from cardgen.diagnosis.diagnosed import FaultKind, SuspectedFault, SuspectSite
from cardgen.diagnosis.weights import METER_OHMS, METER_PART, WIRE_PART, WIRE_SCATTER
from cardgen.diagnosis.yard import NetworkEdge, Yard
from cardgen.owners import common_of
from cardgen.results import OL, Kind, Measured
from cardgen.results.verdict import NO_VOLTS

_OFF = 3.0  # standard deviations
Cleared = frozenset[tuple[str, str, str]]  # legs that other values show to be good


class _LoopSide(NamedTuple):
    """One side of a loop: legs that follow each other from the meter to the tie.

    `is_known` is whether these are all: a leg without a length has no ohms.
    """

    conductor: str
    legs: tuple[NetworkEdge, ...]
    ends: tuple[str, str]
    is_known: bool

    @property
    def ohms(self) -> float:
        return sum(leg.ohms for leg in self.legs)


def shown_by_a_spare(yard: Yard, measured: Measured, cleared: Cleared) -> Iterator[SuspectedFault]:
    """Args:
    cleared: legs that carry what they should by other values.
    """
    conductor = _conductor(yard, measured.start)
    if conductor is None:
        return
    if measured.kind is Kind.SPARE_LOOP:
        yield from _of_a_loop(yard, measured, conductor, cleared)
    elif measured.kind is Kind.VOLTS and measured.value >= NO_VOLTS:
        places = yard.asbuilt.conductor[conductor].places
        site = SuspectSite(conductor=conductor, start=places[0], end=places[-1])
        yield SuspectedFault(
            kind=FaultKind.SPARE_LIVE,
            valves=(),
            sites=(site,),
            ohms=measured.value,
            name=measured.start,
        )


def is_compared_as_a_spare(yard: Yard, measured: Measured) -> bool:
    """Whether the job says what there should be."""
    conductor = _conductor(yard, measured.start)
    if conductor is None or measured.kind is not Kind.SPARE_LOOP:
        return conductor is not None
    return _sides(yard, measured, conductor) is not None


def _conductor(yard: Yard, name: str) -> str | None:
    """By its own name, or that of a spare's flag."""
    if name in yard.asbuilt.conductor:
        return name
    return next((s.conductor for s in yard.asbuilt.spares if s.id == name and s.conductor), None)


def _of_a_loop(
    yard: Yard, measured: Measured, conductor: str, cleared: Cleared
) -> Iterator[SuspectedFault]:
    sides = _sides(yard, measured, conductor)
    if sides is None:
        return
    out, back = sides
    sound, value = out.ohms + back.ohms, measured.net
    spread = METER_OHMS + METER_PART * sound + (WIRE_PART + WIRE_SCATTER) * sound
    suspected = [w for w in (out, back) if not _is_cleared(w, cleared)] or [out]
    name = measured.start
    if value == OL or value > sound + _OFF * spread:
        kind = FaultKind.OPEN if value == OL else FaultKind.RESISTIVE
        ohms = None if value == OL else value - sound
        sites = tuple(map(_site, suspected))
        yield SuspectedFault(kind=kind, valves=(), sites=sites, ohms=ohms, name=name)
    elif value < sound - _OFF * spread:
        meters = sum(yard.meters(leg) for leg in out.legs)
        most = min(meters, meters * (value + spread) / sound)
        site = _site(out, most)
        yield SuspectedFault(
            kind=FaultKind.SPARE_TOUCHES, valves=(), sites=(site,), ohms=value, name=measured.to
        )


def _sides(yard: Yard, measured: Measured, conductor: str) -> tuple[_LoopSide, _LoopSide] | None:
    """Out and back; None where the job does not say what the meter should show."""
    out = _way(yard, conductor, measured.box)
    back = out and _beside(yard, measured.to, out)
    if not out or not back or not (out.is_known or measured.value == OL):
        return None
    return out, back


def _is_cleared(way: _LoopSide, cleared: Cleared) -> bool:
    return way.is_known and all((leg.conductor, leg.start, leg.end) in cleared for leg in way.legs)


def _site(way: _LoopSide, most_m: float | None = None) -> SuspectSite:
    start, end = way.ends
    return SuspectSite(conductor=way.conductor, start=start, end=end, least_m=None, most_m=most_m)


def _way(yard: Yard, conductor: str, box: str) -> _LoopSide | None:
    """From its end at the controller, or the first that there is, to the box; else from the last.

    A leg of no length is no edge, and has no ohms to add.
    """
    built = yard.asbuilt.conductor[conductor]
    places, lengths = built.places, built.legs
    if box not in places:
        return None
    at = places.index(box)
    legs = tuple(e for e in yard.edges if e.conductor == conductor)
    near = tuple(leg for leg in legs if leg.leg < at)
    far = tuple(leg for leg in reversed(legs) if leg.leg >= at)
    if near or None in lengths[:at]:
        legs, first, between = near, places[0], lengths[:at]
    else:
        legs, first, between = far, places[-1], lengths[at:]
    return _LoopSide(conductor, legs, (first, box), None not in between) if legs else None


def _beside(yard: Yard, name: str, out: _LoopSide) -> _LoopSide | None:
    """The other wire on the same legs: by its name, or the common or hot that lies beside it."""
    beside = [
        leg
        for own in out.legs
        for leg in yard.in_cable_leg[yard.cable_leg(own)]
        if leg.conductor != out.conductor and _is_named(yard, leg, name)
    ]
    if len(beside) != len(out.legs):
        return None
    return _LoopSide(beside[0].conductor, tuple(beside), out.ends, out.is_known)


def _is_named(yard: Yard, leg: NetworkEdge, name: str) -> bool:
    if leg.conductor == _conductor(yard, name):
        return True
    group = yard.group.get(leg.one)
    commons = {
        yard.group.get(t.node)
        for t in yard.network.terminals
        if t.name == "C" and common_of(t.controller) == name
    }
    hots = {yard.group.get(c.hot_end) for v, c in yard.coil.items() if _is_of(yard, v, name)}
    return group in commons | hots


def _is_of(yard: Yard, valve: str, name: str) -> bool:
    return name in (valve, yard.asbuilt.valve[valve].station)
