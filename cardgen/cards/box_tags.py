"""Turn each box that needs an overview into its summary tag."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from cardgen.asbuilt import BuiltBox, BuiltValve, ConductorMark
from cardgen.cards import cautions
from cardgen.cards.card import Card, CardKind, Cell, FieldValue, Table, on_paper
from cardgen.cards.expected import LINE_FOR_WORDS, TO_FILL_IN
from cardgen.cards.printable import Printable
from cardgen.cards.valve_tags import area_of
from cardgen.light_dataclass import replace
from cardgen.owners import common_of
from cardgen.words import Said, Text, Words

MANY_VALVES = 3
COMMON = "C"  # its terminal
_Row = tuple[Said, Cell, Said]  # id or terminal, wire, what it waters or is called


def box_tags(printable: Printable) -> Iterator[Card]:
    """A tag for each box that has one, in the order of the file."""
    for box in printable.asbuilt.boxes:
        if has_box_tag(box):
            yield Card(
                kind=CardKind.BOX_TAG,
                id=box.id,
                at=box.id,
                controllers=printable.asbuilt.controllers_in(box),
                series="shared" if len(_controllers(box)) > 1 else "",
                span=printable.spans.boxes[box.id],
                fields=on_paper(_fields(printable, box)),
            )


def has_box_tag(box: BuiltBox) -> bool:
    """Three valves or more, two controllers, or splices only."""
    passing = box.kind in ("splice box", "pull box") and not box.valves
    return len(box.valves) >= MANY_VALVES or len(_controllers(box)) > 1 or passing


def _controllers(box: BuiltBox) -> set[str]:
    return {*(valve.controller for valve in box.valves), *box.commons}


def _fields(printable: Printable, box: BuiltBox) -> dict[str, FieldValue]:
    words = printable.words
    fields: dict[str, FieldValue] = {
        "headline": box.id,
        "place": box.where or (LINE_FOR_WORDS if box.where_unknown else ""),
        "box_kind": _kind(words, box),
        **printable.code_of(box.id),
        "stamp": printable.stamp,
        "notes": _notes(printable, box),
        "spares_title": words("box tag.spares"),
        "spares": tuple(dict.fromkeys(spare.mark for spare in box.spares if not spare.dead)),
        **printable.warning,
    }
    rows = tuple(_rows(printable, box))
    if rows:
        columns = words.named("columns", ("controller", "valve", "hot", "area"))
        fields["stations"] = Table.of(columns, rows)
    return {name: value for name, value in fields.items() if value not in ((), "")}


def _kind(words: Words, box: BuiltBox) -> Said:
    """`pull box, splices 2`; what is listed says already that a box is for valves or splices.

    How many there are nobody knows of a box in which some hot is not known.
    """
    counted = box.joints and not box.splices_unknown
    splices = words.labeled("box tag.splices", str(len(box.joints))) if counted else ""
    told = box.valves if box.kind == "valve box" else box.kind == "splice box" and splices
    return splices if told else words.joined((words(f"box kinds.{box.kind}"), splices))


# ---- valves ----------------------------------------------------------------------------------


def _rows(printable: Printable, box: BuiltBox) -> Iterator[tuple[Cell, ...]]:
    """By controller its valves in the order of its terminals and its common, under its title."""
    known, words = printable.asbuilt, printable.words
    for controller in dict.fromkeys((*(valve.controller for valve in box.valves), *box.commons)):
        order = {t.name: at for at, t in enumerate(known.controller[controller].terminals)}
        valves = [valve for valve in box.valves if valve.controller == controller]
        valves.sort(key=lambda valve: order.get(valve.terminal, len(order)))
        rows: list[_Row] = [(v.id, _shown(words, v), area_of(words, v)) for v in valves]
        commons = _commons(printable, box, controller)
        rows += [(COMMON, mark, common_of(controller)) for mark in commons]
        yield from _titled(words, controller, rows)


def _titled(words: Words, controller: str, rows: Sequence[_Row]) -> Iterator[tuple[Cell, ...]]:
    """The rows of one controller, the cable in their title if it is that of all."""
    title = words("terms.controller", controller=controller)
    marks = [mark for _, mark, _ in rows if isinstance(mark, ConductorMark)]
    cables = {(mark.cable, mark.band) for mark in marks}
    shared = len(cables) == 1 and len(marks) == len(rows)
    if shared:
        cable = " + ".join(part for part in cables.pop() if part)
        title = words("box tag.cable", controller=controller, cable=cable)
    for id_, cell, area in rows:
        if shared and isinstance(cell, ConductorMark):
            cell = replace(cell, cable="", band="")  # noqa: PLW2901 - its title says them
        yield title, id_, cell, area


def _shown(words: Words, valve: BuiltValve) -> Cell:
    """Its hot; the flag only where it says something else than the row."""
    if valve.decoder:
        return words("box tag.decoder", address=valve.decoder.address)
    if valve.hot is None:
        return TO_FILL_IN if valve.hot_unknown else ""
    return replace(valve.hot, flag="") if valve.hot.flag == valve.id else valve.hot


# ---- the rest --------------------------------------------------------------------------------


def _commons(printable: Printable, box: BuiltBox, controller: str) -> Iterator[ConductorMark]:
    """The conductors that are its common on one side of the box or both."""
    if controller in box.commons:
        conductors = printable.asbuilt.carrying(
            printable.asbuilt.controller[controller].common, box.id
        )
        named = common_of(controller)
        for mark in dict.fromkeys(conductor.mark for conductor in conductors):
            yield replace(mark, flag="") if mark.flag == named else mark


def _notes(printable: Printable, box: BuiltBox) -> tuple[Text, ...]:
    """What a hand must know before it touches anything there."""
    words = printable.words
    at = cautions.in_box(printable.asbuilt, box)
    notes = [*cautions.in_words(words, cautions.BOX_TAG, at)]
    if box.commons_apart:
        commons = words.list_of(common_of(controller) for controller in box.commons_apart)
        notes.append(words("box tag.must not touch", commons=commons))
    if box.all_pass:
        notes.append(words("box tag.all pass"))
    return tuple(notes)
