"""Write a value that is new in a text, in the style of what stands beside it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from cardgen.editing.quoting import written
from cardgen.editing.text_changes import Value
from cardgen.editing.text_tree import (
    LINE_END,
    BlockText,
    EntryText,
    NodeText,
    ScalarText,
    TextTree,
    first_line,
    last_entry,
    pieces,
)

WIDEST = 100  # columns of a line that holds several values
_NEAR = 8  # entries on each side that are looked at for their style


class NewText:
    """Makes the nodes of one place.

    Attributes:
        always: the quote of the keys beside it, as in JSON, which its own take as well.
    """

    def __init__(self, tree: TextTree, always: str) -> None:
        self.tree, self.always = tree, always

    def scalar(self, text: str, *, in_brackets: bool, quote: str = "", marks: str = "") -> NodeText:
        quote = quote if quote in ("'", '"') else self.tree.quote
        raw = self.raw(text, in_brackets=in_brackets, quote=quote)
        return ScalarText(raw=marks + raw, text=text, style=raw[0] if raw[0] in "'\"" else "")

    def raw(self, text: str, *, in_brackets: bool, quote: str) -> str:
        always = bool(self.always)
        return written(text, in_brackets=in_brackets, quote=self.always or quote, always=always)

    def key(self, text: str, *, in_brackets: bool) -> str:
        return self.raw(text, in_brackets=in_brackets, quote=self.tree.quote)

    def flow(self, value: Value) -> NodeText:
        """In braces or brackets, in one line."""
        if isinstance(value, str):
            return self.scalar(value, in_brackets=True)
        is_mapping = isinstance(value, Mapping)
        block = BlockText(is_mapping=is_mapping, is_flow=True)
        block.opening, block.closing = "{}" if is_mapping else "[]"
        for key, inner in _items(value):
            entry = self.flow_entry(key, inner)
            if block.entries:
                entry.lead, block.entries[-1].tail = " ", ","
            add(block, len(block.entries), entry)
        return block

    def flow_entry(self, key: str | None, value: Value) -> EntryText:
        raw_key = "" if key is None else self.key(key, in_brackets=True)
        gap = "" if key is None else ": "
        node = self.flow(value)
        return EntryText(lead="", raw_key=raw_key, key=key or "", gap=gap, value=node, tail="")

    def lines(self, value: Value, indent: str, *, is_inline: bool = False) -> BlockText:
        """One line for each entry, or more; `is_inline`: the first behind a dash."""
        is_mapping = isinstance(value, Mapping)
        block = BlockText(is_mapping=is_mapping, is_flow=False, is_inline=is_inline, indent=indent)
        for key, inner in _items(value):
            entry = self.line_entry(key, inner, indent)
            if is_inline and not block.entries:
                entry.lead = ""
            add(block, len(block.entries), entry)
        return block

    def line_entry(
        self, key: str | None, value: Value, indent: str, like: BlockText | None = None
    ) -> EntryText:
        """An entry with lines of its own.

        Args:
            like: a value beside it, whose style it takes.
        """
        raw_key = "-" if key is None else self.key(key, in_brackets=False)
        entry = EntryText(
            lead=indent,
            raw_key=raw_key,
            key=key or "",
            gap=" " if key is None else ": ",
            value=ScalarText(raw="", text=""),
            tail=self.tree.line_end,
        )
        self.fill(entry, self.node(value, indent, raw_key, like))
        return entry

    def node(self, value: Value, indent: str, raw_key: str, like: BlockText | None) -> NodeText:
        """A value behind a key in lines: in brackets as those beside it, or where it fits."""
        if isinstance(value, str):
            return self.scalar(value, in_brackets=False)
        flow = self.flow(value)
        if not value or (like is not None and like.is_flow):
            return flow
        width = len(indent) + len(raw_key) + 2 + sum(map(len, pieces(flow)))
        if like is None and width <= WIDEST and not (not indent and _is_section(value)):
            return flow
        if raw_key == "-":
            return self.lines(value, indent + "  ", is_inline=True)
        deeper = indent + self.tree.step
        # The dashes of a list may stand beneath its key.
        least = len(indent) + isinstance(value, Mapping)
        if like is not None and not like.is_inline and len(like.indent) >= least:
            deeper = like.indent
        return self.lines(value, deeper)

    def fill(self, entry: EntryText, node: NodeText) -> None:
        """Set the value of an entry in lines whose rest of the line is its tail."""
        entry.value = node
        if not isinstance(node, BlockText) or not node.has_lines:
            return
        line, rest = first_line(entry.tail)
        last = last_entry(node.entries[-1])
        if not LINE_END.search(line):
            line += self.tree.line_end
            last.tail = ""
        last.tail += rest
        entry.tail = ""
        if not node.is_inline:
            entry.gap = entry.gap.rstrip(" ") + line


def add(block: BlockText, index: int, entry: EntryText) -> None:
    """Put an entry into its block, its text being right already."""
    block.entries.insert(index, entry)
    if block.is_mapping:
        block.by_key[entry.key] = entry


def style_beside(block: BlockText, index: int, value: Value) -> BlockText | None:
    """A value of the same kind near that place."""
    if isinstance(value, str):
        return None
    is_mapping = isinstance(value, Mapping)
    before = block.entries[max(0, index - _NEAR) : index]
    for entry in (*reversed(before), *block.entries[index : index + _NEAR]):
        node = entry.value
        if isinstance(node, BlockText) and node.entries and node.is_mapping == is_mapping:
            return node
    return None


def _items(value: Value) -> Iterator[tuple[str | None, Value]]:
    if isinstance(value, Mapping):
        yield from value.items()
    else:
        yield from ((None, inner) for inner in value)


def _is_section(value: Sequence[Value] | Mapping[str, Value]) -> bool:
    """It holds blocks, so that a line for each of them reads best."""
    inner = value.values() if isinstance(value, Mapping) else value
    return any(
        isinstance(each, Mapping)
        or (not isinstance(each, str) and any(not isinstance(item, str) for item in each))
        for each in inner
    ) or (not isinstance(value, Mapping) and any(not isinstance(each, str) for each in value))
