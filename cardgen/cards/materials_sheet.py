"""Turn the materials into a sheet and into rows for a spreadsheet: the same words and numbers."""

from __future__ import annotations

from collections.abc import Iterator

from cardgen.cards.card import Card, CardKind, FieldValue, Table, on_paper
from cardgen.cards.lengths import with_other
from cardgen.cards.materials import materials
from cardgen.cards.printable import Printable
from cardgen.units import Length, plain
from cardgen.words import Said, Text, all_printed

GROUPS = ("cables", "connectors", "boxes", "marking", "devices")
NOTES = ("more", "class", "measure")
HEADER = ("group", "what", "quantity", "unit", "quantity in the other unit", "other unit", "from")


def materials_sheets(printable: Printable) -> Iterator[Card]:
    """One sheet for the job."""
    found = materials(printable)
    fields: dict[str, FieldValue] = {
        "title": printable.words("materials.title"),
        "subtitle": printable.asbuilt.site,
        "notes": (_slack(printable), *printable.words.named("materials", NOTES)),
        "stamp": printable.stamp,
    }
    for group in GROUPS:
        rows = tuple((m.amount, m.what, m.basis) for m in found if m.group == group)
        if rows:
            columns = printable.words.named("columns", ("quantity", "what", "counted from"))
            fields[group] = Table.of(columns, rows)
    yield Card(
        kind=CardKind.MATERIALS, id="materials", span=printable.spans.job, fields=on_paper(fields)
    )


def _slack(printable: Printable) -> Text:
    """The rule by which the lengths of wire were made; the manual says where it comes from."""
    slack = printable.asbuilt.slack
    return printable.words(
        "materials.slack",
        run=f"{plain(slack.run * 100)} %",
        valve=with_other(slack.valve),
        coil=with_other(slack.coil),
        every=with_other(slack.coil_every),
        box=with_other(slack.box_end),
        controller=with_other(slack.controller_end),
    )


def materials_rows(printable: Printable) -> Iterator[tuple[str, ...]]:
    """The names of the columns, then a row for each material."""
    yield all_printed(printable.words.named("columns", HEADER))
    for each in materials(printable):
        quantity, other = _number(printable, each.quantity), _number(printable, each.other)
        group = printable.words(f"materials.{each.group}")
        yield all_printed((group, each.what, *quantity, *other, each.basis))


def _number(printable: Printable, quantity: Length | int | None) -> tuple[str, Said]:
    match quantity:
        case None:
            return "", ""
        case int():
            return str(quantity), printable.words("materials.pieces unit")
        case Length():
            return plain(quantity.amount), quantity.unit
