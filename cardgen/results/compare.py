"""Turn the values of several stations into what they show together and none shows alone.

Only for the wires lifted at the controller.  Single faults: a stretch of common that all of the
dead share and none of the good; two that read each other's distance; two equally low.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import combinations

from cardgen.asbuilt import BuiltValve
from cardgen.results.measured import Kind, Measured
from cardgen.results.verdict import OPEN, Finding, is_within, verdict

SAME = 2.0  # ohms by which two values may differ and still be the same; assumed
SAME_SHARE = 0.1  # or this part of them; assumed

Stretch = tuple[object, str, str]  # conductor, from, to


@dataclass(frozen=True, slots=True, kw_only=True)
class Pattern:
    """Attributes:
    name: of the words in the catalogue: `together.NAME` and `next.NAME`.
    valves: whose values show it.
    """

    name: str
    valves: tuple[str, ...]
    values: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class _Read:
    valve: BuiltValve
    value: float
    finding: Finding

    @property
    def extra(self) -> float:
        assert self.valve.ohms is not None
        return self.value - self.valve.ohms.expected


def oldest_first(measured: Iterable[Measured]) -> tuple[Measured, ...]:
    """By what their dates say; those of one moment stay in their order."""
    return tuple(sorted(measured, key=lambda each: each.when))


def compare(measured: Sequence[Measured], valves: Mapping[str, BuiltValve]) -> tuple[Pattern, ...]:
    """What the newest values of each controller show together.

    Args:
        measured: of one job, oldest first; the newest of each terminal counts.
        valves: by id, what the job says of them.
    """
    newest: dict[str, Measured] = {}
    for each in measured:
        if each.kind is Kind.CONTROLLER and each.valve in valves:
            newest[valves[each.valve].station] = each
    reads: dict[str, list[_Read]] = {}
    for one in newest.values():
        valve = valves[one.valve]
        if valve.ohms is not None and not valve.ring:
            found = _Read(valve, one.value, verdict(one, valve))
            reads.setdefault(valve.controller, []).append(found)
    return tuple(p for name in sorted(reads) for p in _patterns(name, reads[name]))


def _patterns(controller: str, reads: list[_Read]) -> Iterator[Pattern]:
    reads = sorted(reads, key=lambda read: list(read.valve.id))
    yield from _open_together(controller, reads)
    yield from _high_together(reads)
    yield from _all_double(controller, reads)
    yield from _exchanged(reads)
    yield from _touching(reads)


def _open_together(controller: str, reads: list[_Read]) -> Iterator[Pattern]:
    dead = [read for read in reads if read.value > OPEN]
    good = [read for read in reads if read.value <= OPEN]
    if len(dead) < 2:
        return
    names = _names(dead)
    if not good:
        yield Pattern(name="all-open", valves=names, values={"controller": controller})
        return
    values = {"valves": ", ".join(names)}
    stretch = _shared(dead, good)
    if stretch is None:
        yield Pattern(name="common-open-somewhere", valves=names, values=values)
        return
    start, end = stretch
    ends = {"start": start, "end": end}
    yield Pattern(name="common-open", valves=names, values={**values, **ends})


def _high_together(reads: list[_Read]) -> Iterator[Pattern]:
    high = [read for read in reads if read.finding.name in ("high", "double")]
    if len(high) < 2:
        return
    middle = sorted(read.extra for read in high)[len(high) // 2]
    same = [read for read in high if _same(read.extra, middle)]
    good = [read for read in reads if read.finding.name == "within"]
    stretch = _shared(same, good) if len(same) == len(high) and good else None
    if stretch is None:
        return
    start, end = stretch
    names = _names(same)
    values = {"valves": ", ".join(names), "extra": f"{middle:.0f}", "start": start, "end": end}
    yield Pattern(name="common-high", valves=names, values=values)


def _all_double(controller: str, reads: list[_Read]) -> Iterator[Pattern]:
    double = [read for read in reads if read.finding.name == "double"]
    rest = [read for read in reads if read.finding.name != "double"]
    if len(double) >= 2 and len(rest) == 1 and rest[0].finding.name == "within":
        values = {"controller": controller, "one": rest[0].valve.id}
        yield Pattern(name="all-double", valves=_names(double), values=values)


def _exchanged(reads: list[_Read]) -> Iterator[Pattern]:
    """Both outside their own band and inside the other's; with the same distance nothing shows."""
    odd = [read for read in reads if read.finding.name != "within"]
    pairs = [
        (one, other)
        for one, other in combinations(odd, 2)
        if one.valve.ohms and other.valve.ohms
        if is_within(one.value, other.valve.ohms) and is_within(other.value, one.valve.ohms)
    ]
    if len(pairs) == 1:
        yield _pair("exchanged", *pairs[0])


def _touching(reads: list[_Read]) -> Iterator[Pattern]:
    """Below half a coil more than the wire neither can tell; only two that are alike count."""
    low = [read for read in reads if read.finding.name in ("half", "third", "low-or-coils", "low")]
    if len(low) == 2 and _same(low[0].value, low[1].value):
        yield _pair("touching", *low)


def _pair(name: str, one: _Read, other: _Read) -> Pattern:
    names = _names((one, other))
    return Pattern(name=name, valves=names, values={"one": names[0], "other": names[1]})


def _names(reads: Sequence[_Read]) -> tuple[str, ...]:
    return tuple(read.valve.id for read in reads)


def _same(one: float, other: float) -> bool:
    return abs(one - other) <= max(SAME, SAME_SHARE * abs(other))


def _shared(dead: Sequence[_Read], good: Sequence[_Read]) -> tuple[str, str] | None:
    """Both ends of the common's stretches that all the dead share and no good one has."""
    shared = [
        step for step in _stretches(dead[0]) if all(step in _stretches(each) for each in dead[1:])
    ]
    only = [step for step in shared if not any(step in _stretches(each) for each in good)]
    return (only[0][1], only[-1][2]) if only else None


def _stretches(read: _Read) -> list[Stretch]:
    return [
        (step.conductor, step.start, step.end)
        for step in read.valve.back_way
        if step.conductor is not None
    ]
