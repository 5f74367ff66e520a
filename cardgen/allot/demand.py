"""Count leg by leg what every cable needs and has, and say where it has too few."""

from __future__ import annotations

from collections import defaultdict, deque
from collections.abc import Iterable, Iterator, Mapping

from cardgen.allot.model import LegNeed, Need
from cardgen.allot.supply import natural
from cardgen.checks.facts import Facts, error
from cardgen.job.model import Job
from cardgen.problems import Problem
from cardgen.wiring.model import Hop

_Leg = tuple[str, int]  # cable, number of the leg in its run
_Track = tuple[_Leg, ...]

MOST_TRIED = 2_000  # beginnings of ways along cables
_KINDS = {"common": "commons", "spare": "spares"}


def legs_needed(
    facts: Facts, hops: Iterable[Hop] = (), missed: Iterable[Need] = ()
) -> tuple[LegNeed, ...]:
    """Every leg of every cable.

    Args:
        hops: of ways that the job does not hold yet.
        missed: stations without a way; they count along the cables that they would take.
    """
    counts: dict[_Leg, dict[str, set[str]]] = defaultdict(lambda: defaultdict(set))
    for claim in facts.claims:
        cable = facts.wiring.conductors[claim.conductor].cable.id
        kind = _KINDS.get(claim.role, "others")
        if claim.role == "hot" and claim.owner in facts.job.stations:
            kind = "hots"
        counts[cable, claim.leg][kind].add(claim.conductor)
    for hop in hops:
        for number in range(min(hop.start, hop.end), max(hop.start, hop.end)):
            counts[hop.conductor.cable.id, number]["hots"].add(hop.conductor.name)
    asked = _spares_asked(facts.job)
    tracks = Tracks(facts.job)
    for need in missed:
        _add(counts, need, tracks, facts, asked)
    return tuple(_legs(facts, counts, asked))


def _add(
    counts: dict[_Leg, dict[str, set[str]]],
    need: Need,
    tracks: Tracks,
    facts: Facts,
    asked: Mapping[_Leg, int],
) -> None:
    """Count a station along the way on which the least is lacking."""

    def lacking(track: Iterable[_Leg]) -> int:
        return max(
            (
                sum(len(s) for kind, s in counts[leg].items() if kind != "spares")
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


def _legs(
    facts: Facts, counts: Mapping[_Leg, Mapping[str, set[str]]], asked: Mapping[_Leg, int]
) -> Iterator[LegNeed]:
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


def _spares_asked(job: Job) -> dict[_Leg, int]:
    """By leg the most that a box behind it asks for."""
    tracks = Tracks(job)
    asked: dict[_Leg, int] = {}
    for box in job.boxes.values():
        if box.spares is None:
            continue
        ways = [way for c in sorted(job.controllers) for way in tracks.to(c, box.id)[:1]]
        for leg in min(ways, key=len, default=()):
            asked[leg] = max(asked.get(leg, 0), box.spares.value)
    return asked


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


def conductors_short(legs: Iterable[LegNeed]) -> Iterator[Problem]:
    """The worst leg of each cable that has too few conductors."""
    worst: dict[str, LegNeed] = {}
    for leg in legs:
        known = worst.get(leg.cable.id)
        if leg.needs > leg.has and (known is None or leg.needs - leg.has > known.needs - known.has):
            worst[leg.cable.id] = leg
    for leg in worst.values():
        fewer = ", or ask for fewer spares" if leg.spares else ""
        yield error(
            "conductors-short",
            leg.cable.place,
            f"{leg.cable.id} between '{leg.start}' and '{leg.end}' needs {leg.needs} conductors "
            f"({makeup(leg)}), it has {leg.has}",
            f"lay a cable with {leg.needs} or more, or another one beside it{fewer}",
        )


def makeup(leg: LegNeed) -> str:
    """`6 hots, 1 common, 2 spares`."""
    counts = {
        "hot": leg.hots,
        "common": leg.commons,
        "other": leg.others,
        "spare": leg.spares,
    }
    return ", ".join(f"{n} {word}{'' if n == 1 else 's'}" for word, n in counts.items() if n)
