"""Show the tags of a row while other rows are not finished: what is at fault is left out."""

from __future__ import annotations

from collections import OrderedDict
from dataclasses import dataclass
from threading import Lock
from typing import Any

from cardgen.allot import allot
from cardgen.asbuilt import AsBuilt
from cardgen.cards import CardKind, Printable
from cardgen.desk.cell_places import CellPlaces, GridCell
from cardgen.desk.tag_pictures import TagPictures
from cardgen.desk.told_findings import told
from cardgen.editing import Remove, edited
from cardgen.examine import Examined, examine_text
from cardgen.faults.circuit_faults import HOT_MISSING
from cardgen.output.as_printable import as_printable
from cardgen.output.print_request import PrintRequest
from cardgen.problems import Problem, Verdict
from cardgen.reading import parse

_KEPT = 8  # jobs as they stood, with all their tags; our choice
_ROUNDS = 3  # of leaving out rows: what is left may be at fault only then


@dataclass(frozen=True, slots=True)
class Shown:
    """What can be drawn of a text.

    Attributes:
        printable: of the rows without errors; None where an error is not in a row of stations.
        left_out: stations with errors.
        proposed: stations whose wire cardgen would choose: they name none.
        in_the_way: the first error outside of the stations, and its cell.
    """

    printable: Printable | None
    left_out: frozenset[str] = frozenset()
    proposed: frozenset[str] = frozenset()
    in_the_way: tuple[Problem, GridCell] | None = None


class TagPreviews:
    """The last few texts with their tags, for the page asks row by row."""

    def __init__(self) -> None:
        self._made: OrderedDict[object, tuple[Shown, TagPictures | None]] = OrderedDict()
        self._lock = Lock()

    def of(
        self, text: str, examined: Examined | None, request: PrintRequest
    ) -> tuple[Shown, TagPictures | None]:
        """`examined`: the same text, where it has been."""
        with self._lock:
            is_draft = examined is None
            key = (text, is_draft, request.paper, request.stocks, request.languages)
            if key not in self._made:
                shown = shown_of(text, examined)
                tags = None
                if shown.printable:
                    tags = TagPictures(shown.printable, request, is_draft=is_draft)
                self._made[key] = shown, tags
                while len(self._made) > _KEPT:
                    self._made.popitem(last=False)
            self._made.move_to_end(key)
            return self._made[key]


def shown_of(text: str, examined: Examined | None = None) -> Shown:
    """The job less the stations at fault, with a proposal for each that only lacks its wire."""
    left_out: set[str] = set()
    proposed: frozenset[str] = frozenset()
    for _ in range(_ROUNDS):
        found = examined or examine_text(text)
        examined = None
        printable = as_printable(found)
        if printable is not None:
            return Shown(printable, frozenset(left_out), proposed)
        places = CellPlaces(parse(text, "")[0])
        errors = [p for p in found.problems if p.verdict is Verdict.ERROR]
        cells = [places.at(problem.span) for problem in errors]
        elsewhere = (
            each
            for each in zip(errors, cells, strict=True)
            if each[1].section != "stations" or not each[1].row
        )
        if first := next(elsewhere, None):
            return Shown(None, frozenset(left_out), proposed, first)
        faulty = {c.row for p, c in zip(errors, cells, strict=True) if p.code != HOT_MISSING.code}
        if not faulty and not left_out:  # else a wire of theirs would count as free
            chosen = allot(text)
            if chosen.text is not None:
                text, proposed = chosen.text, frozenset(chosen.ways)
                continue
        faulty = faulty or {cell.row for cell in cells}
        left_out |= faulty
        text = edited(text, [Remove(path=("stations", row)) for row in sorted(faulty)])
    return Shown(None, frozenset(left_out), proposed)


def preview_of(row: str, shown: Shown, tags: TagPictures | None, language: str) -> dict[str, Any]:
    """The tags of a station and of its box, or of a box, as the page gets them."""
    if tags is None or shown.printable is None:
        if shown.in_the_way:
            problem, cell = shown.in_the_way
            sentence = told(problem, language).sentence
            first = {"section": cell.section, "row": cell.row, "sentence": sentence}
            return {"state": "in the way", "first": first, "tags": []}
        return {"state": "left out", "tags": []}
    if row in shown.left_out:
        return {"state": "left out", "tags": []}
    wanted = _cards_of(row, shown.printable.asbuilt)
    drawn = [
        {
            "kind": str(kind),
            "id": id_,
            "svg": picture.svg,
            "says": picture.says,
            "size": f"{picture.width_mm:g} x {picture.height_mm:g} mm",
        }
        for kind, id_ in wanted
        for picture in tags.pictures(kind, id_)
    ]
    told_ = (told(found, language) for key in wanted if (found := tags.misfit(*key)))
    misfits = [{"sentence": said.sentence, "lang": said.language} for said in told_]
    known = "proposed" if row in shown.proposed else "shown"
    state = known if drawn or misfits else "none"
    return {"state": state, "tags": drawn, "misfits": misfits}


def _cards_of(row: str, known: AsBuilt) -> list[tuple[CardKind, str]]:
    valves = [valve for valve in known.in_order if row in (valve.station, valve.id)]
    boxes = list(dict.fromkeys(valve.box for valve in valves)) or [row]
    tags = [(CardKind.VALVE_TAG, valve.id) for valve in valves]
    return [*tags, *((CardKind.BOX_TAG, box) for box in boxes)]
