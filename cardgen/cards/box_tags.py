"""Turn each box that needs an overview into its summary tag."""

from __future__ import annotations

from collections.abc import Iterator

from cardgen.asbuilt import BuiltBox, BuiltValve, ConductorMark
from cardgen.cards.card import Card, CardKind, Cell, FieldValue, Table, on_paper
from cardgen.cards.printable import Printable
from cardgen.owners import common_of
from cardgen.words import Said, Words

MANY_VALVES = 3


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
        "box_kind": printable.words(f"box kinds.{box.kind}"),
        "code": printable.code_of(box.id),
        "stamp": printable.stamp,
        **printable.warning,
    }
    by_controller: dict[str, list[BuiltValve]] = {}
    for valve in box.valves:
        by_controller.setdefault(valve.controller, []).append(valve)
    names = ("stations", "stations_2", "stations_3", "stations_4")
    for name, (controller, found) in zip(names, by_controller.items(), strict=False):
        fields[f"{name}_title"] = printable.words("terms.controller", controller=controller)
        columns = printable.words.named("columns", ("valve", "hot"))
        fields[name] = Table.of(columns, (_row(printable.words, v) for v in found))
    commons = tuple(_commons(printable, box))
    if commons:
        fields["commons"] = commons
    spares = tuple(dict.fromkeys(spare.mark for spare in box.spares if not spare.dead))
    if spares:
        fields["spares"] = spares
    notes = _notes(printable.words, box)
    if notes:
        fields["notes"] = notes
    return fields


def _row(words: Words, valve: BuiltValve) -> tuple[Cell, ...]:
    if valve.decoder:
        return valve.id, words("box tag.decoder", address=valve.decoder.address)
    return valve.id, valve.hot or ""


def _commons(printable: Printable, box: BuiltBox) -> Iterator[ConductorMark]:
    """By controller the conductors that are its common on one side of the box or both."""
    for controller in box.commons:
        common = printable.asbuilt.controller[controller].common
        yield from dict.fromkeys(c.mark for c in printable.asbuilt.carrying(common, box.id))


def _notes(words: Words, box: BuiltBox) -> tuple[Said, ...]:
    notes: list[Said] = [box.where] if box.where else []
    if box.commons_apart:
        commons = words.list_of(common_of(controller) for controller in box.commons_apart)
        notes.append(words("box tag.must not touch", commons=commons))
    if box.joints:
        notes.append(words.count("box tag.splices", len(box.joints)))
    if box.all_pass:
        notes.append(words("box tag.all pass"))
    return tuple(notes)
