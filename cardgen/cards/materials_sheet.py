"""Turn the materials into a sheet and into rows for a spreadsheet: the same words and numbers."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from cardgen.cards.facts import Printable
from cardgen.cards.materials import Material, materials
from cardgen.cards.model import Card, CardKind, FieldValue, Table
from cardgen.cards.slack import RULE
from cardgen.units import Length, plain

GROUPS = ("cables", "connectors", "boxes", "marking", "devices")
NOTES = (
    RULE,
    "Connectors, caps and ties: a tenth more than counted (common practice, no source).",
    "A class of connector is a name of this job; the connector's own label decides.",
)
HEADER = ("group", "what", "quantity", "unit", "quantity in the other unit", "other unit", "from")


def materials_sheets(job: Printable) -> Iterator[Card]:
    """One sheet for the job."""
    found = materials(job)
    fields: dict[str, FieldValue] = {
        "title": "MATERIALS",
        "subtitle": job.info.site.value,
        "notes": NOTES,
        "stamp": job.stamp,
    }
    for group in GROUPS:
        rows = tuple((m.amount, m.what, m.basis) for m in found if m.group == group)
        if rows:
            fields[group] = Table(columns=("quantity", "what", "from"), rows=rows)
    yield Card(kind=CardKind.MATERIALS, id="materials", place=job.info.place, fields=fields)


def materials_rows(found: Iterable[Material]) -> Iterator[tuple[str, ...]]:
    """The names of the columns, then a row for each material."""
    yield HEADER
    for each in found:
        yield each.group, each.what, *_number(each.quantity), *_number(each.other), each.basis


def _number(quantity: Length | int | None) -> tuple[str, str]:
    match quantity:
        case None:
            return "", ""
        case int():
            return str(quantity), "pieces"
        case Length():
            return plain(quantity.amount), quantity.unit
