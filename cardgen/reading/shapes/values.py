"""Turn one scalar into a value: parsed text, whole numbers, choices, with or without its place."""

from __future__ import annotations

import re
import unicodedata
from abc import ABC, abstractmethod
from collections.abc import Callable, Mapping
from typing import Any, Generic, TypeVar

from cardgen.faults.value_faults import (
    LOOK_ALIKE_CHARACTER,
    NAME,
    OUT_OF_RANGE,
    TOO_LONG,
    UNKNOWN_WORD,
    VALUE,
    WRONG_TYPE,
)
from cardgen.problems import Problem, Span
from cardgen.reading.nodes import Node, Scalar, Sequence, is_absent, short
from cardgen.reading.shapes.report import BadValue, Report, Written, expected
from cardgen.reading.shapes.spelling import either
from cardgen.units import NOT_KNOWN

T = TypeVar("T")
Schema = dict[str, Any]

# An editor's YAML reader may take `8`, `no` or `1.5` for something else than text.
_ANY_SCALAR = ["string", "number", "boolean"]
LONGEST_TEXT = 200
ONE_VALUE = "write one value here, without brackets"


class Shape(ABC, Generic[T]):
    """Reads one kind of value.  `read` returns None after reporting what is wrong."""

    @abstractmethod
    def read(self, node: Node, at: Span, report: Report) -> T | None: ...

    @abstractmethod
    def schema(self) -> Schema: ...


class Parsed(Shape[T]):
    """A scalar that `parse` understands; `pattern` says the same to editors."""

    def __init__(self, what: str, parse: Callable[[str], T], pattern: str = "") -> None:
        self.what, self.parse, self.pattern = what, parse, pattern

    def read(self, node: Node, at: Span, report: Report) -> T | None:
        if not isinstance(node, Scalar) or is_absent(node):
            report.add(expected(self.what, node, at, _bare(node) or ONE_VALUE))
            return None
        if len(node.text) > LONGEST_TEXT:
            report.add(TOO_LONG.at(node.span, count=len(node.text), most=LONGEST_TEXT))
            return None
        try:
            return self.parse(node.text)
        except BadValue as bad:
            report.add(self._with_a_sign(node) or bad.at(node.span))
            return None

    def _with_a_sign(self, node: Scalar) -> Problem | None:
        """`24 V AC,`: what would be read without the comma that ends it."""
        meant = node.text.rstrip(",;").rstrip()
        if meant == node.text:
            return None
        try:
            self.parse(meant)
        except BadValue:
            return None
        text = short(node.text)
        return VALUE.at(node.span, variant="trailing sign", text=text, meant=short(meant))

    def schema(self) -> Schema:
        if not self.pattern:
            return {"type": _ANY_SCALAR, "description": self.what}
        return {"type": "string", "pattern": f"^{self.pattern}$", "description": self.what}


def _bare(node: Node) -> str:
    """Of one value in brackets, how it is written without them; else empty."""
    items = node.items if isinstance(node, Sequence) else ()
    only = items[0] if len(items) == 1 else None
    return f"write '{short(only.text)}', without brackets" if isinstance(only, Scalar) else ""


class Whole(Parsed[int]):
    """A whole number without a unit (a count, a terminal, an address)."""

    def __init__(self, what: str, least: int, most: int) -> None:
        self.least, self.most = least, most
        super().__init__(what, self._parse)

    def _parse(self, text: str) -> int:
        values: dict[str, Any] = {
            "what": self.what,
            "text": short(text),
            "least": self.least,
            "most": self.most,
        }
        if not re.fullmatch("-?[0-9]+", text):
            meant = re.fullmatch(r"(?:[^\d.,-]*\s)?(\d+)(?:\.0+)?[,;]?(?:\s+[^\d]*)?", text)
            variant = "meant whole" if meant else "not whole"
            raise BadValue(VALUE, variant, meant=meant[1] if meant else "", **values)
        if not re.fullmatch("[0-9]{1,9}", text) or not self.least <= int(text) <= self.most:
            raise BadValue(OUT_OF_RANGE, "whole", **values)
        return int(text)

    def schema(self) -> Schema:
        return {"type": "integer", "minimum": self.least, "maximum": self.most}


class OneOf(Shape[T]):
    """One of a few words."""

    def __init__(self, what: str, words: Mapping[str, T]) -> None:
        self.what, self.words = what, dict(words)

    def read(self, node: Node, at: Span, report: Report) -> T | None:
        text = node.text if isinstance(node, Scalar) else ""
        if text.lower() in self.words:
            return self.words[text.lower()]
        if isinstance(node, Scalar) and text:
            words, word = either(self.words), short(text)
            report.add(UNKNOWN_WORD.at(node.span, what=self.what, words=words, word=word))
        else:
            report.add(expected(self.what, node, at, f"write {either(self.words)}"))
        return None

    def schema(self) -> Schema:
        words: list[object] = list(self.words)
        words += [{"yes": True, "no": False}[w] for w in self.words if w in ("yes", "no")]
        return {"enum": words}


