"""Turn nodes into values by small typed readers, which also state themselves as JSON Schema.

A loader is a table of fields; the schema that editors use comes from the very same table.
"""

from __future__ import annotations

import difflib
import re
import unicodedata
from abc import ABC, abstractmethod
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from typing import Any, Generic, TypeVar

from cardgen.problems import Also, Place, Problem, Verdict
from cardgen.reading import nodes
from cardgen.reading.nodes import Node, Scalar, is_absent, kind_of, short

T = TypeVar("T")
Schema = dict[str, Any]

# An editor's YAML reader may take `8`, `no` or `1.5` for something else than text.
_ANY_SCALAR = ["string", "number", "boolean"]
LONGEST_TEXT = 200
ONE_VALUE = "write one value here, without brackets"


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
            expected(self.what, node, at, report, ONE_VALUE)
            return None
        if len(node.text) > LONGEST_TEXT:
            sentence = f"this text has {len(node.text)} letters, more than {LONGEST_TEXT}"
            report.error(node.place, "too-long", sentence, "say it in fewer words")
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
        ways = f"write a number from {self.least} to {self.most}, without a unit"
        if not re.fullmatch("-?[0-9]+", text):
            raise Misread(f"{self.what} is a whole number, not '{short(text)}'", ways)
        if not re.fullmatch("[0-9]{1,9}", text) or not self.least <= int(text) <= self.most:
            raise Misread(f"{self.what} cannot be {short(text)}", ways, "out-of-range")
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
        code = "unknown-word" if isinstance(node, Scalar) and text else "wrong-type"
        expected(self.what, node, at, report, f"write {either(self.words)}", code)
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
    """A list.

    Attributes:
        what: one such list, in a sentence: 'a list of boxes'.
        example: how one is written, with its brackets.
        single: one value without brackets is a list of one.
        least: how many there are at least.
        section: a whole section of a file, which may stay empty after its colon.
    """

    def __init__(
        self,
        inner: Shape[T],
        *,
        what: str,
        example: str = "[one, two]",
        single: bool = False,
        least: int = 1,
        section: bool = False,
    ) -> None:
        self.inner, self.what, self.example = inner, what, example
        self.single, self.least, self.section = single, least, section

    def read(self, node: Node, at: Place, report: Report) -> tuple[T, ...] | None:
        if is_absent(node) and self.section:
            return ()
        if self.single and not isinstance(node, nodes.Sequence) and not is_absent(node):
            one = self.inner.read(node, at, report)
            return None if one is None else (one,)
        if self._lacks_brackets(node):
            sentence = f"{self.what} has brackets within brackets"
            report.error(node.place, "wrong-type", sentence, f"for example {self.example}")
            return None
        if not isinstance(node, nodes.Sequence):
            expected(self.what, node, at, report, f"for example {self.example}")
            return None
        read = [self.inner.read(item, node.place, report) for item in node.items]
        values = tuple(value for value in read if value is not None)
        if len(read) < self.least:
            sentence = f"{self.what} has {self.least} or more things in it, not {len(read)}"
            report.error(node.place, "too-few", sentence, f"for example {self.example}")
            return None
        return values if len(values) == len(read) else None

    def _lacks_brackets(self, node: Node) -> bool:
        """A list where a list of lists is meant: one fault, not one for each thing in it."""
        if not isinstance(node, nodes.Sequence):
            return False
        inner = self.inner.inner if isinstance(self.inner, SaidShape) else self.inner
        nested = isinstance(inner, ListOf) and not inner.single
        return nested and bool(node.items) and all(isinstance(i, Scalar) for i in node.items)

    def schema(self) -> Schema:
        array: Schema = {"type": "array", "items": self.inner.schema(), "minItems": self.least}
        if self.section:
            array["type"] = ["array", "null"]
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
        if not isinstance(node, nodes.Mapping) and not is_absent(node):
            keys = ", ".join(f"'{f.key}'" for f in self.fields[:4])
            more = " and so on" if len(self.fields) > 4 else ""
            sentence = (
                f"{self.what} consists of 'key: value' lines, but {kind_of(node)} stands here"
            )
            report.error(node.place, "wrong-type", sentence, f"the keys are {keys}{more}")
            return {}, False
        listed = node.entries if isinstance(node, nodes.Mapping) else ()
        entries = {entry.key.text: entry for entry in listed}
        meant = self._report_unknown(listed, report)
        values: dict[str, Any] = {}
        good = not meant
        for each in self.fields:
            entry = entries.get(each.key)
            if each.key in meant:
                values[each.attribute] = None
            elif entry is not None:
                values[each.attribute] = self._one(each, entry, report)
                good = good and values[each.attribute] is not None
            else:
                values[each.attribute] = each.default
                if each.required:
                    sentence = f"{self.what} has no '{each.key}'"
                    report.error(at, "missing", sentence, each.help)
                    good = False
        return values, good

    def _one(self, each: Field[Any], entry: nodes.Entry, report: Report) -> Any:
        before = len(report.problems)
        value = each.shape.read(entry.value, entry.key.place, report)
        if is_absent(entry.value) and len(report.problems) > before and each.help:
            # What the value should be is better said by the key than by its kind of value.
            del report.problems[before:]
            sentence = f"nothing stands after '{each.key}:'"
            report.error(entry.key.place, "wrong-type", sentence, each.help)
        for index, problem in enumerate(report.problems[before:], before):
            if problem.place == entry.value.place and problem.help == ONE_VALUE and each.help:
                report.problems[index] = replace(problem, help=each.help)
        return value

    def _report_unknown(self, entries: Iterable[nodes.Entry], report: Report) -> set[str]:
        """Report keys that are not known; the keys that are meant or harmed by them.

        Those are reported with it, so nothing more is said about them.
        """
        known = [f.key for f in self.fields]
        there = [entry.key.text for entry in entries]
        meant: set[str] = set()
        before: nodes.Entry | None = None
        for entry in entries:
            key = entry.key.text
            if key not in known:
                if before is not None and _split_by_comma(before, entry):
                    _report_comma(before, entry, report)
                    meant.add(before.key.text)
                else:
                    _report_key(self.what, entry, known, report)
                    meant.add(nearest_one(key, [k for k in known if k not in there]) or key)
            before = entry
        return meant

    def schema(self) -> Schema:
        properties = {f.key: _with_help(f) for f in self.fields}
        required = [f.key for f in self.fields if f.required]
        schema: Schema = {
            "type": "object" if required else ["object", "null"],
            "properties": properties,
            "additionalProperties": False,
        }
        return {**schema, "required": required} if required else schema


