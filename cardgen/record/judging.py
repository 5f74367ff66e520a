"""Judge each value that was measured by what the job said of its valve on that day.

A value read before a valve was wired otherwise says nothing of the wiring of today: it keeps the
verdict of its time, and the revision that changed the valve is named.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from cardgen.asbuilt import AsBuilt, BuiltValve
from cardgen.asbuilt.model.named_metal import metal_named
from cardgen.light_dataclass import replace
from cardgen.memory.changes import alike
from cardgen.owners import common_of
from cardgen.results import (
    Finding,
    Kind,
    Measured,
    Outcome,
    Pattern,
    compare,
    oldest_first,
    verdict,
    verdict_of_conductor,
)

# What a value of that kind is compared with.
_EXPECTED = {
    Kind.CONTROLLER: "ohms",
    Kind.BOX_LOOP: "ohms",
    Kind.COIL: "coil",
    Kind.VOLTS: "volts",
    Kind.MILLIAMPERES: "milliamperes",
    Kind.HOT_MILLIAMPERES: "in_hot",
}


@dataclass(frozen=True, slots=True)
class Judged:
    """A value with its verdict.

    Attributes:
        valve: as the job said it when the value was read; None of a value of a conductor.
        outdated_by: the first revision since that expects another value; None if none does.
    """

    measured: Measured
    valve: BuiltValve | None
    finding: Finding
    outdated_by: int | None = None


@dataclass(frozen=True, slots=True)
class JudgedResults:
    """All that was measured, judged; what several values show together replaces what each says.

    Attributes:
        by_valve: in the order of the results; those of valves that no revision has are left out.
        of_conductors: values that belong to no valve.
        today: those that speak of the wiring as it is now, oldest first.
        patterns: what the newest of them show together.
    """

    by_valve: Mapping[str, tuple[Judged, ...]]
    of_conductors: tuple[Judged, ...] = ()
    today: tuple[Measured, ...] = ()
    patterns: tuple[Pattern, ...] = ()


def judged_results(revisions: Sequence[AsBuilt], results: Sequence[Measured]) -> JudgedResults:
    """Judge all results by the revisions, oldest first, of their job."""
    found = judged(revisions, results)
    of_conductors = tuple(
        _judged_conductor(each, revisions)
        for each in results
        if not each.valve and not each.withdrawn
    )
    every = (*(each for values in found.values() for each in values), *of_conductors)
    today = oldest_first(each.measured for each in every if each.outdated_by is None)
    patterns = compare(today, revisions[-1].valve) if revisions else ()
    for pattern in patterns:
        for valve in pattern.valves:
            found[valve] = _explained(found[valve], pattern)
    return JudgedResults(
        by_valve=found,
        of_conductors=of_conductors,
        today=today,
        patterns=patterns,
    )


def _explained(values: tuple[Judged, ...], pattern: Pattern) -> tuple[Judged, ...]:
    """The newest at the controller says no more what it might mean alone."""
    last = newest(values)[values[0].measured.valve, Kind.CONTROLLER, "", "", ""]
    finding = Finding(
        name="explained",
        outcome=Outcome.LOOK,
        values={**last.finding.values, "valves": ", ".join(pattern.valves)},
        line_voltage=last.finding.line_voltage,
    )
    return tuple(replace(each, finding=finding) if each is last else each for each in values)


def judged(
    revisions: Sequence[AsBuilt], results: Iterable[Measured]
) -> dict[str, tuple[Judged, ...]]:
    """By valve, each value by itself; those of valves that no revision has are left out.

    What was withdrawn is left out too: it says nothing of the wiring.
    """
    found: dict[str, list[Judged]] = {}
    for measured in (each for each in results if not each.withdrawn):
        known = [(r, r.valve[measured.valve]) for r in revisions if measured.valve in r.valve]
        if known:
            found.setdefault(measured.valve, []).append(_judged(measured, known))
    return {valve: tuple(values) for valve, values in found.items()}


def _judged(measured: Measured, known: Sequence[tuple[AsBuilt, BuiltValve]]) -> Judged:
    """By the last revision of that day or before; a value older than all by the first."""
    at = _of_its_day(measured, [revision for revision, _ in known])
    valve = known[at][1]
    name = _EXPECTED.get(measured.kind)
    changed = (
        revision.revision
        for revision, later in known[at + 1 :]
        if name and not alike(valve, later, name)
    )
    return Judged(measured, valve, verdict(measured, valve), next(changed, None))


def _judged_conductor(measured: Measured, revisions: Sequence[AsBuilt]) -> Judged:
    """It says nothing any more of metal that goes another way since."""
    ends = [end for end in (measured.start, measured.to) if end]
    if measured.kind is Kind.COMMON_TO_COMMON:
        ends = list(map(common_of, ends))
    at = _of_its_day(measured, revisions)
    metal = [{end: metal_named(revision, end) for end in ends} for revision in revisions[at:]]
    changed = (
        later.revision
        for later, then in zip(revisions[at:], metal, strict=True)
        if then != metal[0]
    )
    return Judged(measured, None, verdict_of_conductor(measured), next(changed, None))


def _of_its_day(measured: Measured, revisions: Sequence[AsBuilt]) -> int:
    day = measured.when[:10]
    return max((i for i, revision in enumerate(revisions) if revision.date <= day), default=0)


def newest(values: Iterable[Judged]) -> dict[tuple[str, ...], Judged]:
    """The last value of each subject, in the order of kinds."""
    last = {each.measured.subject: each for each in values}
    order = list(Kind)
    return dict(sorted(last.items(), key=lambda item: order.index(item[1].measured.kind)))