class SaidShape(Shape[Written[T]]):
    """Keeps the place beside the value."""

    def __init__(self, inner: Shape[T]) -> None:
        self.inner = inner

    def read(self, node: Node, at: Span, report: Report) -> Written[T] | None:
        value = self.inner.read(node, at, report)
        span = at if is_absent(node) else node.span
        return None if value is None else Written(span, value)

    def schema(self) -> Schema:
        return self.inner.schema()


def says_not_known(node: Node) -> bool:
    return isinstance(node, Scalar) and _plain(node) == NOT_KNOWN


def _plain(node: Scalar) -> str:
    return " ".join(node.text.lower().replace("’", "'").split())


# What people write who mean it, in English and Spanish.
_MEANS_IT = frozenset(
    (
        *("unknown", "unk", "not-known", "notknown", "tbd", "?", "??", "not sure", "don't know"),
        *("desconocido", "desconocida", "no se sabe", "no sé", "no se conoce", "se desconoce"),
    )
)
_NO_VALUE = "n/a"  # of a license, say, that there is none


def means_not_known(node: Node, report: Report) -> bool:
    """Whether it says `unknown` or the like, which is told: it would be taken for a text."""
    if not isinstance(node, Scalar) or _plain(node) not in {*_MEANS_IT, _NO_VALUE}:
        return False
    report.add(VALUE.at(node.span, variant="unknown", text=short(node.text)))
    return True


def or_not_known(schema: Schema) -> Schema:
    return {"anyOf": [schema, {"const": NOT_KNOWN}]}


class OrNotKnown(Shape[Written[T | None]]):
    """A value with its place, or the words `not known`: then None is at that place."""

    def __init__(self, inner: Shape[T]) -> None:
        self.inner = inner

    def read(self, node: Node, at: Span, report: Report) -> Written[T | None] | None:
        if says_not_known(node):
            return Written(node.span, None)
        if self.inner is not MENTIONED_NAME and means_not_known(node, report):
            return None
        value = self.inner.read(node, at, report)
        return None if value is None else Written(node.span, value)

    def schema(self) -> Schema:
        return or_not_known(self.inner.schema())


def _parse_text(text: str) -> str:
    joined = " ".join(text.split())
    if not joined:
        raise BadValue(WRONG_TYPE, "no text")
    return unicodedata.normalize("NFC", joined)


TEXT = Parsed("a text", _parse_text)


class PrintedText(Shape[T]):
    """A value that is printed or published as it was typed: the report keeps where.

    That nobody knows it is no text: a field that may be unknown is asked before, another left out.

    `number_alone`: a number without a word is not looked at, for a label's own may have any shape.
    """

    def __init__(self, inner: Shape[T], *, number_alone: bool = False) -> None:
        self.inner, self.number_alone = inner, number_alone

    def read(self, node: Node, at: Span, report: Report) -> T | None:
        value = self.inner.read(node, at, report)
        if value is not None and isinstance(node, Scalar):
            if self.inner is TEXT and _plain(node) in {*_MEANS_IT, NOT_KNOWN}:
                report.add(VALUE.at(node.span, variant="says nothing", text=short(node.text)))
                return None
            text = _parse_text(node.text)
            if not self.number_alone or re.search(r"[^\W\d_]{3}", text):
                report.printed.append(Written(node.span, text))
        return value

    def schema(self) -> Schema:
        return self.inner.schema()


PRINTED_TEXT = PrintedText(TEXT)

_IDENTIFIER = r"[A-Za-z0-9][A-Za-z0-9._-]{0,23}"


def _parse_identifier(text: str) -> str:
    if re.fullmatch(_IDENTIFIER, text):
        return text
    for character in text:
        if not character.isascii():
            title = unicodedata.name(character, "an unknown character").lower()
            values = {"text": short(text), "character": character, "title": title}
            raise BadValue(LOOK_ALIKE_CHARACTER, **values)
    plain = re.sub("[^A-Za-z0-9._-]+", "-", text).strip("-._")
    if re.fullmatch(_IDENTIFIER, plain):
        raise BadValue(NAME, text=short(text), plain=plain)
    raise BadValue(NAME, "no letters", text=short(text))


def _parse_mentioned(text: str) -> str:
    """Of blanks and signs in it is told where it is seen whether a thing has that name."""
    if text.isascii() and re.search("[A-Za-z0-9]", text):
        return " ".join(text.split())
    return _parse_identifier(text)


IDENTIFIER = Parsed("a name", _parse_identifier, _IDENTIFIER)
MENTIONED_NAME = Parsed("a name", _parse_mentioned, _IDENTIFIER)
YES_NO = OneOf("this", {"yes": True, "no": False})
