"""Where the job file says each thing: a text that has no room on a card is reported there."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass

from cardgen.job.model import Job
from cardgen.problems import Place
from cardgen.wiring.model import Load


@dataclass(frozen=True, slots=True, kw_only=True)
class Spans:
    """By id within its kind; `job` is where the job is described, and stands for all else."""

    job: Place
    boxes: Mapping[str, Place]
    cables: Mapping[str, Place]
    controllers: Mapping[str, Place]
    valves: Mapping[str, Place]
    sensors: Mapping[str, Place]
    spares: Mapping[str, Place]

    def of(self, place: str) -> Place:
        """Of a box or controller."""
        return self.boxes.get(place) or self.controllers.get(place) or self.job


def nowhere() -> Spans:
    """For a job as it was built once, of which no file is at hand."""
    place = Place("", 1, 1)
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
        job=job.info.place,
        boxes={each.id: each.place for each in job.boxes.values()},
        cables={each.id: each.place for each in job.cables.values()},
        controllers={each.id: each.place for each in job.controllers.values()},
        valves={each.id: each.place for each in loads.values()},
        sensors={each.id: each.place for each in job.sensors.values()},
        spares={each.id: each.place for each in job.spares.values()},
    )
