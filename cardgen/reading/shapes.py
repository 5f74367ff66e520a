"""Turn nodes into values by small typed readers, which also state themselves as JSON Schema.

A loader is a table of fields; the schema that editors use comes from the very same table.
"""

from __future__ import annotations

import difflib
import re
import unicodedata
from abc import ABC, abstractmethod
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any, Generic, TypeVar

from cardgen.problems import Also, Place, Problem, Verdict
from cardgen.reading import nodes
from cardgen.reading.nodes import Node, Scalar, is_absent, kind_of

T = TypeVar("T")
Schema = dict[str, Any]

# An editor's YAML reader may take `8`, `no` or `1.5` for something else than text.
_ANY_SCALAR = ["string", "number", "boolean"]
LONGEST_TEXT = 200


@dataclass(frozen=True, slots=True)
class Said(Generic[T]):
    """A value with the place where the file says it."""

    place: Place
    value: T


@dataclass(slots=True)
class Report:
    """Collects what is wrong while reading, and the ids whose entries could not be read.

    Later stages keep silent about anything in `broken`: it has been reported already.
    """

    problems: list[Problem] = field(default_factory=list)
    broken: set[str] = field(default_factory=set)

    def error(
        self, place: Place, code: str, sentence: str, help_: str = "", also: tuple[Also, ...] = ()
    ) -> None:
        self.problems.append(
            Problem(
                code=code,
                verdict=Verdict.ERROR,
                place=place,
                sentence=sentence,
                help=help_,
                also=also,
            )
        )


class Misread(Exception):
    """Raised inside a parser of one value; becomes a problem at the value's place."""

    def __init__(self, sentence: str, help_: str = "", code: str = "value") -> None:
        super().__init__(sentence)
        self.sentence, self.help, self.code = sentence, help_, code


class Shape(ABC, Generic[T]):
    """Reads one kind of value.  `read` returns None after reporting what is wrong."""

    @abstractmethod
    def read(self, node: Node, at: Place, report: Report) -> T | None: ...

    @abstractmethod
    def schema(self) -> Schema: ...


class Parsed(Shape[T]):
    """A scalar that `parse` understands; `pattern` says the same to editors."""

    def __init__(self, what: str, parse: Callable[[str], T], pattern: str = "") -> None:
        self.what, self.parse, self.pattern = what, parse, pattern

    def read(self, node: Node, at: Place, report: Report) -> T | None:
        if not isinstance(node, Scalar) or is_absent(node):
            place = at if is_absent(node) else node.place
            report.error(
                place, "wrong-type", f"{self.what} is expected, but {kind_of(node)} stands here"
            )
            return None
        try:
            return self.parse(node.text)
        except Misread as fault:
            report.error(node.place, fault.code, fault.sentence, fault.help)
            return None

    def schema(self) -> Schema:
        if not self.pattern:
            return {"type": _ANY_SCALAR, "description": self.what}
        return {"type": "string", "pattern": f"^{self.pattern}$", "description": self.what}


class Whole(Parsed[int]):
    """A whole number without a unit (a count, a terminal, an address)."""

    def __init__(self, what: str, least: int, most: int) -> None:
        self.least, self.most = least, most
        super().__init__(what, self._parse)

    def _parse(self, text: str) -> int:
        if not re.fullmatch(r"[0-9]{1,9}", text) or not self.least <= int(text) <= self.most:
            raise Misread(
                f"{self.what} is a whole number from {self.least} to {self.most}, not '{text}'"
            )
        return int(text)

    def schema(self) -> Schema:
        return {"type": "integer", "minimum": self.least, "maximum": self.most}


class Choice(Shape[T]):
    """One of a few words."""

    def __init__(self, what: str, words: Mapping[str, T]) -> None:
        self.what, self.words = what, dict(words)

    def read(self, node: Node, at: Place, report: Report) -> T | None:
        text = node.text if isinstance(node, Scalar) else ""
        if text.lower() in self.words:
            return self.words[text.lower()]
        known = ", ".join(f"'{word}'" for word in self.words)
        place = at if is_absent(node) else node.place
        report.error(
            place, "unknown-word", f"{self.what} is {kind_of(node)}", f"write one of {known}"
        )
        return None

    def schema(self) -> Schema:
        words: list[object] = list(self.words)
        words += [{"yes": True, "no": False}[w] for w in self.words if w in ("yes", "no")]
        return {"enum": words}


