"""Turn a request for tags into one for a crew: tags of its boxes, and sheets of these alone."""

from __future__ import annotations

from collections.abc import Collection

from cardgen.asbuilt import AsBuilt
from cardgen.cards import CrewBoxes, Printable
from cardgen.english_lists import english_list
from cardgen.light_dataclass import replace
from cardgen.output.print_request import Bundle, PrintRequest
from cardgen.output.selection import Selection
from cardgen.problems import UserError
from cardgen.reading.shapes import nearest
from cardgen.trade.private_text import private

CREW_TAGS = ("valve-tags", "box-tags", "wire-flags", "splice-cards")
_SURVEY = "survey"
CREW_SHEETS = ("test-sheet", _SURVEY)
USUAL_OF_CREW = ("valve-tags", "box-tags", "test-sheet")  # what one hangs first, and fills in
LONGEST_CREW = 40  # letters; as a sheet has room for; our choice


def crew_request(
    asked: PrintRequest,
    known: AsBuilt,
    *,
    crew: str,
    boxes: Collection[str],
    controllers: Collection[str] = (),
    sheets: Collection[str],
) -> PrintRequest:
    """For the boxes, and all that the controllers have cables in, in the order in which one walks.

    Args:
        asked: with the kinds of tags.
        sheets: words of CREW_SHEETS.

    Raises:
        UserError: if the job has no such box or controller, or none is chosen, or no tags are.
    """
    name = " ".join(crew.split())[:LONGEST_CREW]
    if not name:
        raise UserError("the crew has no name", "write whom the file is for")
    if found := private(name):
        raise UserError(
            f"'{found.words}' looks like {found.what}, which is not printed",
            "call the crew by a name or a number",
        )
    _refuse_unknown("box", boxes, known.box)
    _refuse_unknown("controller", controllers, known.controller)
    chosen = {*boxes}
    chosen |= {box.id for box in known.boxes if not set(controllers).isdisjoint(box.controllers)}
    walked = tuple(place for place in known.walked if place in chosen)
    if not walked:
        raise UserError("no box is chosen", "choose at least one, or a controller")
    only = tuple(word for word in CREW_TAGS if word in asked.selection.only)
    if not only:
        raise UserError(
            "no tags are chosen for the crew", f"choose at least one of {english_list(CREW_TAGS)}"
        )
    carried = tuple(word for word in CREW_SHEETS if word in sheets)
    return replace(
        asked,
        selection=Selection(only=only, boxes=walked),
        bundle=Bundle(crew=CrewBoxes(name=name, boxes=walked), sheets=carried),
    )


def lacks_survey(printable: Printable, wanted: PrintRequest) -> bool:
    """Whether a survey list was asked for and there is nothing to find out on that walk."""
    bundle = wanted.bundle
    if bundle is None or _SURVEY not in bundle.sheets:
        return False
    carried = replace(printable, crew=bundle.crew)
    return not any(carried.carries(asked.at) for asked in printable.asbuilt.questions)


def _refuse_unknown(what: str, names: Collection[str], known: Collection[str]) -> None:
    for name in names:
        if name not in known:
            way_out = nearest(name, known) or f"it has {english_list(known)}"
            raise UserError(f"the job has no {what} '{name}'", way_out)
