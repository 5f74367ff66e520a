"""Turn the documents of a packet, with the pages where they begin, into its cover."""

from __future__ import annotations

from collections.abc import Sequence

from cardgen.cards.closing import STANDS
from cardgen.cards.facts import Printable
from cardgen.cards.model import Card, CardKind, FieldValue, Table

Document = tuple[str, int]  # its title, and the page of the packet on which it begins


def cover(job: Printable, documents: Sequence[Document], separate: Sequence[str]) -> Card:
    """`separate` are files of the same print that hang or lie elsewhere."""
    info = job.info
    revision = f"rev {info.revision} of {info.date}"
    rows = tuple((title, revision, str(page)) for title, page in documents)
    fields: dict[str, FieldValue] = {
        "title": "CLOSEOUT PACKET",
        "subtitle": info.site.value,
        "facts": (
            f"Job {info.code.value}, revision {info.revision} of {info.date}",
            f"Job record: {job.record.address.value}/{job.record.key.value}",
        ),
        "documents": Table(columns=("document", "revision", "page"), rows=rows),
        "notes": STANDS,
        "stamp": job.stamp,
    }
    if separate:
        others = tuple((name, revision) for name in separate)
        fields["separate"] = Table(columns=("file", "revision"), rows=others)
    return Card(kind=CardKind.COVER, id="cover", place=info.place, fields=fields)
