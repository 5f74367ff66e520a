"""The text of a job as a tree in which every character has its place, so that none gets lost."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import TypeAlias

LINE_END = re.compile("\r\n|[\r\n]")


@dataclass(slots=True, eq=False, kw_only=True)
class ScalarText:
    """One value as it is written.

    Attributes:
        raw: with its quotes and its anchor; empty where nothing stands after the colon.
        text: what it says.
        style: its quote, `|`, `>`, or empty.
        marks: the beginning of `raw` that is an anchor or tag.
        repeats: how often a `*` elsewhere repeats it.
    """

    raw: str
    text: str
    style: str = ""
    marks: str = ""
    repeats: int = 0


@dataclass(slots=True, eq=False, kw_only=True)
class AliasText:
    """`*name`: what stands at the anchor once more."""

    raw: str
    anchored: ScalarText | BlockText


@dataclass(slots=True, eq=False, kw_only=True)
class EntryText:
    """A key with its value, or one item of a list.

    Attributes:
        lead: what stands before it: remarks, blank lines, indentation, in brackets blanks.
        raw_key: as it is written; `-` for an item of a list in lines, empty for one in brackets.
        gap: the colon, and what else stands before the value.
        tail: in lines the rest of the line after the value, with its end; in brackets the comma
            with what stands before it. Empty for a value that is itself a block of lines.
    """

    lead: str
    raw_key: str
    key: str
    gap: str
    value: NodeText
    tail: str


@dataclass(slots=True, eq=False, kw_only=True)
class BlockText:
    """A mapping or a list.

    Attributes:
        is_flow: in braces or brackets.
        is_bare: `[a: b]`, a mapping in brackets without braces of its own.
        is_inline: its first entry begins in the middle of a line, as in `- color: red`.
        indent: of its entries, where they are lines.
        opening: anchor and bracket.
        closing: what stands before the last bracket, and the bracket.
        repeats: how often a `*` elsewhere repeats it.
    """

    is_mapping: bool
    is_flow: bool
    is_bare: bool = False
    is_inline: bool = False
    indent: str = ""
    opening: str = ""
    entries: list[EntryText] = field(default_factory=list)
    by_key: dict[str, EntryText] = field(default_factory=dict)
    closing: str = ""
    repeats: int = 0

    @property
    def has_lines(self) -> bool:
        """Its entries end their own lines."""
        return not self.is_flow and bool(self.entries)


NodeText: TypeAlias = ScalarText | AliasText | BlockText


@dataclass(slots=True, eq=False, kw_only=True)
class TextTree:
    """A whole text.

    Attributes:
        line_end: what ends its first line, for lines that are added.
        quote: the quote that it uses most.
        step: by how much its blocks are indented.
    """

    head: str
    root: BlockText
    tail: str
    line_end: str
    quote: str
    step: str

    def text(self) -> str:
        return "".join((self.head, *pieces(self.root), self.tail))


def pieces(node: NodeText) -> Iterator[str]:
    """The text of a node, piece by piece."""
    if not isinstance(node, BlockText):
        yield node.raw
        return
    yield node.opening
    for entry in node.entries:
        yield entry.lead
        yield entry.raw_key
        yield entry.gap
        yield from pieces(entry.value)
        yield entry.tail
    yield node.closing


_MARKS = re.compile(r"(?:[&!]\S*\s*)*")


def marks_of(node: NodeText) -> str:
    """The anchor or tag with which it begins."""
    if isinstance(node, AliasText):
        return ""
    if isinstance(node, ScalarText):
        return node.marks
    found = _MARKS.match(node.opening)
    return found[0] if found else ""


def is_written_empty(node: NodeText) -> bool:
    """Nothing after the colon, `{}` or `[]`: what a first entry can be put into."""
    if isinstance(node, ScalarText):
        return not node.text and not node.style
    return isinstance(node, BlockText) and not node.entries and "#" not in node.closing


def last_entry(entry: EntryText) -> EntryText:
    """The entry whose tail ends the lines of this one: itself, or the last one in its value."""
    while isinstance(entry.value, BlockText) and entry.value.has_lines:
        entry = entry.value.entries[-1]
    return entry


def first_line(text: str) -> tuple[str, str]:
    """A text to the end of its first line, and the rest."""
    end = LINE_END.search(text)
    return (text[: end.end()], text[end.end() :]) if end else (text, "")


def nodes_in(node: NodeText) -> Iterator[NodeText]:
    """A node and all within it."""
    yield node
    if isinstance(node, BlockText):
        for entry in node.entries:
            yield from nodes_in(entry.value)
