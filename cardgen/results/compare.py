"""Turn the values of several stations into what they show together and none shows alone.

Only for the wires lifted at the controller.  What fits is said to fit, and a valve that one pattern
explains is not told of again; a fault that explains none of the others silences none of them.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import field
from itertools import combinations

from cardgen.asbuilt import Band, BuiltValve
from cardgen.asbuilt.model.built_valves import BuiltStep
from cardgen.light_dataclass import dataclass
from cardgen.results.measured import OL, Kind, Measured
from cardgen.results.verdict import METER, Finding, is_within, verdict

SAME = 2.0  # ohms by which two values may differ and still be the same; assumed
SAME_SHARE = 0.1  # or this part of them; assumed


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
    measured: Measured
    finding: Finding

    @property
    def value(self) -> float:
        return self.measured.net

    @property
    def loop(self) -> Band:
        assert self.valve.ohms is not None
        return self.valve.ohms

    @property
    def extra(self) -> float:
        return self.value - self.loop.expected


def oldest_first(measured: Iterable[Measured]) -> tuple[Measured, ...]:
    """What counts, by what the dates say; those of one moment stay in their order."""
    return tuple(sorted((m for m in measured if not m.withdrawn), key=lambda m: m.when))


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
        if valve.ohms is not None:
            reads.setdefault(valve.controller, []).append(_Read(valve, one, verdict(one, valve)))
    all_of = {
        name: {valve.station for valve in valves.values() if _is_of(valve, name)} for name in reads
    }
    return tuple(p for name in sorted(reads) for p in _patterns(name, reads[name], all_of[name]))


def _is_of(valve: BuiltValve, controller: str) -> bool:
    return valve.controller == controller and valve.ohms is not None


def _patterns(controller: str, reads: list[_Read], stations: set[str]) -> Iterator[Pattern]:
    """Each rule gets what no rule before it has explained."""
    reads = sorted(reads, key=lambda read: list(read.valve.id))
    if all(read.value == OL for read in reads):
        yield from _all_open(controller, reads, stations)
        return
    straight = [read for read in reads if not read.valve.ring]
    explained: set[str] = set()
    for rule in (_all_double, _open_together, _high_together, _exchanged, _touching):
        left = [read for read in straight if read.valve.id not in explained]
        for pattern in rule(left, straight):
            explained.update(pattern.valves)
            yield pattern


# ---- nothing flows -------------------------------------------------------------------------


def _all_open(controller: str, reads: list[_Read], stations: set[str]) -> Iterator[Pattern]:
    """Of a controller; as long as some are not measured, only of so many of them."""
    if len(reads) < 2:
        return
    values = {"controller": controller, "number": str(len(reads)), "all": str(len(stations))}
    if len(reads) < len(stations):
        yield Pattern(name="open-so-far", valves=_names(reads), values=values)
        return
    sensors = [step.contact for step in _shared(reads, ()) if step.contact]
    yield _with_sensors("all-open", reads, sensors, values)


def _open_together(left: list[_Read], every: list[_Read]) -> Iterator[Pattern]:
    """The steps of common that most of the dead share and no good one has, then the next."""
    dead = [read for read in left if read.value == OL]
    good = [read for read in every if read.value != OL]
    while dead:
        block = _largest_block(dead, good)
        if len(block) < 2:
            break
        yield _of_block("common-open", block, good)
        dead = [read for read in dead if read not in block]
    if len(dead) > 1:
        values = {"valves": ", ".join(_names(dead))}
        yield Pattern(name="common-open-somewhere", valves=_names(dead), values=values)


def _largest_block(dead: Sequence[_Read], good: Sequence[_Read]) -> list[_Read]:
    """The most of them that share a step which none of the good has."""
    sound = {_key(step) for read in good for step in _steps(read)}
    sharing: dict[tuple[object, ...], list[_Read]] = {}
    for read in dead:
        for step in _steps(read):
            if _key(step) not in sound:
                sharing.setdefault(_key(step), []).append(read)
    return max(sharing.values(), key=len, default=[])


# ---- too much ------------------------------------------------------------------------------


def _high_together(left: list[_Read], every: list[_Read]) -> Iterator[Pattern]:
    """Those that are too high by about the same, by a step that no good one has."""
    high = sorted(
        (read for read in left if read.finding.name in ("high", "double", "wet")),
        key=lambda read: read.extra,
    )
    good = [read for read in every if read.finding.name == "within"]
    while good and high:
        cluster = [read for read in high if _same(read.extra, high[0].extra)]
        block = _largest_block(cluster, good)
        if len(block) > 1:
            ordered = [read for read in every if read in block]
            middle = sorted(read.extra for read in block)[len(block) // 2]
            yield _of_block("common-high", ordered, good, extra=f"{middle:.0f}")
        high = [read for read in high if read not in cluster]


def _of_block(name: str, block: Sequence[_Read], good: Sequence[_Read], **values: str) -> Pattern:
    steps = _shared(block, good)
    ends = {"start": steps[0].start, "end": steps[-1].end, "valves": ", ".join(_names(block))}
    sensors = [step.contact for step in steps if step.contact]
    return _with_sensors(name, block, sensors, {**values, **ends})


def _with_sensors(
    name: str, reads: Sequence[_Read], sensors: Sequence[str], values: Mapping[str, str]
) -> Pattern:
    """Where a contact that was not bypassed lies on the way, it may be what is open."""
    if sensors:
        name, values = f"{name}-sensor", {**values, "sensor": ", ".join(sensors)}
    return Pattern(name=name, valves=_names(reads), values=values)


def _all_double(left: list[_Read], _every: list[_Read]) -> Iterator[Pattern]:
    """C and a hot exchanged: each other reads its own loop and that coil; those that are open,
    or off by another fault, speak for nothing.
    """
    good = [read for read in left if read.finding.name == "within"]
    if len(good) != 1:
        return
    (right,) = good
    double = [read for read in left if _is_through_both(read, right)]
    if len(double) >= 2 and all(
        read in double or read.value == OL for read in left if read != right
    ):
        values = {"valves": ", ".join(_names(double)), "one": right.valve.id}
        yield Pattern(name="all-double", valves=_names(double), values=values)


def _is_through_both(read: _Read, other: _Read) -> bool:
    """Between its own loop with the other's coil, and both loops one after the other."""
    coil = other.valve.coil
    if coil is None:
        return False
    return read.loop.low + coil.low <= read.value <= read.loop.high + other.loop.high


