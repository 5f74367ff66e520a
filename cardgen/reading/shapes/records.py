"""Turn blocks of known keys into objects, one by one or by their names."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from typing import Any, Generic, TypeVar

from cardgen.faults.value_faults import MISSING, WRONG_TYPE
from cardgen.light_dataclass import dataclass, replace
from cardgen.problems import Span
from cardgen.reading import nodes
from cardgen.reading.nodes import Node, is_absent, kind_of
from cardgen.reading.shapes.lists import ListOf
from cardgen.reading.shapes.report import Report
from cardgen.reading.shapes.unknown import report_unknown
from cardgen.reading.shapes.values import (
    ONE_VALUE,
    TEXT,
    Schema,
    Shape,
    means_not_known,
    or_not_known,
    says_not_known,
)

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Field(Generic[T]):
    """A key of a record.  The attribute is `into`, or the key with `_` for spaces.

    `default` is the value where the key is left out; `help` is shown by editors; `also` is the
    British spelling of the key, understood in its place.  One that `may_be_unknown` is None where
    the file says `not known`.
    """

    key: str
    shape: Shape[T]
    required: bool = False
    default: Any = None
    help: str = ""
    into: str = ""
    also: str = ""
    may_be_unknown: bool = False

    @property
    def attribute(self) -> str:
        return self.into or self.key.replace(" ", "_")

    def is_unknown(self, node: Node) -> bool:
        return self.may_be_unknown and says_not_known(node)


class BlockShape(Shape[T]):
    """A block of known keys, handed to `build` as keywords, with the place of its name."""

    def __init__(self, what: str, build: Callable[..., T], *fields: Field[Any]) -> None:
        self.what, self.build, self.fields = what, build, fields
        self._known = [f.key for f in fields]
        self._british = [f for f in fields if f.also]
        self._lists = [f.key for f in fields if isinstance(f.shape, ListOf)]
        self._defaults = {f.attribute: f.default for f in fields}

    def read(self, node: Node, at: Span, report: Report) -> T | None:
        values = self.values(node, at, report)
        return None if values is None else self.build(span=at, **values)

    def values(self, node: Node, at: Span, report: Report) -> dict[str, Any] | None:
        """The values by attribute, or None if any of them cannot be read."""
        values, good = self.readable(node, at, report)
        return values if good else None

    def readable(self, node: Node, at: Span, report: Report) -> tuple[dict[str, Any], bool]:
        """What can be read (None for what cannot), and whether that is all of it."""
        if not isinstance(node, nodes.Mapping) and not is_absent(node):
            keys = ", ".join(f"'{f.key}'" for f in self.fields[:4])
            more = " and so on" if len(self.fields) > 4 else ""
            report.add(
                WRONG_TYPE.at(
                    node.span,
                    variant="keys",
                    what=self.what,
                    found=kind_of(node),
                    keys=keys + more,
                )
            )
            return {}, False
        listed = node.entries if isinstance(node, nodes.Mapping) else ()
        entries = {entry.key.text: entry for entry in listed}
        spelled = [f for f in self._british if f.also in entries and f.key not in entries]
        entries |= {f.key: entries[f.also] for f in spelled}
        known = self._known + [f.also for f in spelled]
        meant = report_unknown(self.what, known, listed, report, self._lists)
        values = dict(self._defaults)
        good = not meant
        for each in self.fields:
            entry = entries.get(each.key)
            if each.key in meant or (entry is not None and each.is_unknown(entry.value)):
                values[each.attribute] = None
            elif entry and each.may_be_unknown and means_not_known(entry.value, report):
                good = False
            elif entry is not None:
                value = values[each.attribute] = self._one(each, entry, report)
                good = good and value is not None
            elif each.required:
                report.add(MISSING.at(at, what=self.what, key=each.key, example=each.help))
                good = False
        return values, good

    def _one(self, each: Field[Any], entry: nodes.KeyValue, report: Report) -> Any:
        before = len(report.problems)
        value = each.shape.read(entry.value, entry.key.span, report)
        if len(report.problems) == before:
            return value
        if is_absent(entry.value) and each.help:
            # What the value should be is better said by the key than by its kind of value.
            del report.problems[before:]
            report.add(
                WRONG_TYPE.at(entry.key.span, variant="nothing", key=each.key, example=each.help)
            )
        for index, problem in enumerate(report.problems[before:], before):
            if problem.span == entry.value.span and problem.help == ONE_VALUE and each.help:
                report.problems[index] = replace(problem, help=each.help)
        return value

    def schema(self) -> Schema:
        properties = {name: _with_help(f) for f in self.fields for name in (f.key, f.also) if name}
        required = [f.key for f in self.fields if f.required and not f.also]
        either = [
            {"oneOf": [{"required": [f.key]}, {"required": [f.also]}]}
            for f in self.fields
            if f.required and f.also
        ]
        schema: Schema = {
            "type": "object" if required or either else ["object", "null"],
            "properties": properties,
            "additionalProperties": False,
        }
        schema |= {"required": required} if required else {}
        return schema | ({"allOf": either} if either else {})


def _with_help(each: Field[Any]) -> Schema:
    schema = each.shape.schema()
    if each.may_be_unknown:
        schema = or_not_known(schema)
    return {**schema, "description": each.help} if each.help else schema


class TableOf(Shape[dict[str, T]]):
    """Blocks by id, in the order of the file; `record.build` also gets `id`.

    An entry that cannot be read is left out, and its id goes to `report.reported`.
    """

    def __init__(self, what: str, id_shape: Shape[str], record: BlockShape[T]) -> None:
        self.what, self.id_shape, self.record = what, id_shape, record

    def read(self, node: Node, at: Span, report: Report) -> dict[str, T] | None:
        if is_absent(node):
            return {}
        if not isinstance(node, nodes.Mapping):
            report.add(
                WRONG_TYPE.at(node.span, variant="names", what=self.what, found=kind_of(node))
            )
            return None
        found: dict[str, T] = {}
        moved = self._moved_keys(node.entries, report)
        for entry in node.entries:
            if entry.key.text in moved:
                continue
            span = entry.key.span
            name = self.id_shape.read(entry.key, span, report)
            values = self.record.values(entry.value, span, report)
            if name is None or values is None:
                report.reported.update((entry.key.text, *self._names_within(entry.value)))
            else:
                found[name] = self.record.build(id=name, span=span, **values)
        return found

    def _moved_keys(self, entries: Iterable[nodes.KeyValue], report: Report) -> set[str]:
        """Keys in the column of the name to which they belong, with that name, which is told."""
        keys = {f.key for f in self.record.fields}
        moved: set[str] = set()
        owner: nodes.KeyValue | None = None
        for entry in entries:
            is_key = entry.key.text in keys and not isinstance(entry.value, nodes.Mapping)
            if owner is None or not is_key:
                owner = entry if is_absent(entry.value) else None
                continue
            if owner.key.text not in moved:
                span, key, name = entry.key.span, entry.key.text, owner.key.text
                report.add(WRONG_TYPE.at(span, variant="same column", key=key, owner=name))
            moved |= {owner.key.text, entry.key.text}
            report.reported.add(owner.key.text)
        return moved

    def _names_within(self, node: Node) -> Iterator[str]:
        """The names that an entry gives to things in it: the valves of a station."""
        tables = {f.key for f in self.record.fields if isinstance(f.shape, TableOf)}
        for entry in node.entries if isinstance(node, nodes.Mapping) else ():
            if entry.key.text in tables and isinstance(entry.value, nodes.Mapping):
                yield from (inner.key.text for inner in entry.value.entries)

    def schema(self) -> Schema:
        return {
            "type": ["object", "null"],
            "propertyNames": {"pattern": self.id_shape.schema()["pattern"]},
            "additionalProperties": self.record.schema(),
        }


class TextsByHeading(Shape[dict[str, str]]):
    """Texts under headings that the user chose."""

    def __init__(self, what: str) -> None:
        self.what = what

    def read(self, node: Node, at: Span, report: Report) -> dict[str, str] | None:
        if not isinstance(node, nodes.Mapping):
            report.add(
                WRONG_TYPE.at(node.span, variant="names", what=self.what, found=kind_of(node))
            )
            return None
        read = [
            (TEXT.read(key, key.span, report), TEXT.read(value, key.span, report))
            for key, value in node.entries
        ]
        texts = {heading: text for heading, text in read if heading and text}
        return texts if len(texts) == len(read) else None

    def schema(self) -> Schema:
        return {"type": "object", "additionalProperties": TEXT.schema()}
