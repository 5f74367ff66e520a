"""Turn the bytes of a file into text, or say what keeps it from being text."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator
from itertools import islice
from pathlib import Path

from cardgen.problems import Problem, Span, Verdict

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
    name = str(path)
    try:
        if path.is_dir():
            sentence, help_ = "this is a folder, not a file", "name the job file in it"
            return None, (_problem(name, "file-unreadable", sentence, help_),)
        size = path.stat().st_size
        if size > LARGEST_FILE:
            sentence = f"the file has {size:,} bytes, more than the {LARGEST_FILE:,} a job may have"
            return None, (_problem(name, "file-too-large", sentence, _OTHER_FILE),)
        with path.open("rb") as stream:
            data = stream.read(LARGEST_FILE + 1)
    except (OSError, ValueError) as fault:
        said = fault.strerror if isinstance(fault, OSError) and fault.strerror else str(fault)
        sentence = f"the file cannot be read: {said.lower()}"
        return None, (_problem(name, "file-unreadable", sentence, "look at its name and folder"),)
    if len(data) > LARGEST_FILE:
        sentence = f"the file has more than the {LARGEST_FILE:,} bytes a job may have"
        return None, (_problem(name, "file-too-large", sentence, _OTHER_FILE),)
    return decode(data, name)


def decode(data: bytes, name: str) -> tuple[str | None, tuple[Problem, ...]]:
    """UTF-8 bytes as text; other encodings and binary data are reported."""
    wide = _wide_encoding(data)
    if wide:
        sentence = f"the file is saved as {wide}, not UTF-8"
        return None, (_problem(name, "not-utf-8", sentence, _SAVE_AS_UTF8),)
    problems: list[Problem] = []
    if data.startswith(UTF8_MARK):
        data = data[len(UTF8_MARK) :]
        sentence = "the file starts with an invisible byte-order mark"
        help_ = "save it as 'UTF-8' without BOM; it is read all the same"
        problems.append(_problem(name, "byte-order-mark", sentence, help_, Verdict.WARNING))
    try:
        text = data.decode("utf-8")
    except UnicodeDecodeError as fault:
        return None, (*problems, _not_utf8(data, fault.start, name))
    if not text.strip():
        return None, (*problems, _problem(name, "file-empty", "the file is empty", START))
    return text, tuple(problems)


def untyped_characters(text: str, name: str) -> Iterator[Problem]:
    """Characters that no one typed: with them the rest would only mislead."""
    strange = _UNPRINTABLE.search(text)
    if strange is not None:
        sentence = f"a character that cannot be typed (code {ord(strange[0])}) stands here"
        at = _position(text, strange.start())
        yield _problem(name, "not-text", sentence, _OTHER_FILE, at=at)
        return
    for found in islice(_UNSEEN.finditer(text), MOST_UNSEEN):
        title = unicodedata.name(found[0], "next line").lower()  # U+0085 is the one without a name
        yield _problem(
            name,
            "unseen-character",
            f"an unseen character ({title}) stands here",
            "delete it, or type a plain space; it often comes with text copied from a web page",
            at=_position(text, found.start()),
        )


_SAVE_AS_UTF8 = "in the editor, choose 'Save as' and the encoding UTF-8"
_OTHER_FILE = "a job is a plain text file: is this another file, a picture or a spreadsheet?"
START = "'cardgen new FILE' writes a job to start from"


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
        return _problem(name, "not-text", "this is no text file", _OTHER_FILE)
    at = _position(data[:start].decode("utf-8"), None)
    sentence = f"a letter here (byte {data[start]:02X}) is not saved as UTF-8"
    return _problem(name, "not-utf-8", sentence, _SAVE_AS_UTF8, at=at)


def _position(text: str, index: int | None) -> tuple[int, int]:
    """Line and column, from 1, of a character; the lines end as YAML ends them."""
    lines = re.split("\r\n|[\r\n]", text[:index])
    return len(lines), len(lines[-1]) + 1


def _problem(
    name: str,
    code: str,
    sentence: str,
    help_: str = "",
    verdict: Verdict = Verdict.ERROR,
    at: tuple[int, int] = (1, 1),
) -> Problem:
    span = Span(name, *at)
    return Problem(code=code, verdict=verdict, span=span, sentence=sentence, help=help_)
