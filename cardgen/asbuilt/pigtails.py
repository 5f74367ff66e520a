"""Turn the pigtails of a place into plain values."""

from __future__ import annotations

from collections.abc import Iterator

from cardgen.asbuilt.marks import pigtail_mark
from cardgen.asbuilt.model import BuiltPigtail
from cardgen.job.model import Job


def pigtails(job: Job, at: str) -> Iterator[BuiltPigtail]:
    """Those of a box or controller, in the order of the file."""
    for pigtail in job.pigtails.values():
        if pigtail.at.value == at:
            yield BuiltPigtail(
                id=pigtail.id,
                gauge=str(pigtail.gauge),
                mark=pigtail_mark(pigtail),
                length=str(pigtail.length) if pigtail.length else "",
            )