class SaidShape(Shape[Said[T]]):
    """Keeps the place beside the value."""

    def __init__(self, inner: Shape[T]) -> None:
        self.inner = inner

    def read(self, node: Node, at: Place, report: Report) -> Said[T] | None:
        value = self.inner.read(node, at, report)
        place = at if is_absent(node) else node.place
        return None if value is None else Said(place, value)

    def schema(self) -> Schema:
        return self.inner.schema()


class ListOf(Shape[tuple[T, ...]]):
    """A list; where `single` is set, one value without brackets is a list of one."""

    def __init__(self, inner: Shape[T], *, what: str, single: bool = False, least: int = 1) -> None:
        self.inner, self.what, self.single, self.least = inner, what, single, least

    def read(self, node: Node, at: Place, report: Report) -> tuple[T, ...] | None:
        if self.single and not isinstance(node, nodes.Sequence) and not is_absent(node):
            one = self.inner.read(node, at, report)
            return None if one is None else (one,)
        if not isinstance(node, nodes.Sequence):
            place = at if is_absent(node) else node.place
            report.error(
                place, "wrong-type", f"{self.what} is a list, but {kind_of(node)} stands here"
            )
            return None
        read = [self.inner.read(item, node.place, report) for item in node.items]
        values = tuple(value for value in read if value is not None)
        if len(read) < self.least:
            report.error(node.place, "too-few", f"{self.what} needs at least {self.least}")
            return None
        return values if len(values) == len(read) else None

    def schema(self) -> Schema:
        array: Schema = {"type": "array", "items": self.inner.schema(), "minItems": self.least}
        return {"anyOf": [self.inner.schema(), array]} if self.single else array


@dataclass(frozen=True, slots=True)
class Field(Generic[T]):
    """A key of a record.  The attribute is `into`, or the key with `_` for blanks.

    `default` stands where the key is left out; `help` is said to editors.
    """

    key: str
    shape: Shape[T]
    required: bool = False
    default: Any = None
    help: str = ""
    into: str = ""

    @property
    def attribute(self) -> str:
        return self.into or self.key.replace(" ", "_")


class Record(Shape[T]):
    """A block of known keys, handed to `build` as keywords, with the place of its name."""

    def __init__(self, what: str, build: Callable[..., T], *fields: Field[Any]) -> None:
        self.what, self.build, self.fields = what, build, fields

    def read(self, node: Node, at: Place, report: Report) -> T | None:
        values = self.values(node, at, report)
        return None if values is None else self.build(place=at, **values)

    def values(self, node: Node, at: Place, report: Report) -> dict[str, Any] | None:
        """The values by attribute, or None if any of them cannot be read."""
        values, good = self.readable(node, at, report)
        return values if good else None

    def readable(self, node: Node, at: Place, report: Report) -> tuple[dict[str, Any], bool]:
        """What can be read (None for what cannot), and whether that is all of it."""
        entries: dict[str, nodes.Entry] = {}
        if isinstance(node, nodes.Mapping):
            entries = {entry.key.text: entry for entry in node.entries}
        elif not is_absent(node):
            keys = ", ".join(f.key for f in self.fields[:4])
            report.error(
                node.place,
                "wrong-type",
                f"{self.what} is a block of 'key: value' lines, but {kind_of(node)} stands here",
                f"it has the keys {keys} ..."
                if len(self.fields) > 4
                else f"it has the keys {keys}",
            )
            return {}, False
        good = self._only_known(entries.values(), report)
        values: dict[str, Any] = {}
        for each in self.fields:
            entry = entries.get(each.key)
            if entry is None:
                values[each.attribute] = each.default
                if each.required:
                    report.error(at, "missing", f"{self.what} has no '{each.key}'", each.help)
                    good = False
                continue
            values[each.attribute] = each.shape.read(entry.value, entry.key.place, report)
            good = good and values[each.attribute] is not None
        return values, good

    def _only_known(self, entries: Iterable[nodes.Entry], report: Report) -> bool:
        known = [f.key for f in self.fields]
        good = True
        for entry in entries:
            if entry.key.text not in known:
                help_ = nearest(entry.key.text, known)
                if entry.key.text == "<<":
                    help_ = "write the keys out; merging is not part of a job file"
                report.error(
                    entry.key.place,
                    "unknown-key",
                    f"{self.what} has no key '{entry.key.text}'",
                    help_ or "it has " + ", ".join(f"'{k}'" for k in known),
                )
                good = False
        return good

    def schema(self) -> Schema:
        properties = {f.key: _with_help(f) for f in self.fields}
        required = [f.key for f in self.fields if f.required]
        schema: Schema = {
            "type": "object" if required else ["object", "null"],
            "properties": properties,
            "additionalProperties": False,
        }
        return {**schema, "required": required} if required else schema


