"""Turn the documents of a packet, with the pages where they begin, into its cover."""

from __future__ import annotations

from collections.abc import Sequence

from cardgen.cards.card import Card, CardKind, FieldValue, Table, on_paper
from cardgen.cards.closing import STANDS
from cardgen.cards.printable import Printable

Document = tuple[str, int]  # its title, and the page of the packet on which it begins


def cover(printable: Printable, documents: Sequence[Document], separate: Sequence[str]) -> Card:
    """`separate` are files of the same print that hang or lie elsewhere."""
    known, words = printable.asbuilt, printable.words
    revision = words("sheet.revision", revision=known.revision, date=known.date)
    rows = tuple((title, revision, str(page)) for title, page in documents)
    fields: dict[str, FieldValue] = {
        "title": words("cover.title"),
        "subtitle": known.site,
        "facts": (
            words("cover.job", job=known.job_code, revision=known.revision, date=known.date),
            words("cover.record", address=known.address),
        ),
        "documents": Table.of(words.named("columns", ("document", "revision", "page")), rows),
        "notes": words.named("closing", STANDS),
        "stamp": printable.stamp,
    }
    if separate:
        others = tuple((name, revision) for name in separate)
        columns = words.named("columns", ("file", "revision"))
        fields["separate"] = Table.of(columns, others)
    return Card(kind=CardKind.COVER, id="cover", span=printable.spans.job, fields=on_paper(fields))