def _split_by_comma(before: nodes.Entry, entry: nodes.Entry) -> bool:
    """`{area: lawn, west}`: what follows the comma stands alone, in the same line."""
    same_line = before.key.place.line == entry.key.place.line
    return same_line and is_absent(entry.value) and isinstance(before.value, Scalar)


def _report_comma(before: nodes.Entry, entry: nodes.Entry, report: Report) -> None:
    first = before.value.text if isinstance(before.value, Scalar) else ""
    last = entry.key.text
    if re.fullmatch("[0-9]+", first) and re.match("[0-9]", last):
        sentence = f"the comma splits '{first},{short(last)}' in two"
        help_ = f"write a point: '{first}.{short(last)}'"
        report.error(before.value.place, "comma", sentence, help_)
    else:
        sentence = f"'{short(last)}' stands alone after a comma"
        help_ = f"put the whole value in quotes: '{short(first)}, {short(last)}'"
        report.error(entry.key.place, "comma", sentence, help_)


def _report_key(what: str, entry: nodes.Entry, known: list[str], report: Report) -> None:
    help_ = nearest(entry.key.text, known) or "it has " + ", ".join(f"'{k}'" for k in known)
    if entry.key.text == "<<":
        help_ = "write the keys out; merging is not part of a job file"
    sentence = f"{what} has no key '{short(entry.key.text)}'"
    report.error(entry.key.place, "unknown-key", sentence, help_)


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
            sentence = f"{self.what} consists of 'name: ...' lines, but {kind_of(node)} stands here"
            help_ = "give each its own line, which starts with its name"
            report.error(node.place, "wrong-type", sentence, help_)
            return None
        found: dict[str, T] = {}
        for entry in node.entries:
            place = entry.key.place
            name = self.id_shape.read(entry.key, place, report)
            values = self.record.values(entry.value, place, report)
            if name is None or values is None:
                report.broken.update((entry.key.text, *self._names_within(entry.value)))
            else:
                found[name] = self.record.build(id=name, place=place, **values)
        return found

    def _names_within(self, node: Node) -> Iterator[str]:
        """The names that an entry gives to things in it: the valves of a station."""
        tables = {f.key for f in self.record.fields if isinstance(f.shape, TableOf)}
        for entry in node.entries if isinstance(node, nodes.Mapping) else ():
            if entry.key.text in tables and isinstance(entry.value, nodes.Mapping):
                yield from (inner.key.text for inner in entry.value.entries)

    def schema(self) -> Schema:
        return {
            "type": ["object", "null"],
            "propertyNames": {"pattern": f"^{self.id_shape.pattern}$"},
            "additionalProperties": self.record.schema(),
        }