def _with_help(each: Field[Any]) -> Schema:
    schema = each.shape.schema()
    return {**schema, "description": each.help} if each.help else schema


class TableOf(Shape[dict[str, T]]):
    """Blocks by id, in the order of the file; `record.build` also gets `id`.

    An entry that cannot be read is left out, and its id goes to `report.broken`.
    """

    def __init__(self, what: str, id_shape: Parsed[str], record: Record[T]) -> None:
        self.what, self.id_shape, self.record = what, id_shape, record

    def read(self, node: Node, at: Place, report: Report) -> dict[str, T] | None:
        if is_absent(node):
            return {}
        if not isinstance(node, nodes.Mapping):
            report.error(
                node.place,
                "wrong-type",
                f"{self.what} are 'name: ...' lines, but {kind_of(node)} stands here",
            )
            return None
        found: dict[str, T] = {}
        for entry in node.entries:
            place = entry.key.place
            name = self.id_shape.read(entry.key, place, report)
            values = self.record.values(entry.value, place, report)
            if name is None or values is None:
                report.broken.add(entry.key.text)
            else:
                found[name] = self.record.build(id=name, place=place, **values)
        return found

    def schema(self) -> Schema:
        return {
            "type": ["object", "null"],
            "propertyNames": {"pattern": f"^{self.id_shape.pattern}$"},
            "additionalProperties": self.record.schema(),
        }


def nearest(word: str, known: Iterable[str]) -> str:
    """`did you mean 'gauge'?` for a near miss, else empty."""
    choices = list(known)
    folded = {choice.lower(): choice for choice in reversed(choices)}
    close = difflib.get_close_matches(word.lower(), list(folded), n=1, cutoff=0.6)
    return f"did you mean '{folded[close[0]]}'?" if close else ""


def _parse_text(text: str) -> str:
    joined = " ".join(text.split())
    if not joined:
        raise Misread("a text is expected, but it is empty", code="wrong-type")
    if len(joined) > LONGEST_TEXT:
        raise Misread(f"this text has {len(joined)} letters, more than {LONGEST_TEXT}")
    return unicodedata.normalize("NFC", joined)


TEXT = Parsed("a text", _parse_text)

_IDENTIFIER = r"[A-Za-z0-9][A-Za-z0-9._-]{0,23}"


def _parse_identifier(text: str) -> str:
    if re.fullmatch(_IDENTIFIER, text):
        return text
    for character in text:
        if not character.isascii():
            title = unicodedata.name(character, "an unknown character").lower()
            raise Misread(
                f"the name '{text}' holds '{character}' ({title})",
                "it may look like a plain letter or hyphen: type it anew",
                "look-alike-character",
            )
    raise Misread(
        f"'{text}' is no name",
        "a name has up to 24 letters, digits, '-', '.' or '_', starts with a letter or digit "
        "and has no blanks",
        "name",
    )


IDENTIFIER = Parsed("a name", _parse_identifier, _IDENTIFIER)
YES_NO = Choice("this", {"yes": True, "no": False})