# ---- two that show each other --------------------------------------------------------------


def _exchanged(left: list[_Read], _every: list[_Read]) -> Iterator[Pattern]:
    """Both outside their own band and inside the other's; with the same distance nothing shows."""
    odd = [read for read in left if read.finding.name != "within"]
    pairs = [
        (one, other)
        for one, other in combinations(odd, 2)
        if is_within(one.value, other.loop) and is_within(other.value, one.loop)
    ]
    yield from _told_once("exchanged", pairs)


def _touching(left: list[_Read], _every: list[_Read]) -> Iterator[Pattern]:
    """Two that are alike, each what both loops side by side would read."""
    low = [read for read in left if read.finding.name in ("half", "third", "low-or-coils", "low")]
    pairs = [
        (one, other)
        for one, other in combinations(low, 2)
        if _same(one.value, other.value) and _is_parallel(one, other) and _is_parallel(other, one)
    ]
    yield from _told_once("touching", pairs)


def _is_parallel(read: _Read, other: _Read) -> bool:
    """Touching at the terminals both loops are side by side, at its valve the coil and the other's
    loop are; all its wire comes on top then, at most.
    """
    coil = read.valve.coil
    if coil is None:
        return False
    least = _parallel(read.loop.low, other.loop.low)
    wire = read.loop.expected - coil.expected / (1 + len(read.valve.others))
    most = wire + _parallel(coil.high, other.loop.high) + METER
    return least <= read.value <= most


def _parallel(one: float, other: float) -> float:
    return one * other / (one + other) if one > 0 and other > 0 else 0.0


def _told_once(name: str, pairs: Sequence[tuple[_Read, _Read]]) -> Iterator[Pattern]:
    """Two that fit only each other as a pair; where one fits several, all of them together."""
    groups: list[list[_Read]] = []
    for pair in pairs:
        touched = [group for group in groups if any(read in group for read in pair)]
        merged = [read for group in touched for read in group]
        merged += [read for read in pair if read not in merged]
        groups = [group for group in groups if group not in touched] + [merged]
    for group in groups:
        names = _names(sorted(group, key=lambda read: list(read.valve.id)))
        if len(names) == 2:
            yield Pattern(name=name, valves=names, values={"one": names[0], "other": names[1]})
        else:
            yield Pattern(name=f"{name}-among", valves=names, values={"valves": ", ".join(names)})


def _names(reads: Sequence[_Read]) -> tuple[str, ...]:
    return tuple(read.valve.id for read in reads)


def _same(one: float, other: float) -> bool:
    return abs(one - other) <= max(SAME, SAME_SHARE * abs(other))


# ---- ways back -----------------------------------------------------------------------------


def _shared(reads: Sequence[_Read], good: Sequence[_Read]) -> list[BuiltStep]:
    """Steps of the common that all of these share and no good one has, from C outward."""
    sound = {_key(step) for read in good for step in _steps(read)}
    others = [{_key(step) for step in _steps(read)} for read in reads[1:]]
    return [
        step
        for step in _steps(reads[0])
        if _key(step) not in sound and all(_key(step) in keys for keys in others)
    ]


def _steps(read: _Read) -> list[BuiltStep]:
    """Conductors, and contacts that were not bypassed."""
    under = read.measured.under
    return [
        step
        for step in read.valve.back_way
        if step.conductor is not None or (step.contact and not under.is_bypassed(step.contact))
    ]


def _key(step: BuiltStep) -> tuple[object, ...]:
    return step.conductor, step.name, step.contact, step.start, step.end
