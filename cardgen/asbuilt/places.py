"""Say what lies before and after a place on each cable, and the cables themselves."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator

from cardgen.asbuilt.model.built_boxes import Neighbor
from cardgen.asbuilt.model.built_conductors import BuiltCable, BuiltStop
from cardgen.job.job_parts import Cable as Laid
from cardgen.job.job_parts import Job
from cardgen.units import LengthUnit, in_meters


def neighbors(cables: Iterable[Laid], place: str) -> Iterator[Neighbor]:
    """The stops before and after it on each of its cables, those toward the controller first."""
    found = []
    for cable in cables:
        run = cable.run
        for index, stop in enumerate(run):
            if stop.at != place:
                continue
            for upstream, other in ((True, index - 1), (False, index + 1)):
                if not 0 <= other < len(run):
                    continue
                leg = run[max(index, other)].leg
                found.append(
                    Neighbor(
                        cable=cable.id,
                        band=cable.band,
                        place=run[other].at,
                        length=str(leg.value or "") if leg else "",
                        upstream=upstream,
                    )
                )
    yield from sorted(found, key=lambda n: not n.upstream)


def cables(job: Job) -> Iterator[BuiltCable]:
    """In the order of the file."""
    for cable in job.cables.values():
        yield BuiltCable(
            id=cable.id,
            band=cable.band,
            shielded=cable.shielded,
            bundle=bool(cable.singles),
            run=tuple(
                BuiltStop(
                    at=stop.at,
                    length=str(stop.leg.value or "") if stop.leg else "",
                    meters=in_meters(stop.leg.value) if stop.leg else 0.0,
                )
                for stop in cable.run
            ),
            reels=tuple(sorted(cable.reels or job.reels, key=lambda reel: reel.meters)),
        )


def usual_unit(job: Job) -> LengthUnit:
    """Of most legs of the job; feet where they are as many."""
    stops = (stop for cable in job.cables.values() for stop in cable.run)
    counts = Counter(stop.leg.value.unit for stop in stops if stop.leg and stop.leg.value)
    more = counts[LengthUnit.METERS] > counts[LengthUnit.FEET]
    return LengthUnit.METERS if more else LengthUnit.FEET
