"""Turn a checked job into home runs: each cable that leaves a controller, with its extensions."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable

from cardgen.asbuilt import ConductorMark, Role, Use
from cardgen.asbuilt.model.built_conductors import BuiltCable
from cardgen.asbuilt.model.home_runs import Branch, Spot
from cardgen.cards import Printable
from cardgen.cards.lengths import beside_in
from cardgen.cards.plain_words import localized_mark
from cardgen.drawing.contents import Contents
from cardgen.drawing.drawing_parts import BoxLine, BoxOnRun, CableRun, HomeRun, RunLeg, as_text
from cardgen.drawing.starts import lines_at_start
from cardgen.light_dataclass import replace
from cardgen.words import Said

USUAL_KIND = "valve box"


def home_runs(printable: Printable) -> tuple[HomeRun, ...]:
    """The home runs of all controllers, in the order of the file."""
    return tuple(_home_run(printable, home) for home in printable.asbuilt.home_runs)


def _home_run(printable: Printable, home: Branch) -> HomeRun:
    contents = Contents(printable, home)
    here = contents.coils(Spot(home=home.cable.id, cable=home.cable.id))
    return HomeRun(
        start=home.start,
        title=_title(printable, home.start),
        about=_about(printable, home.start),
        lines=_localized(printable, (*here, *lines_at_start(printable, home.cable))),
        run=_run(printable, home, contents),
        words=printable.words,
    )


def _run(printable: Printable, branch: Branch, contents: Contents) -> CableRun:
    cable, home = branch.cable, contents.home.cable.id
    place = printable.spans.cables[cable.id]
    stops = tuple(
        BoxOnRun(
            span=place,
            title=_title(printable, at),
            about=_about(printable, at),
            stretch=_stretch(printable, cable, index),
            lines=_localized(printable, contents.at(Spot(home=home, cable=cable.id, place=at))),
            branches=tuple(
                _run(printable, each, contents) for each in branch.further.get(index, ())
            ),
        )
        for index, at in enumerate(cable.places[1:], 1)
    )
    return CableRun(span=place, cable=cable.id, stops=stops)


def _title(printable: Printable, place: str) -> Said:
    is_controller = place in printable.asbuilt.controller
    return printable.words("terms.controller", controller=place) if is_controller else place


def _about(printable: Printable, place: str) -> str:
    controller = printable.asbuilt.controller.get(place)
    if controller is not None:
        return as_text(controller.where, printable.supply(place))
    box = printable.asbuilt.box[place]
    kind = "" if box.kind == USUAL_KIND else printable.words(f"box kinds.{box.kind}")
    return as_text(box.where, kind, box.size)


def _localized(printable: Printable, lines: Iterable[BoxLine]) -> tuple[BoxLine, ...]:
    """The lines with every color in the words of the print."""

    def said(found: Iterable[ConductorMark]) -> tuple[ConductorMark, ...]:
        return tuple(localized_mark(each, printable.words) for each in found)

    return tuple(replace(x, marks=said(x.marks), joined=said(x.joined)) for x in lines)


def _stretch(printable: Printable, cable: BuiltCable, index: int) -> RunLeg:
    """What leads to the place of that index."""
    inside = [c for c in printable.asbuilt.inside[cable.id] if len(c.legs) >= index]
    gauges = Counter(c.mark.gauge for c in inside)
    words = printable.words
    wires = words.joined(
        f"{number} × {gauge}" if gauge else words("terms.wires not known", number=number)
        for gauge, number in gauges.items()
    )
    if cable.shielded:
        wires = words.joined((wires, words("drawing.shielded")))
    arriving = (conductor.at(cable.run[index].at, onward=False) for conductor in inside)
    uses = {use for stretch in arriving if stretch for use in stretch.uses}
    return RunLeg(
        cable=cable.id,
        band=cable.band,
        length=beside_in(cable.run[index].length) or words("terms.length not known").printed,
        inside=words.joined((wires, _carries(printable, uses))).printed,
    )


def _carries(printable: Printable, uses: set[Use]) -> Said:
    """Whose hots and sensors' wires these are."""
    live = {use.of for use in uses if use.role in (Role.HOT, Role.SENSOR)}
    names: list[Said] = [*printable.asbuilt.in_turn(live)]
    if any(use.role is Role.PATH for use in uses):
        names.append(printable.words("drawing.path"))
    return printable.words("drawing.for", valves=printable.words.list_of(names)) if names else ""
