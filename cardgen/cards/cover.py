"""Turn the documents of a packet, with the pages where they begin, into its cover."""

from __future__ import annotations

from collections.abc import Sequence

from cardgen.cards.closing import STANDS
from cardgen.cards.model import Card, CardKind, FieldValue, Table
from cardgen.cards.printable import Printable

Document = tuple[str, int]  # its title, and the page of the packet on which it begins


def cover(job: Printable, documents: Sequence[Document], separate: Sequence[str]) -> Card:
    """`separate` are files of the same print that hang or lie elsewhere."""
    info, words = job.info, job.words
    revision = words("sheet.revision", revision=info.revision, date=info.date)
    rows = tuple((title, revision, str(page)) for title, page in documents)
    fields: dict[str, FieldValue] = {
        "title": words("cover.title"),
        "subtitle": info.site.value,
        "facts": (
            words("cover.job", job=info.code.value, revision=info.revision, date=info.date),
            words("cover.record", address=f"{job.record.address.value}/{job.record.key.value}"),
        ),
        "documents": Table(
            columns=words.named("columns", ("document", "revision", "page")), rows=rows
        ),
        "notes": words.named("closing", STANDS),
        "stamp": job.stamp,
    }
    if separate:
        others = tuple((name, revision) for name in separate)
        columns = words.named("columns", ("file", "revision"))
        fields["separate"] = Table(columns=columns, rows=others)
    return Card(kind=CardKind.COVER, id="cover", place=info.place, fields=fields)
