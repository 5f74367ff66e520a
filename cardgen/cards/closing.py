"""Turn a job into the last sheet of the packet: changes, what the numbers are, cautions, sign-off.

Nothing here claims that a job meets any code.
"""

from __future__ import annotations

from collections.abc import Iterator

from cardgen.cards.card import Card, CardKind, FieldValue, Table, on_paper
from cardgen.cards.cautions import CAUTIONS
from cardgen.cards.printable import Printable

CALCULATED = ("traced", "ohms", "volts", "lengths")
MEASURED = ("by hand", "distances")
STANDS = ("records", "keep")
SIGNATURES = (
    *("installed by", "date", "tested by", "date"),
    *("taken over by", "date", "copy left at", "date"),
)


def closings(printable: Printable) -> Iterator[Card]:
    words = printable.words
    cautions = words.named("cautions", CAUTIONS[:-1])
    fields: dict[str, FieldValue] = {
        "title": words("closing.title"),
        "subtitle": printable.asbuilt.site,
        "calculated": words.named("closing", CALCULATED),
        "measured": words.named("closing", MEASURED),
        "cautions": (*cautions, words(f"closing.{STANDS[0]}")),
        "exceptions": ("1", "2", "3"),
        "signatures": words.named("blanks", SIGNATURES),
        "stamp": printable.stamp,
    }
    changes = tuple((str(c.revision), c.date, c.text) for c in printable.asbuilt.changes)
    if changes:
        columns = words.named("columns", ("revision", "date", "what"))
        fields["changes"] = Table.of(columns, changes)
    name = "changes, numbers, sign-off"
    yield Card(kind=CardKind.CLOSING, id=name, span=printable.spans.job, fields=on_paper(fields))
