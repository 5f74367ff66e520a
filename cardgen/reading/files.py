"""Turn the bytes of a file into text, or say what keeps it from being text."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator
from itertools import islice
from pathlib import Path

from cardgen.faults.file_faults import (
    BYTE_ORDER_MARK,
    FILE_EMPTY,
    FILE_TOO_LARGE,
    FILE_UNREADABLE,
    NOT_TEXT,
    NOT_UTF_8,
    UNSEEN_CHARACTER,
)
from cardgen.problems import Problem, Span
from cardgen.reading.other_files import other_kind

# A campus of 8,000 stations takes about 3 MB; ten times less is usual.
LARGEST_FILE = 8_000_000
MOST_UNSEEN = 20  # of one file are listed; whoever pasted from a web page may have hundreds

UTF8_MARK = b"\xef\xbb\xbf"
_WIDE_MARKS = {
    b"\xff\xfe\x00\x00": "UTF-32",  # before UTF-16, whose mark it begins with
    b"\x00\x00\xfe\xff": "UTF-32",
    b"\xff\xfe": "UTF-16",
    b"\xfe\xff": "UTF-16",
}
# Characters that look like a space, like a line's end or like nothing, and split a word that
# reads as one; and those that turn the direction of reading.
_UNSEEN = re.compile(
    "[\u00a0\u00ad\u0085\u2007\u200b-\u200f\u2028-\u202f\u2060\u2066-\u2069\ufeff]"
)
# What YAML 1.1 (5.1) does not count as printable, less the byte-order mark.
_UNPRINTABLE = re.compile("[^\t\n\r -~\u0085\u00a0-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


def read_text(path: Path) -> tuple[str | None, tuple[Problem, ...]]:
    """The text of a file, or None with the problem.

    Never raises for what the file holds or where it lies.
    """
    start = Span(str(path), 1, 1)
    try:
        if path.is_dir():
            return None, (FILE_UNREADABLE.at(start, variant="folder"),)
        with path.open("rb") as stream:
            data = stream.read(LARGEST_FILE + 1)
    except (OSError, ValueError) as error:
        failure = error.strerror if isinstance(error, OSError) and error.strerror else str(error)
        return None, (FILE_UNREADABLE.at(start, reason=failure.lower()),)
    if len(data) > LARGEST_FILE and not other_kind(data):
        return None, (FILE_TOO_LARGE.at(start, most=LARGEST_FILE),)
    return decode(data, str(path))


def decode(data: bytes, name: str) -> tuple[str | None, tuple[Problem, ...]]:
    """UTF-8 bytes as text; other encodings and binary data are reported."""
    start = Span(name, 1, 1)
    kind = other_kind(data)
    if kind:
        return None, (NOT_TEXT.at(start, variant=kind.variant, kind=kind.name),)
    wide = _wide_encoding(data)
    if wide:
        return None, (NOT_UTF_8.at(start, encoding=wide),)
    problems: list[Problem] = []
    if data.startswith(UTF8_MARK):
        data = data[len(UTF8_MARK) :]
        problems.append(BYTE_ORDER_MARK.at(start))
    try:
        text = data.decode("utf-8")
    except UnicodeDecodeError as error:
        return None, (*problems, _not_utf8(data, error.start, name))
    if not text.strip():
        return None, (*problems, FILE_EMPTY.at(start))
    return text, tuple(problems)


def untyped_characters(text: str, name: str) -> Iterator[Problem]:
    """Characters that no one typed: with them the rest would only mislead."""
    strange = _UNPRINTABLE.search(text)
    if strange is not None:
        span = _place(name, text, strange.start())
        yield NOT_TEXT.at(span, variant="character", code=ord(strange[0]))
        return
    for found in islice(_UNSEEN.finditer(text), MOST_UNSEEN):
        title = unicodedata.name(found[0], "next line").lower()  # U+0085 is the one without a name
        yield UNSEEN_CHARACTER.at(_place(name, text, found.start()), name=title)


def _wide_encoding(data: bytes) -> str:
    """`UTF-16` or `UTF-32`, by the mark at its start or by every second byte being zero."""
    for mark, encoding in _WIDE_MARKS.items():
        if data.startswith(mark):
            return encoding
    start = data[:64]
    for zeros, letters in ((start[1::2], start[::2]), (start[::2], start[1::2])):
        if len(zeros) > 1 and not any(zeros) and all(letters):
            return "UTF-16"
    return ""


def _not_utf8(data: bytes, start: int, name: str) -> Problem:
    if re.search(rb"[\x00-\x08\x0e-\x1f]", data):
        return NOT_TEXT.at(Span(name, 1, 1))
    span = _place(name, data[:start].decode("utf-8"), None)
    return NOT_UTF_8.at(span, variant="letter", byte=data[start])


def _place(name: str, text: str, index: int | None) -> Span:
    """Line and column of a character; the lines end as YAML ends them."""
    lines = re.split("\r\n|[\r\n]", text[:index])
    return Span(name, len(lines), len(lines[-1]) + 1)
