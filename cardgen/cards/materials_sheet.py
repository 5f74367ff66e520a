"""Turn the materials into a sheet and into rows for a spreadsheet: the same words and numbers."""

from __future__ import annotations

from collections.abc import Iterator

from cardgen.cards.materials import materials
from cardgen.cards.model import Card, CardKind, FieldValue, Table
from cardgen.cards.printable import Printable
from cardgen.units import Length, plain

GROUPS = ("cables", "connectors", "boxes", "marking", "devices")
NOTES = ("slack", "more", "class")
HEADER = ("group", "what", "quantity", "unit", "quantity in the other unit", "other unit", "from")


def materials_sheets(job: Printable) -> Iterator[Card]:
    """One sheet for the job."""
    found = materials(job)
    fields: dict[str, FieldValue] = {
        "title": job.words("materials.title"),
        "subtitle": job.asbuilt.site,
        "notes": job.words.named("materials", NOTES),
        "stamp": job.stamp,
    }
    for group in GROUPS:
        rows = tuple((m.amount, m.what, m.basis) for m in found if m.group == group)
        if rows:
            columns = job.words.named("columns", ("quantity", "what", "from"))
            fields[group] = Table(columns=columns, rows=rows)
    yield Card(kind=CardKind.MATERIALS, id="materials", place=job.spans.job, fields=fields)


def materials_rows(job: Printable) -> Iterator[tuple[str, ...]]:
    """The names of the columns, then a row for each material."""
    yield job.words.named("columns", HEADER)
    for each in materials(job):
        quantity, other = _number(job, each.quantity), _number(job, each.other)
        group = job.words(f"materials.{each.group}")
        yield group, each.what, *quantity, *other, each.basis


def _number(job: Printable, quantity: Length | int | None) -> tuple[str, str]:
    match quantity:
        case None:
            return "", ""
        case int():
            return str(quantity), job.words("materials.pieces unit")
        case Length():
            return plain(quantity.amount), quantity.unit
