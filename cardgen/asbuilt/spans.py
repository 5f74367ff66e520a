"""Where the job file says each thing: a text that has no room on a card is reported there."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping

from cardgen.job.job_parts import Job
from cardgen.light_dataclass import dataclass
from cardgen.problems import Span
from cardgen.wiring.wiring_parts import Load


@dataclass(frozen=True, slots=True, kw_only=True)
class Spans:
    """By id within its kind; `job` is where the job is described, and stands for all else."""

    job: Span
    boxes: Mapping[str, Span]
    cables: Mapping[str, Span]
    controllers: Mapping[str, Span]
    valves: Mapping[str, Span]
    sensors: Mapping[str, Span]
    spares: Mapping[str, Span]

    def of(self, place: str) -> Span:
        """Of a box or controller."""
        return self.boxes.get(place) or self.controllers.get(place) or self.job


def nowhere() -> Spans:
    """For a job as it was built once, of which no file is at hand."""
    place = Span("", 1, 1)
    return Spans(
        job=place,
        boxes=defaultdict(lambda: place),
        cables=defaultdict(lambda: place),
        controllers=defaultdict(lambda: place),
        valves=defaultdict(lambda: place),
        sensors=defaultdict(lambda: place),
        spares=defaultdict(lambda: place),
    )


def spans_of(job: Job, loads: Mapping[str, Load]) -> Spans:
    assert job.info is not None  # else there were errors
    return Spans(
        job=job.info.span,
        boxes={each.id: each.span for each in job.boxes.values()},
        cables={each.id: each.span for each in job.cables.values()},
        controllers={each.id: each.span for each in job.controllers.values()},
        valves={each.id: each.span for each in loads.values()},
        sensors={each.id: each.span for each in job.sensors.values()},
        spares={each.id: each.span for each in job.spares.values()},
    )
