"""Tell by how a file begins that it is no plain text, or a text of another kind than a job."""

from __future__ import annotations

import re
from typing import NamedTuple


class OtherKind(NamedTuple):
    """What a file is, and which words of the fault say how what is in it becomes a job."""

    name: str
    variant: str = "kind"


# By the first bytes (the file signatures of each format's own description; from memory).
_BEGINNINGS = (
    (b"%PDF-", OtherKind("a PDF document")),
    (b"{\\rtf", OtherKind("a word processor's text (RTF)")),
    (
        b"\xd0\xcf\x11\xe0",
        OtherKind("a spreadsheet or word processor's file (XLS, DOC)", "other spreadsheet"),
    ),
    (b"\x89PNG", OtherKind("a picture (PNG)")),
    (b"\xff\xd8\xff", OtherKind("a picture (JPEG)")),
    (b"GIF8", OtherKind("a picture (GIF)")),
    (b"SQLite format 3", OtherKind("a database")),
    (b"\x1f\x8b", OtherKind("a packed file (GZIP)")),
)
_ZIPPED = (
    (b"xl/", OtherKind("a spreadsheet (XLSX)", "spreadsheet")),
    (b"word/", OtherKind("a word processor's file (DOCX)")),
    (b"opendocument.spreadsheet", OtherKind("a spreadsheet (ODS)", "other spreadsheet")),
    (b"opendocument.text", OtherKind("a word processor's file (ODT)")),
)
_MARKUP = re.compile(rb"\s*<(!doctype html|html|\?xml|svg)", re.IGNORECASE)
_LOOKED_AT = 8  # lines that tell a table
_KEY_LINE = re.compile(r"[A-Za-z ]+:(\s|$)")


def other_kind(data: bytes) -> OtherKind | None:
    """What a file is that is no job for certain: `a spreadsheet (XLSX)`."""
    if data.startswith(b"PK\x03\x04"):
        zipped = (kind for part, kind in _ZIPPED if part in data)
        return next(zipped, OtherKind("a packed file (ZIP)"))
    for beginning, kind in _BEGINNINGS:
        if data.startswith(beginning):
            return kind
    return OtherKind("a web page or a drawing (HTML, XML)") if _MARKUP.match(data) else None


def table_kind(text: str) -> str:
    """`a table with commas (CSV)`, if the lines of a text are its rows; else empty.

    To be asked of a text that is no job: there a row may look like much else.
    """
    lines = [line for line in text.splitlines() if line.strip()][:_LOOKED_AT]
    if len(lines) < 2 or any(_KEY_LINE.match(line) for line in lines):
        return ""
    for sign, name in ((";", "semicolons"), ("\t", "tabs"), (",", "commas")):
        counts = {re.sub('"[^"]*"', "", line).count(sign) for line in lines}
        if len(counts) == 1 and 0 not in counts:
            return f"a table with {name} (CSV)"
    return ""