def expected(
    what: str, node: Node, at: Place, report: Report, help_: str = "", code: str = "wrong-type"
) -> None:
    """Report that `what` should stand where something else or nothing does."""
    place = at if is_absent(node) else node.place
    sentence = f"{what} is expected, but {kind_of(node)} stands here"
    report.error(place, code, sentence, help_)


def either(words: Iterable[str]) -> str:
    """`'a', 'b' or 'c'`."""
    quoted = [f"'{word}'" for word in words]
    return " or ".join((", ".join(quoted[:-1]), quoted[-1])) if len(quoted) > 1 else quoted[0]


def nearest(word: str, known: Iterable[str]) -> str:
    """`did you mean 'gauge'?` for a near miss, else empty."""
    close = _nearest(word, known)
    return f"did you mean {either(close)}?" if 0 < len(close) < 4 else ""


def nearest_one(word: str, known: Iterable[str]) -> str:
    """What was meant, where there is no doubt about it, else empty."""
    close = _nearest(word, known)
    return close[0] if len(close) == 1 else ""


def _nearest(word: str, known: Iterable[str]) -> list[str]:
    """The known words that are nearest, all of them if several are equally near."""
    matcher = difflib.SequenceMatcher(b=word.lower()[:LONGEST_TEXT])
    ratios: dict[str, float] = {}
    for choice in known:
        matcher.set_seq1(choice.lower())
        if matcher.real_quick_ratio() >= 0.6 and matcher.quick_ratio() >= 0.6:
            ratios[choice] = matcher.ratio()
    best = max(ratios.values(), default=0.0)
    return [choice for choice, ratio in ratios.items() if ratio == best] if best >= 0.6 else []


def _parse_text(text: str) -> str:
    joined = " ".join(text.split())
    if not joined:
        raise Misread("a text is expected, but it is empty", "write something", "wrong-type")
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
                f"the name '{short(text)}' holds '{character}' ({title})",
                "it may look like a plain letter, blank or hyphen: type it anew",
                "look-alike-character",
            )
    raise Misread(f"'{short(text)}' cannot be a name", _name_help(text), "name")


def _name_help(text: str) -> str:
    plain = re.sub("[^A-Za-z0-9._-]+", "-", text).strip("-._")
    if re.fullmatch(_IDENTIFIER, plain):
        return f"write '{plain}': letters, digits, '-', '.' and '_' only"
    return "a name has up to 24 letters, digits, '-', '.' or '_' and starts with a letter or digit"


IDENTIFIER = Parsed("a name", _parse_identifier, _IDENTIFIER)
YES_NO = Choice("yes or no", {"yes": True, "no": False})
