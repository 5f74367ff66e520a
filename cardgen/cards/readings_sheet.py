"""Turn each controller into its test sheet: what is expected of each valve, and room to write."""

from __future__ import annotations

from collections.abc import Iterator

from cardgen.asbuilt import BuiltController
from cardgen.cards import cautions
from cardgen.cards.card import Card, CardKind, FieldValue, on_paper
from cardgen.cards.measuring import blanks, last_ticks, rules, ticks
from cardgen.cards.printable import Printable
from cardgen.cards.sheet_sections import sections
from cardgen.cards.valve_readings import valve_readings
from cardgen.words import Text, apart


def test_sheets(printable: Printable) -> Iterator[Card]:
    """A sheet for each controller, in the order of the file."""
    for controller in printable.asbuilt.controllers:
        if printable.crew is not None and not printable.valves_of(controller.id):
            continue
        yield Card(
            kind=CardKind.TEST_SHEET,
            id=controller.id,
            controllers=(controller.id,),
            span=printable.spans.of(controller.id),
            fields=on_paper(_fields(printable, controller)),
        )


def _fields(printable: Printable, controller: BuiltController) -> dict[str, FieldValue]:
    place, supply = printable.place_of(controller.id), printable.supply(controller.id)
    about = (printable.asbuilt.site, place, supply)
    crew = (printable.crew.name,) if printable.crew is not None else ()
    at = cautions.at_controller(printable.asbuilt, controller)
    fields: dict[str, FieldValue] = {
        "title": printable.words("test sheet.title", controller=controller.id),
        "subtitle": apart((*crew, *about, *_beside_all(printable, controller))),
        "cautions": cautions.in_words(printable.words, cautions.TEST_SHEET, at),
        "blanks": tuple(blanks(printable, controller)),
        "ticks": tuple(ticks(printable, controller)),
        "rules": (*rules(printable, controller), *printable.only_boxes),
        "last_ticks": tuple(last_ticks(printable, controller)),
        "stamp": printable.stamp,
        **sections(printable, controller),
    }
    valves = valve_readings(printable, controller)
    return fields if valves is None else {**fields, "valves": valves}


def _beside_all(printable: Printable, controller: BuiltController) -> Iterator[Text]:
    """What counts in the milliamperes of every station, said once."""
    others = dict.fromkeys(
        name for valve in printable.asbuilt.valves_of(controller.id) for name in valve.beside
    )
    if others:
        yield printable.words("test sheet.with", others=printable.words.list_of(others))
