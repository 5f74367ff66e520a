"""Turn rows of words into the bytes of a CSV file, RFC 4180: commas, quotes, CRLF, UTF-8."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Sequence


def csv_bytes(rows: Iterable[Sequence[str]]) -> bytes:
    """Each row is as long as the first, which names the columns; every blank is a plain one."""
    stream = io.StringIO(newline="")
    csv.writer(stream, lineterminator="\r\n").writerows(
        [cell.replace("\u00a0", " ") for cell in row] for row in rows
    )
    return stream.getvalue().encode()
