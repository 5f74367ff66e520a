"""Give conductors to the stations of a job that name none, and write them into its text."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence

from cardgen.allot.allotment import Allotment, Chosen, LegNeed, Need, Way
from cardgen.allot.choose import Assignment, Barred, WayChooser, searches_of
from cardgen.allot.demand import conductors_short, legs_needed
from cardgen.allot.gauges import with_sizes
from cardgen.allot.groups import groups
from cardgen.allot.insert import with_hots
from cardgen.allot.needs import needs_of
from cardgen.allot.old_places import OldPlaces
from cardgen.allot.reasons import hot_without_way
from cardgen.allot.supply import FreeConductors
from cardgen.examine import Examined, examine_text
from cardgen.facts import Facts
from cardgen.faults.circuit_faults import HOT_MISSING
from cardgen.faults.conductor_faults import HOT_NOT_WRITTEN
from cardgen.problems import Problem, Verdict, has_errors, in_order

MOST_ROUNDS = 10  # each bars the cables with which a station would be at fault
_FILLED_IN_HERE = HOT_MISSING.code


def allot(text: str, name: str = "job.yaml") -> Allotment:
    """The job of `text` with a hot for every station; `name` is what problems call the file."""
    examined = examine_text(text, name)
    faults = [
        p for p in examined.problems if p.verdict is Verdict.ERROR and p.code != _FILLED_IN_HERE
    ]
    if faults or examined.facts is None:
        return _refused(faults)
    needs = needs_of(examined.facts.job)
    supply = FreeConductors(examined.facts, needs)
    barred: dict[str, set[tuple[str, ...]]] = defaultdict(set)
    first: Allotment | None = None
    for _ in range(MOST_ROUNDS):
        choice = chosen(supply, needs, barred)
        ways = choice.ways
        if choice.missed:
            return first or _too_few(supply, ways, choice.missed)
        found = _written(text, name, examined, ways)
        first = first or found
        if found.text is not None:
            return found
        blamed = _blamed(found.problems, needs)
        for station in blamed:
            barred[station].add(ways[station].cables)
        if not blamed:
            break
    assert first is not None
    return first


def chosen(supply: FreeConductors, needs: Sequence[Need], barred: Barred) -> Assignment:
    """Group by group; what one gets is no matter to another."""
    ways: Chosen = {}
    missed: list[Need] = []
    for group in groups(supply, searches_of(supply, needs, barred)):
        choice = WayChooser(supply, group).choose()
        ways |= choice.ways
        missed += choice.missed
    ordered = {n.station.id: ways[n.station.id] for n in needs if n.station.id in ways}
    return Assignment(ways=ordered, missed=tuple(missed))


def _too_few(supply: FreeConductors, ways: Mapping[str, Way], missed: Sequence[Need]) -> Allotment:
    """Where conductors are lacking; or, where that is not it, why a station gets none."""
    legs = _legs(supply.facts, ways, missed)
    faults = list(conductors_short(supply.job, legs)) or [
        hot_without_way(supply, n) for n in missed
    ]
    return _refused(faults, legs)


def _blamed(problems: Iterable[Problem], needs: Iterable[Need]) -> list[str]:
    """Stations that would be at fault with the hots they got: other cables may do better."""
    places = {problem.span for problem in problems}
    return [need.station.id for need in needs if need.station.span in places]


def _refused(faults: Iterable[Problem], legs: tuple[LegNeed, ...] = ()) -> Allotment:
    return Allotment(ways={}, legs=legs, text=None, problems=in_order(faults))


def _legs(facts: Facts, ways: Mapping[str, Way], missed: Sequence[Need]) -> tuple[LegNeed, ...]:
    return legs_needed(facts, [hop for way in ways.values() for hop in way.hops], missed)


def _written(text: str, name: str, examined: Examined, ways: Mapping[str, Way]) -> Allotment:
    """Write the hots in and see that the job is sound with them; or say what is not."""
    assert examined.facts is not None
    stations = {s.id: s.span for s in examined.facts.job.stations.values()}
    new, left = with_hots(text, {station: _words(way) for station, way in ways.items()})
    if left:
        return _refused(HOT_NOT_WRITTEN.at(stations[s], station=s) for s in left)
    after = examine_text(new, name)
    if has_errors(after.problems) or after.facts is None:
        faults = [p for p in after.problems if p.verdict is Verdict.ERROR]
        back = OldPlaces(text, new, stations)
        legs = _legs(examined.facts, ways, ())
        return _refused([back.problem(p) for p in faults], legs)
    legs = with_sizes(after.facts, legs_needed(after.facts))
    return Allotment(ways=ways, legs=legs, text=new, problems=())


def _words(way: Way) -> list[str]:
    return [conductor.name for conductor in way.conductors]
