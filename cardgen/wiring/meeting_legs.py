"""Find which conductors the written joints put into one connector, before anything is traced."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping

from cardgen.job.job_parts import Job
from cardgen.wiring.conductor_catalog import Catalog
from cardgen.wiring.usual import merged
from cardgen.wiring.wiring_parts import IN, OUT, End

Together = Mapping[End, frozenset[str]]


def put_together(job: Job, catalog: Catalog) -> Together:
    """By the end of a conductor, the conductors that a written joint (or a pigtail) puts with it.

    What names no conductor is left out: who reads the joints tells of it.
    """
    found: dict[End, frozenset[str]] = defaultdict(frozenset)
    for written in job.joints.values():
        at = written.id
        groups: list[tuple[End, ...]] = []
        for joint in written.joints:
            ends = [e for entry in joint.value for e in _ends(entry.value, at, catalog)]
            ends += [End(s.value, at, "") for s in joint.value if s.value in job.pigtails]
            groups.append(tuple(ends))
        for ends_together in merged(groups):
            names = frozenset(end.of for end in ends_together if end.of not in job.pigtails)
            for end in ends_together:
                found[end] |= names - {end.of}
    return found


def _ends(words: str, at: str, catalog: Catalog) -> tuple[End, ...]:
    before, _, last = words.rpartition(" ")
    side = last if last in (IN, OUT) else ""
    conductor = catalog.peek(before if side else words)
    if conductor is None or at not in conductor.places:
        return ()
    return tuple(end for end in conductor.ends_at(at) if side in ("", end.side))
