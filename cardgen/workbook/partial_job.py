"""What the sheets of a workbook say of a job, which may be a part of it only."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from cardgen.job.job_loader import TOP
from cardgen.problems import Span
from cardgen.reading import nodes
from cardgen.reading.nodes import KeyValue, Node, Scalar
from cardgen.workbook.sheet_plans import sheet_plans

Path = tuple[str, ...]


@dataclass(slots=True, kw_only=True)
class PartialEntry:
    """Attributes:
    values: by the keys that lead to them; None where the cell is blank, so there is none.
    """

    key: Scalar
    values: dict[Path, Node | None] = field(default_factory=dict)


@dataclass(slots=True, kw_only=True)
class PartialSection:
    """Attributes:
    entries: by name.
    is_whole: whether what is not among them is none of the job's.
    """

    entries: dict[str, PartialEntry] = field(default_factory=dict)
    is_whole: bool = False


@dataclass(slots=True, kw_only=True)
class PartialJob:
    """Attributes:
    sections: those with named entries.
    values: the rest, by section and keys; None where it is said that there is none.
    """

    sections: dict[str, PartialSection] = field(default_factory=dict)
    values: dict[Path, Node | None] = field(default_factory=dict)

    def section(self, name: str) -> PartialSection:
        return self.sections.setdefault(name, PartialSection())


def merged(old: Node, partial: PartialJob, span: Span) -> nodes.Mapping:
    """The job with what the sheets say in its place, and all else as it was."""
    values = dict(partial.values)
    blocks = {path[0] for path in values}
    found: list[KeyValue] = []
    for key in _top_keys(old):
        value = _value(old, key)
        if key in partial.sections:
            value = _merged_section(value, partial.sections[key], key, span)
        elif key in blocks:
            own = {path[1:]: node for path, node in values.items() if path[0] == key}
            value = _put_all(value, own, span)
        if value is not None:
            found.append(KeyValue(_key(old, key, span), value))
    return nodes.Mapping(span, tuple(found))


def _top_keys(old: Node) -> list[str]:
    """Those of the file in their order, then what may be new in that of the table."""
    there = [entry.key.text for entry in _entries(old)]
    return [*there, *(field.key for field in TOP.fields if field.key not in there)]


def _merged_section(
    old: Node | None, partial: PartialSection, section: str, span: Span
) -> Node | None:
    before = {entry.key.text: entry for entry in _entries(old)}
    names = [name for name in before if name in partial.entries or not partial.is_whole]
    for name in partial.entries:
        if name not in before:
            names.insert(_place(name, names, list(partial.entries)), name)
    entries = []
    for name in names:
        said = partial.entries.get(name)
        value = before[name].value if name in before else None
        key = before[name].key if name in before else said.key if said else Scalar(span, name)
        if said is not None:
            value = _put_all(value, _spelled(said.values, value, section), said.key.span)
            key = said.key
        entries.append(KeyValue(key, value or nodes.Mapping(key.span, ())))
    if not entries and (old is None or not _entries(old)):
        return old
    return nodes.Mapping(old.span if old is not None else span, tuple(entries))


def _place(name: str, names: list[str], said: list[str]) -> int:
    """Behind the one that stands before it in the sheet."""
    before = (other for other in reversed(said[: said.index(name)]) if other in names)
    nearest = next(before, None)
    return names.index(nearest) + 1 if nearest is not None else len(names)


def _spelled(
    values: Mapping[Path, Node | None], old: Node | None, section: str
) -> dict[Path, Node | None]:
    """With the keys spelled as the file has them."""
    plans = [plan for plan in sheet_plans() if plan.section == section and not plan.key]
    british = {c.path: (*c.path[:-1], c.also) for p in plans for c in p.columns if c.also}
    there = {entry.key.text for entry in _entries(old)}
    return {
        british[path] if path in british and british[path][-1] in there else path: node
        for path, node in values.items()
    }


def _put_all(old: Node | None, values: Mapping[Path, Node | None], span: Span) -> Node | None:
    """The value with these in it; nothing where none is left."""
    node = old
    for path, value in values.items():
        node = _put(node, path, value, span)
    return node


def _put(old: Node | None, path: Path, value: Node | None, span: Span) -> Node | None:
    if not path:
        return value
    entries = list(_entries(old))
    index = next((n for n, e in enumerate(entries) if e.key.text == path[0]), len(entries))
    before = entries[index].value if index < len(entries) else None
    node = _put(before, path[1:], value, span)
    key = Scalar(span if value is None else value.span, path[0])
    entries[index : index + 1] = [] if node is None else [KeyValue(key, node)]
    return nodes.Mapping(old.span if old else span, tuple(entries)) if entries else None


def _entries(node: Node | None) -> tuple[KeyValue, ...]:
    return node.entries if isinstance(node, nodes.Mapping) else ()


def _value(node: Node | None, key: str) -> Node | None:
    return next((entry.value for entry in _entries(node) if entry.key.text == key), None)


def _key(node: Node, key: str, span: Span) -> Scalar:
    return next((e.key for e in _entries(node) if e.key.text == key), Scalar(span, key))
