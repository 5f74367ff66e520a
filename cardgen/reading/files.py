"""Turn the bytes of a file into text, or say what keeps it from being text."""

from __future__ import annotations

import unicodedata
from pathlib import Path

from cardgen.problems import Place, Problem, Verdict

# A campus of 8,000 stations takes about 3 MB; ten times less is usual.
LARGEST_FILE = 8_000_000

_UTF8_MARK = b"\xef\xbb\xbf"
_UTF16_MARKS = (b"\xff\xfe", b"\xfe\xff")
# Characters that look like a space or like nothing, and split a word that reads as one.
_UNSEEN = {"\u00a0", "\u2007", "\u202f", "\u200b", "\u200c", "\u200d", "\u2060", "\ufeff", "\u00ad"}
_DIRECTION = {
    "\u202a",
    "\u202b",
    "\u202c",
    "\u202d",
    "\u202e",
    "\u2066",
    "\u2067",
    "\u2068",
    "\u2069",
}


def read_text(path: Path) -> tuple[str | None, tuple[Problem, ...]]:
    """The text of a file, or None with the problem.

    Never raises for what the file holds or where it lies.
    """
    name = str(path)
    try:
        if path.is_dir():
            return None, (_problem(name, 1, 1, "file-unreadable", "this is a folder, not a file"),)
        size = path.stat().st_size
        if size > LARGEST_FILE:
            sentence = f"the file has {size:,} bytes, more than the {LARGEST_FILE:,} a job may have"
            return None, (_problem(name, 1, 1, "file-too-large", sentence),)
        with path.open("rb") as stream:
            data = stream.read(LARGEST_FILE + 1)
    except OSError as fault:
        sentence = f"the file cannot be read: {(fault.strerror or str(fault)).lower()}"
        return None, (_problem(name, 1, 1, "file-unreadable", sentence),)
    return decode(data, name)


def decode(data: bytes, name: str) -> tuple[str | None, tuple[Problem, ...]]:
    """UTF-8 bytes as text; other encodings, binary data and unseen characters are reported."""
    problems: list[Problem] = []
    if data.startswith(_UTF16_MARKS):
        sentence = "the file is saved as UTF-16, not UTF-8"
        return None, (_problem(name, 1, 1, "not-utf-8", sentence, _SAVE_AS_UTF8),)
    if data.startswith(_UTF8_MARK):
        data = data[len(_UTF8_MARK) :]
        sentence = "the file starts with an invisible byte-order mark"
        help_ = "save it as 'UTF-8' without BOM; it is read all the same"
        problems.append(_problem(name, 1, 1, "byte-order-mark", sentence, help_, Verdict.WARNING))
    try:
        text = data.decode("utf-8")
    except UnicodeDecodeError as fault:
        line, column = _position(data[: fault.start].decode("utf-8", "replace"), fault.start)
        sentence = f"byte {data[fault.start]:02X} is not UTF-8 text"
        return None, (_problem(name, line, column, "not-utf-8", sentence, _SAVE_AS_UTF8),)
    for index, character in enumerate(text):
        if character.isascii():
            if character < " " and character not in "\t\n\r":
                line, column = _position(text, index)
                sentence = f"a control character (code {ord(character)}) makes this no text file"
                return None, (_problem(name, line, column, "not-text", sentence),)
        elif character in _UNSEEN or character in _DIRECTION:
            line, column = _position(text, index)
            title = unicodedata.name(character, f"U+{ord(character):04X}").lower()
            sentence = f"an unseen character ({title}) stands here"
            problems.append(
                _problem(
                    name,
                    line,
                    column,
                    "unseen-character",
                    sentence,
                    "delete it, or type a plain space",
                )
            )
    if not text.strip():
        return None, (*problems, _problem(name, 1, 1, "file-empty", "the file is empty", _START))
    return text, tuple(problems)


_SAVE_AS_UTF8 = "in the editor, choose 'Save as' and the encoding UTF-8"
_START = "'cardgen new FILE' writes a job to start from"


def _position(text: str, index: int) -> tuple[int, int]:
    before = text[:index]
    return before.count("\n") + 1, len(before) - (before.rfind("\n") + 1) + 1


def _problem(
    name: str,
    line: int,
    column: int,
    code: str,
    sentence: str,
    help_: str = "",
    verdict: Verdict = Verdict.ERROR,
) -> Problem:
    place = Place(name, line, column)
    return Problem(code=code, verdict=verdict, place=place, sentence=sentence, help=help_)
