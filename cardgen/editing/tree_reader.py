"""Turn the text of a job into a tree of everything that stands in it."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator

from cardgen.editing.text_changes import CannotEdit
from cardgen.editing.text_tree import (
    LINE_END,
    AliasText,
    BlockText,
    EntryText,
    NodeText,
    ScalarText,
    TextTree,
    first_line,
)
from cardgen.reading.parse import TextPart, text_parts

_TRIVIA = r"(?:[ \t\r\n]+|#[^\r\n]*)*"
_BEFORE = re.compile(_TRIVIA)
_COLON = re.compile(_TRIVIA + ":")
_COMMA = re.compile(_TRIVIA + ",")
_MARKS = re.compile(rf"(?:[&!][^\s,\[\]{{}}]*{_TRIVIA})*")
_REST_OF_LINE = re.compile(r"[ \t]*(?:#[^\r\n]*)?(?:\r\n|\r|\n|\Z)")
_BY_HAND = "change this place by hand, with a text editor"
USUAL_STEP = "  "


def tree_of(text: str) -> TextTree:
    """The tree of a text in which `parse` finds no problem, or of one with remarks only."""
    return _TreeReader(text).tree()


class _TreeReader:
    """Reads part by part; `self.at` is where the last one ended."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.parts: Iterator[TextPart] = text_parts(text)
        self.anchors: dict[str, ScalarText | BlockText] = {}
        self.quotes: Counter[str] = Counter()
        self.at = 0

    def tree(self) -> TextTree:
        part = next(self.parts, None)
        head = ""
        if part is None or (part.kind == "scalar" and part.begin == part.end):
            root: NodeText = BlockText(is_mapping=True, is_flow=False)
            head, self.at = self.text, len(self.text)
        elif part.style == "flow" or part.marked or part.kind != "mapping":
            head, self.at = self.text[: part.begin], part.begin
            root = self.node(part, part.begin)
        else:
            root = self.node(part, 0)
        if not isinstance(root, BlockText):
            raise CannotEdit("the file is one value, not a block of 'key: value' lines", _BY_HAND)
        end = LINE_END.search(self.text)
        return TextTree(
            head=head,
            root=root,
            tail=self.text[self.at :],
            line_end=end[0] if end else "\n",
            quote="'" if self.quotes["'"] > self.quotes['"'] else '"',
            step=_step(root),
        )

    def node(self, part: TextPart, begin: int) -> NodeText:
        """What begins with that part.

        Args:
            begin: where its text begins; of a block of lines where its first lead does, of nothing
                where it would.
        """
        if part.kind == "alias":
            self.at = part.end
            anchored = self.anchors[part.anchor]
            anchored.repeats += 1
            return AliasText(raw=self.text[part.begin : part.end], anchored=anchored)
        if part.kind == "scalar":
            node: ScalarText | BlockText = self.scalar(part, begin)
        elif part.style == "flow":
            node = self.flow(part)
        else:
            node = self.lines(part, begin)
        if part.anchor:
            self.anchors[part.anchor] = node
        return node

    def scalar(self, part: TextPart, begin: int) -> ScalarText:
        raw = self.text[part.begin : part.end]  # empty: elsewhere than it begins
        marks = self.marks(part) if part.marked else ""
        if part.style in ("|", ">"):
            header = first_line(raw[len(marks) :])[0]
            # With '+' blank lines at its end are its own; else they are only blank lines.
            ends = LINE_END.findall(raw[len(raw.rstrip("\r\n")) :])
            if "+" in header.partition("#")[0]:
                ends = ends[-1:]
            raw = raw[: len(raw) - sum(map(len, ends))]
        elif part.style:
            self.quotes[part.style] += 1
        self.at = begin + len(raw)
        return ScalarText(raw=raw, text=part.text, style=part.style, marks=marks)

    def marks(self, part: TextPart) -> str:
        found = _MARKS.match(self.text, part.begin, part.end)
        return found[0] if found else ""

    def flow(self, part: TextPart) -> BlockText:
        begin = part.begin + len(self.marks(part))
        is_bare = part.kind == "mapping" and self.text[begin : begin + 1] != "{"
        self.at = begin if is_bare else begin + 1
        block = BlockText(
            is_mapping=part.kind == "mapping",
            is_flow=True,
            is_bare=is_bare,
            opening=self.text[part.begin : self.at],
        )
        for first in self.parts:
            if first.kind == "end":
                if not is_bare:
                    block.closing, self.at = self.text[self.at : first.end], first.end
                break
            entry = self.entry(first, block)
            comma = None if is_bare else _COMMA.match(self.text, self.at)
            if comma:
                entry.tail, self.at = comma[0], comma.end()
        return block

    def lines(self, part: TextPart, begin: int) -> BlockText:
        marks = self.marks(part) if part.marked else ""
        first = part.begin + len(marks)
        opening = ""
        if marks:
            opening = first_line(self.text[part.begin : first])[0]
            begin = part.begin + len(opening)
        column = len(LINE_END.split(marks)[-1]) if marks else part.column
        block = BlockText(
            is_mapping=part.kind == "mapping",
            is_flow=False,
            is_inline=begin == first and self.text[begin - 1 : begin] not in ("", "\r", "\n"),
            indent=" " * column,
            opening=opening,
        )
        self.at = begin
        for child in self.parts:
            if child.kind == "end":
                break
            entry = self.entry(child, block)
            if not (isinstance(entry.value, BlockText) and entry.value.has_lines):
                rest = _REST_OF_LINE.match(self.text, self.at)
                assert rest is not None  # in lines, nothing but a remark follows a value
                entry.tail, self.at = rest[0], rest.end()
        return block

    def entry(self, first: TextPart, block: BlockText) -> EntryText:
        """A key with its value, or an item, of which `first` is the first part."""
        before, key = self.at, ""
        begin = self.begin_of(first, block)
        if block.is_mapping:
            key_node = self.node(first, first.begin)
            scalar = key_node.anchored if isinstance(key_node, AliasText) else key_node
            assert isinstance(scalar, ScalarText)  # the reader has no other keys
            key = scalar.text
        else:
            self.at = begin if block.is_flow else begin + 1
        value_part = next(self.parts) if block.is_mapping else first
        key_end = self.at
        value_begin = self.value_begin(value_part, block)
        entry = EntryText(
            lead=self.text[before:begin],
            raw_key=self.text[begin:key_end],
            key=key,
            gap=self.text[key_end:value_begin],
            value=self.node(value_part, value_begin),
            tail="",
        )
        block.entries.append(entry)
        if block.is_mapping:
            block.by_key[key] = entry
        return entry

    def begin_of(self, first: TextPart, block: BlockText) -> int:
        """Where an entry begins; the first in a file also has what stands before the document."""
        found = _BEFORE.match(self.text, self.at)
        assert found is not None  # it matches nothing, too
        is_top = self.at == 0 and not block.entries
        is_key = block.is_mapping or block.is_flow
        begin = first.begin if is_key else found.end()
        before = self.text[max(0, begin - 2) : begin]
        if before in ("? ", "?\t") if is_top else begin != found.end():
            raise CannotEdit("a key after '?' cannot be edited", "write it as 'key: value'")
        return begin

    def value_begin(self, part: TextPart, block: BlockText) -> int:
        """Where a value begins; a block of lines begins after the line of its key."""
        if part.kind == "scalar" and part.begin == part.end:
            colon = _COLON.match(self.text, self.at) if block.is_mapping else None
            return colon.end() if colon else self.at
        if part.kind in ("scalar", "alias") or part.style == "flow" or part.marked:
            return part.begin
        return self.at + len(first_line(self.text[self.at : part.begin])[0])


def _step(root: BlockText) -> str:
    """By how much the first block in lines is indented."""
    for entry in root.entries:
        if isinstance(entry.value, BlockText) and entry.value.has_lines and entry.value.indent:
            return entry.value.indent
    return USUAL_STEP
