"""Count leg by leg what every cable needs and has, and say where it has too few."""

from __future__ import annotations

from collections import Counter, defaultdict, deque
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence

from cardgen.allot.allotment import LegNeed, Need
from cardgen.checks.spares import reaching
from cardgen.english_lists import natural
from cardgen.facts import Facts
from cardgen.faults.conductor_faults import CONDUCTORS_SHORT
from cardgen.job.job_parts import Job
from cardgen.problems import Problem
from cardgen.wiring.uses import Role, Stretch
from cardgen.wiring.wiring_parts import Hop

_Leg = tuple[str, int]  # cable, number of the leg in its run
_Track = tuple[_Leg, ...]
_Counts = dict[_Leg, dict[str, set[str]]]  # by kind, the conductors that serve something in a leg

MOST_TRIED = 2_000  # beginnings of ways along cables
_KINDS = {Role.COMMON: "commons", Role.SPARE: "spares"}


def legs_needed(
    facts: Facts, hops: Sequence[Hop] = (), missed: Sequence[Need] = ()
) -> tuple[LegNeed, ...]:
    """Every leg of every cable.

    Args:
        hops: of ways that the job does not hold yet.
        missed: stations without a way; they count along the cables that they would take.
    """
    counts: _Counts = defaultdict(lambda: defaultdict(set))
    for claim in facts.claims:
        cable = facts.wiring.conductors[claim.conductor].cable.id
        kind = _KINDS.get(claim.role, "others")
        if claim.role is Role.HOT and claim.owner.id in facts.job.stations:
            kind = "hots"
        counts[cable, claim.leg][kind].add(claim.conductor)
    for hop in hops:
        for number in range(min(hop.start, hop.end), max(hop.start, hop.end)):
            counts[hop.conductor.cable.id, number]["hots"].add(hop.conductor.name)
    for stretch in facts.maybe_hots:  # nobody takes one before it is known which is in use
        for number in range(stretch.start, stretch.end):
            counts[stretch.conductor.cable.id, number]["others"].add(stretch.conductor.name)
    tracks = Tracks(facts.job)
    taken = {hop.conductor.name for hop in hops}
    free = [s for s in facts.free if s.conductor.name not in taken]
    asked = _spares_asked(facts, counts, tracks, free)
    for need in missed:
        _add(counts, need, tracks, facts, asked)
    if missed:  # which would take what is free
        asked = _spares_asked(facts, counts, tracks, ())
    return tuple(_legs(facts, counts, asked))


def _add(
    counts: _Counts,
    need: Need,
    tracks: Tracks,
    facts: Facts,
    asked: Mapping[_Leg, int],
) -> None:
    """Count a station along the way on which the least is lacking."""

    def lacking(track: Iterable[_Leg]) -> int:
        return max(
            (
                _used(counts, leg)
                + max(asked.get(leg, 0), len(counts[leg]["spares"]))
                + 1
                - has_on(facts, leg)
                for leg in track
            ),
            default=0,
        )

    found: dict[_Leg, None] = {}
    for box in need.boxes:
        ways = tracks.to(need.begin.at, box)
        if ways:
            found |= dict.fromkeys(min(ways, key=lambda way: max(lacking(way), 0)))
    for leg in found:
        counts[leg]["hots"].add(f"for {need.station.id}")


def _legs(facts: Facts, counts: _Counts, asked: Mapping[_Leg, int]) -> Iterator[LegNeed]:
    for cable in facts.job.cables.values():
        for number, stop in enumerate(cable.run[1:]):
            there = counts.get((cable.id, number), {})
            yield LegNeed(
                cable=cable,
                number=number,
                start=cable.run[number].at,
                end=stop.at,
                hots=len(there.get("hots", ())),
                commons=len(there.get("commons", ())),
                others=len(there.get("others", ())),
                spares=max(asked.get((cable.id, number), 0), len(there.get("spares", ()))),
                has=has_on(facts, (cable.id, number)),
            )


def has_on(facts: Facts, leg: _Leg) -> int:
    """How many conductors lie in a leg."""
    cable, number = leg
    return sum(len(c.legs) > number for c in facts.conductors_of.get(cable, ()))


