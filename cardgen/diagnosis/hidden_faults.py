"""What good readings leave open: faults that the ohms which were measured do not show."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import combinations

from cardgen.diagnosis.diagnosed import HiddenFault, HiddenKind
from cardgen.diagnosis.hypothesis import Question
from cardgen.diagnosis.likelihood import OFF
from cardgen.diagnosis.yard import Yard
from cardgen.results import OL, Kind, Measured


def hidden_faults(question: Question) -> Iterator[HiddenFault]:
    """Of values that are all good."""
    yard, walked = question.yard, {walk.valve for walk in question.walks}
    spreads = [
        OFF * each.variance(each.sound) ** 0.5
        for index, each in enumerate(question.evidence)
        if question.at_controller(index) and each.sound < OL
    ]
    if spreads:
        yield HiddenFault(kind=HiddenKind.SMALL, ohms=max(spreads))
    alike = dict.fromkeys(v for pair in _alike(question) if not walked & set(pair) for v in pair)
    if alike:
        yield HiddenFault(kind=HiddenKind.SWAPPED, valves=tuple(alike))
    measured = dict.fromkeys(v for each in question.evidence for v in each.valves)
    valve = yard.asbuilt.valve
    latching = tuple(v for v in measured if valve[v].latching and v not in walked)
    if latching:
        yield HiddenFault(kind=HiddenKind.POLARITY, valves=latching)
    rest = tuple(v for v in measured if v not in walked and v not in latching)
    if rest:
        yield HiddenFault(kind=HiddenKind.RUNS, valves=rest)


def _alike(question: Question) -> Iterator[tuple[str, str]]:
    """Stations of one C whose ohms a meter hardly tells apart."""
    ranked = sorted(
        (round(each.sound, 9), each.valves[0], index, each.probe.two)
        for index, each in enumerate(question.evidence)
        if question.at_controller(index) and each.sound < OL
    )
    for number, (ohms, valve, index, common) in enumerate(ranked):
        most = OFF * question.evidence[index].variance(ohms) ** 0.5
        for other_ohms, other, _, other_common in ranked[number + 1 :]:
            if other_ohms - ohms > most:
                break
            if common == other_common:
                yield valve, other


def hidden_unless_measured(
    yard: Yard, readings: Iterable[Measured], controllers: Sequence[str]
) -> Iterator[HiddenFault]:
    """What needs another measurement that was not made."""
    given = tuple(readings)
    if not any(each.kind is Kind.INSULATION for each in given):
        yield HiddenFault(kind=HiddenKind.GROUND)
    sharing = _sharing_a_place(yard, controllers)
    joined = {
        frozenset((each.start, each.to)) for each in given if each.kind is Kind.COMMON_TO_COMMON
    }
    others = tuple(dict.fromkeys(c for pair in sharing if pair not in joined for c in sorted(pair)))
    if others:
        yield HiddenFault(kind=HiddenKind.COMMONS, valves=others)


def _sharing_a_place(yard: Yard, controllers: Sequence[str]) -> list[frozenset[str]]:
    """Controllers whose valves are in one box, two and two, of which one was measured."""
    found: dict[frozenset[str], None] = {}
    for box in yard.asbuilt.boxes:
        names = dict.fromkeys(valve.controller for valve in box.valves)
        for pair in combinations(names, 2):
            if not set(pair).isdisjoint(controllers):
                found[frozenset(pair)] = None
    return list(found)
