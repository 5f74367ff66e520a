"""Turn each box that needs an overview into its summary tag."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from cardgen.asbuilt import BuiltBox, BuiltValve, ConductorMark
from cardgen.cards import cautions
from cardgen.cards.card import Card, CardKind, Cell, FieldValue, Table, on_paper
from cardgen.cards.printable import Printable
from cardgen.cards.valve_tags import area_of
from cardgen.owners import common_of
from cardgen.words import Text, Words

MANY_VALVES = 3
TABLES = ("stations", "stations_2", "stations_3", "stations_4")  # one for each controller


def box_tags(printable: Printable) -> Iterator[Card]:
    """A tag for boxes with three valves or more, with two controllers, or with splices only."""
    for box in printable.asbuilt.boxes:
        controllers = {*(valve.controller for valve in box.valves), *box.commons}
        passing = box.kind in ("splice box", "pull box") and not box.valves
        if len(box.valves) >= MANY_VALVES or len(controllers) > 1 or passing:
            yield Card(
                kind=CardKind.BOX_TAG,
                id=box.id,
                at=box.id,
                controllers=printable.asbuilt.controllers_in(box),
                span=printable.spans.boxes[box.id],
                fields=on_paper(_fields(printable, box)),
            )


def _fields(printable: Printable, box: BuiltBox) -> dict[str, FieldValue]:
    fields: dict[str, FieldValue] = {
        "headline": box.id,
        "place": box.where,
        "box_kind": printable.words(f"box kinds.{box.kind}"),
        "code": printable.code_of(box.id),
        "stamp": printable.stamp,
        **printable.warning,
    }
    by_controller: dict[str, list[BuiltValve]] = {}
    for valve in box.valves:
        by_controller.setdefault(valve.controller, []).append(valve)
    for name, (controller, valves) in zip(TABLES, by_controller.items(), strict=False):
        fields |= _stations(printable.words, name, controller, valves)
    commons = tuple(_commons(printable, box))
    if commons:
        fields["commons"] = commons
    spares = tuple(dict.fromkeys(spare.mark for spare in box.spares if not spare.dead))
    if spares:
        fields["spares"] = spares
    at = cautions.in_box(printable.asbuilt, box)
    notes = cautions.in_words(printable.words, cautions.BOX_TAG, at)
    notes += _notes(printable.words, box)
    if notes:
        fields["notes"] = notes
    return fields


def _stations(
    words: Words, name: str, controller: str, valves: Sequence[BuiltValve]
) -> Iterator[tuple[str, FieldValue]]:
    """The rows of one controller under its name, with the cable there if it is that of all."""
    title = words("terms.controller", controller=controller)
    hots = [valve.hot for valve in valves]
    cables = {(hot.cable, hot.band) if hot else None for hot in hots}
    shared = cables.pop() if len(cables) == 1 else None
    if shared:
        cable = " ".join(part for part in shared if part)
        title = words("box tag.cable", controller=controller, cable=cable)
        hots = [replace(hot, cable="", band="") if hot else None for hot in hots]
    rows = tuple(_row(words, valve, hot) for valve, hot in zip(valves, hots, strict=True))
    yield f"{name}_title", title
    yield name, Table.of(words.named("columns", ("valve", "hot", "area")), rows)


def _row(words: Words, valve: BuiltValve, hot: ConductorMark | None) -> tuple[Cell, ...]:
    shown: Cell = hot or ""
    if valve.decoder:
        shown = words("box tag.decoder", address=valve.decoder.address)
    return valve.id, shown, area_of(words, valve)


def _commons(printable: Printable, box: BuiltBox) -> Iterator[ConductorMark]:
    """By controller the conductors that are its common on one side of the box or both."""
    for controller in box.commons:
        common = printable.asbuilt.controller[controller].common
        conductors = printable.asbuilt.carrying(common, box.id)
        yield from dict.fromkeys(conductor.mark for conductor in conductors)


def _notes(words: Words, box: BuiltBox) -> tuple[Text, ...]:
    notes: list[Text] = []
    if box.commons_apart:
        commons = words.list_of(common_of(controller) for controller in box.commons_apart)
        notes.append(words("box tag.must not touch", commons=commons))
    if box.joints:
        notes.append(words.count("box tag.splices", len(box.joints)))
    if box.all_pass:
        notes.append(words("box tag.all pass"))
    return tuple(notes)