def _spares_asked(
    facts: Facts, counts: _Counts, tracks: Tracks, free: Collection[Stretch]
) -> dict[_Leg, int]:
    """By leg the most that a box behind it asks for.

    Where several cables lead to a box, each carries as many of its spares as have room in it.
    What is left over counts on the shortest way, unless what is free gets there by longer ones.
    """
    asked: dict[_Leg, int] = {}
    for box in facts.job.boxes.values():
        if box.spares is None:
            continue
        ways = [way for c in sorted(facts.job.controllers) for way in tracks.to(c, box.id)]
        shares = _shares(facts, counts, sorted(ways, key=len), box.spares.value)
        left = box.spares.value - sum(shares.values())
        there = reaching(free, facts.job.controllers, box.id, box.spares.value)
        if left and ways and there < box.spares.value:
            first = min(ways, key=len)
            shares[first] = shares.get(first, 0) + left
        mine: Counter[_Leg] = Counter()
        for way, share in shares.items():
            mine.update(dict.fromkeys(way, share))
        for leg, share in mine.items():
            asked[leg] = max(asked.get(leg, 0), share)
    return asked


def _shares(
    facts: Facts, counts: _Counts, ways: Iterable[_Track], wanted: int
) -> dict[_Track, int]:
    """By way, how many spares have room along it, until there are as many as wanted."""
    mine: Counter[_Leg] = Counter()
    shares: dict[_Track, int] = {}
    for way in ways:
        room = min(has_on(facts, leg) - _used(counts, leg) - mine[leg] for leg in way)
        share = min(wanted - sum(shares.values()), max(room, 0))
        if share:
            shares[way] = share
            mine.update(dict.fromkeys(way, share))
    return shares


def _used(counts: _Counts, leg: _Leg) -> int:
    """Conductors that serve something in a leg."""
    return sum(len(found) for kind, found in counts[leg].items() if kind != "spares")


class Tracks:
    """The ways along cables, whatever is in them."""

    def __init__(self, job: Job) -> None:
        self.job = job
        self._runs = {
            name: tuple(stop.at for stop in job.cables[name].run)
            for name in sorted(job.cables, key=natural)
        }

    def to(self, controller: str, box: str) -> list[_Track]:
        """Those with the fewest splices; empty if no cable leads there."""
        found: list[_Track] = []
        fewest = 0
        queue: deque[tuple[str, _Track, frozenset[str]]] = deque([(controller, (), frozenset())])
        for _ in range(MOST_TRIED):
            if not queue or (found and len(queue[0][2]) >= fewest):
                break
            here, track, used = queue.popleft()
            for cable, run in self._runs.items():
                if cable in used or here not in run:
                    continue
                for there in run:
                    legs = (*track, *_between(cable, run.index(here), run.index(there)))
                    if there == box and there != here:
                        found.append(legs)
                        fewest = len(used) + 1
                    elif there != here and there in self.job.boxes and self._is_joint(cable, there):
                        queue.append((there, legs, used | {cable}))
        return found

    def _is_joint(self, cable: str, box: str) -> bool:
        return any(box in run for other, run in self._runs.items() if other != cable)


def _between(cable: str, start: int, end: int) -> _Track:
    return tuple((cable, number) for number in range(min(start, end), max(start, end)))


def conductors_short(job: Job, legs: Iterable[LegNeed]) -> Iterator[Problem]:
    """The worst leg of each cable that has too few conductors."""
    worst: dict[str, LegNeed] = {}
    for leg in legs:
        known = worst.get(leg.cable.id)
        if leg.needs > leg.has and (known is None or leg.needs - leg.has > known.needs - known.has):
            worst[leg.cable.id] = leg
    for leg in worst.values():
        yield CONDUCTORS_SHORT.at(
            leg.cable.span,
            cable=leg.cable.id,
            start=leg.start,
            end=leg.end,
            needs=leg.needs,
            makeup=makeup(leg),
            has=leg.has,
            or_fewer=", or reserve fewer spares" if leg.spares else "",
            or_take_out=or_take_out(job),
        )


def or_take_out(job: Job) -> str:
    """What is written never moves, so a person has to let it."""
    written = any(station.hot for station in job.stations.values())
    return ", or take out hots that may move and run it again" if written else ""


def makeup(leg: LegNeed) -> str:
    """`6 hots, 1 common, 2 spares`."""
    counts = {
        "hot": leg.hots,
        "common": leg.commons,
        "other": leg.others,
        "spare": leg.spares,
    }
    return ", ".join(f"{n} {word}{'' if n == 1 else 's'}" for word, n in counts.items() if n)
