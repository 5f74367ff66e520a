"""Judge each value that was measured by what the job said of its valve on that day.

A value read before a valve was wired otherwise says nothing of the wiring of today: it keeps the
verdict of its time, and the revision that changed the valve is named.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import NamedTuple

from cardgen.asbuilt import AsBuilt, BuiltValve
from cardgen.memory.changes import alike
from cardgen.results import Finding, Kind, Measured, verdict

# What a value of that kind is compared with.
_EXPECTED = {
    Kind.CONTROLLER: "ohms",
    Kind.COIL: "coil",
    Kind.VOLTS: "volts",
    Kind.MILLIAMPERES: "milliamperes",
}


class Judged(NamedTuple):
    """A value with its verdict.

    Attributes:
        valve: as the job said it when the value was read.
        outdated_by: the first revision since that expects another value; None if none does.
    """

    measured: Measured
    valve: BuiltValve
    finding: Finding
    outdated_by: int | None


def judged(
    revisions: Sequence[AsBuilt], results: Iterable[Measured]
) -> Mapping[str, tuple[Judged, ...]]:
    """By valve, in the order of the results; those of valves that no revision has are left out.

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
    day = measured.when[:10]
    at = max((i for i, (revision, _) in enumerate(known) if revision.date <= day), default=0)
    valve = known[at][1]
    name = _EXPECTED.get(measured.kind)
    changed = (
        revision.revision
        for revision, later in known[at + 1 :]
        if name and not alike(valve, later, name)
    )
    return Judged(measured, valve, verdict(measured, valve), next(changed, None))


def newest(values: Iterable[Judged]) -> dict[Kind, Judged]:
    """The last value of each kind, in the order of kinds."""
    last = {each.measured.kind: each for each in values}
    return {kind: last[kind] for kind in Kind if kind in last}
