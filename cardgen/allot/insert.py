"""Write hots into the text of a job at the entries of their stations, and change nothing else."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from cardgen.editing import Put, RepeatedElsewhere, edited, refusals

# After which key the hot reads best.
_BEFORE_IT = ("box", "area")


def with_hots(text: str, hots: Mapping[str, Sequence[str]]) -> tuple[str, tuple[str, ...]]:
    """The text with the hots, and the stations whose entries cannot be added to; then as it was.

    Args:
        hots: by station, the conductors from the controller outward.
    """
    changes = [
        Put(
            path=("stations", station, "hot"),
            value=words[0] if len(words) == 1 else tuple(words),
            after=_BEFORE_IT,
        )
        for station, words in hots.items()
    ]
    faults = refusals(text, changes)
    # Where an entry is repeated, the ones that repeat it are what is to be written out.
    told = [f for f in faults if not isinstance(f, RepeatedElsewhere)] or faults
    stuck = tuple(str(fault.path[1]) for fault in told)
    return (text if stuck else edited(text, changes)), stuck
