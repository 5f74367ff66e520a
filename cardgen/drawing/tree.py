"""Turn a checked job into home runs: each cable that leaves a controller, with its extensions."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import replace

from cardgen.asbuilt import ConductorMark, Role, Use
from cardgen.asbuilt.model.conductors import Cable
from cardgen.asbuilt.model.home_runs import Branch, Spot
from cardgen.cards import Printable
from cardgen.cards.lengths import beside_in
from cardgen.cards.spoken import spoken_mark
from cardgen.drawing.contents import Contents
from cardgen.drawing.model import HomeRun, Line, Run, Stop, Stretch, as_text
from cardgen.drawing.starts import lines_at_start

USUAL_KIND = "valve box"


def home_runs(job: Printable) -> tuple[HomeRun, ...]:
    """The home runs of all controllers, in the order of the file."""
    return tuple(_home_run(job, home) for home in job.asbuilt.home_runs)


def _home_run(job: Printable, home: Branch) -> HomeRun:
    contents = Contents(job, home)
    here = contents.coils(Spot(home=home.cable.id, cable=home.cable.id))
    return HomeRun(
        start=home.start,
        title=_title(job, home.start),
        about=_about(job, home.start),
        lines=_spoken(job, (*here, *lines_at_start(job, home.cable))),
        run=_run(job, home, contents),
        words=job.words,
    )


def _run(job: Printable, branch: Branch, contents: Contents) -> Run:
    cable, home = branch.cable, contents.home.cable.id
    place = job.spans.cables[cable.id]
    stops = tuple(
        Stop(
            place=place,
            title=_title(job, at),
            about=_about(job, at),
            stretch=_stretch(job, cable, index),
            lines=_spoken(job, contents.at(Spot(home=home, cable=cable.id, place=at))),
            branches=tuple(_run(job, each, contents) for each in branch.further.get(index, ())),
        )
        for index, at in enumerate(cable.places[1:], 1)
    )
    return Run(place=place, cable=cable.id, stops=stops)


def _title(job: Printable, place: str) -> str:
    is_controller = place in job.asbuilt.controller
    return job.words("terms.controller", controller=place) if is_controller else place


def _about(job: Printable, place: str) -> str:
    controller = job.asbuilt.controller.get(place)
    if controller is not None:
        return as_text(controller.where, job.supply(place))
    box = job.asbuilt.box[place]
    kind = "" if box.kind == USUAL_KIND else job.words(f"box kinds.{box.kind}")
    return as_text(box.where, kind, box.size)


def _spoken(job: Printable, lines: Iterable[Line]) -> tuple[Line, ...]:
    """The lines with every colour in the words of the print."""

    def said(found: Iterable[ConductorMark]) -> tuple[ConductorMark, ...]:
        return tuple(spoken_mark(each, job.words) for each in found)

    return tuple(replace(x, marks=said(x.marks), joined=said(x.joined)) for x in lines)


def _stretch(job: Printable, cable: Cable, index: int) -> Stretch:
    """What leads to the place of that index."""
    inside = [c for c in job.asbuilt.inside[cable.id] if len(c.legs) >= index]
    gauges = Counter(c.mark.gauge for c in inside)
    wires = ", ".join(f"{number} × {gauge}" for gauge, number in gauges.items())
    arriving = (conductor.at(cable.run[index].at, onward=False) for conductor in inside)
    return Stretch(
        cable=cable.id,
        band=cable.band,
        length=beside_in(cable.run[index].length),
        wires=f"{wires}, {job.words('drawing.shielded')}" if cable.shielded else wires,
        carries=_carries(job, {use for stretch in arriving if stretch for use in stretch.uses}),
    )


def _carries(job: Printable, uses: set[Use]) -> str:
    """Whose hots and sensors' wires these are."""
    live = {use.of for use in uses if use.role in (Role.HOT, Role.SENSOR)}
    order = (*job.asbuilt.stations, *(sensor.id for sensor in job.asbuilt.sensors))
    names: list[str] = [name for name in order if name in live]
    if any(use.role is Role.PATH for use in uses):
        names.append(job.words("drawing.path"))
    return job.words("drawing.for", valves=job.words.listed(names)) if names else ""
