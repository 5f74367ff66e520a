"""Say on a terminal of any code page what it has no letters for: `31 ohm` for a sign of ohms."""

from __future__ import annotations

import codecs
import unicodedata
from collections.abc import Iterable
from io import TextIOWrapper

_NAME = "cardgen.plain"
_WRITTEN = {
    "\u03a9": "ohm",
    "\u2126": "ohm",
    "\u00b0": "deg ",
    "\u00b7": "-",
    "\u2022": "-",
    "\u2013": "-",
    "\u2014": "-",
    "\u2212": "-",
    "\u2018": "'",
    "\u2019": "'",
    "\u2032": "'",
    "\u201c": '"',
    "\u201d": '"',
    "\u2033": '"',
    "\u2192": "->",
    "\u2190": "<-",
    "\u00d7": "x",
    "\u00b1": "+/-",
    "\u2264": "<=",
    "\u2265": ">=",
    "\u2248": "~",
    "\u2026": "...",
}


def plainly(streams: Iterable[object]) -> None:
    """Let these streams write what their code page lacks in letters that it has."""
    codecs.register_error(_NAME, _instead)
    for stream in streams:
        if isinstance(stream, TextIOWrapper):
            stream.reconfigure(errors=_NAME)


def _instead(error: UnicodeError) -> tuple[str, int]:
    if not isinstance(error, UnicodeEncodeError):
        raise error
    lacking = error.object[error.start : error.end]
    return "".join(map(_written, lacking)), error.end


def _written(character: str) -> str:
    """Its usual stand-in, the letter without its accent, or '?'."""
    if character in _WRITTEN:
        return _WRITTEN[character]
    letter = unicodedata.normalize("NFKD", character).encode("ascii", "ignore").decode()
    return letter or "?"
