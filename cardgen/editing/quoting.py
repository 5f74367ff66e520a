"""Write a text so that the reader of a job reads just this text, in quotes only where it must."""

from __future__ import annotations

import re

from cardgen.reading.files import untyped_characters

# With these a plain value would be something else: an anchor, a list, a remark, a block of text.
_BEGINS = re.compile(r"[,\[\]{}#&*!|>'\"%@`]|[-?:](?:\s|$)|---|\.\.\.")
_WITHIN = re.compile(r":(?:\s|$)|\s#|[\t\r\n]|^\s|\s$")
# There a colon may begin a value, or end a key before a bracket; '?' ends a value for some readers.
_WITHIN_BRACKETS = re.compile(r"[,\[\]{}?]|^:|:(?=[,\[\]{}])")
_SHORT_ESCAPES = {"\t": "\\t", "\n": "\\n", "\r": "\\r", '"': '\\"', "\\": "\\\\"}


def written(text: str, *, in_brackets: bool, quote: str, always: bool = False) -> str:
    """A value or key as it is written.

    Args:
        in_brackets: it stands in `{}` or `[]`, where a comma ends a value.
        quote: the one to take, where it takes one.
        always: in quotes although it needs none.
    """
    if _needs_escapes(text):
        return '"' + "".join(map(_escaped, text)) + '"'
    if not always and not needs_quotes(text, in_brackets=in_brackets):
        return text
    if quote == '"' and ('"' not in text and "\\" not in text):
        return f'"{text}"'
    if quote == '"' and (always or "'" in text):
        return '"' + "".join(map(_escaped, text)) + '"'
    return "'" + text.replace("'", "''") + "'"


def needs_quotes(text: str, *, in_brackets: bool) -> bool:
    """Without quotes the reader would read something else, or nothing."""
    if not text or _BEGINS.match(text) or _WITHIN.search(text):
        return True
    return in_brackets and bool(_WITHIN_BRACKETS.search(text))


def _needs_escapes(text: str) -> bool:
    return any(c in text for c in "\t\r\n") or any(untyped_characters(text, ""))


def _escaped(character: str) -> str:
    if character in _SHORT_ESCAPES:
        return _SHORT_ESCAPES[character]
    if character.isascii() and character.isprintable():
        return character
    if not any(untyped_characters(character, "")):
        return character
    code = ord(character)
    return f"\\x{code:02x}" if code < 0x100 else f"\\u{code:04x}"
