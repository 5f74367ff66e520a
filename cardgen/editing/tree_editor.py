"""Do a change in the tree of a text."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from cardgen.editing.bracket_entries import add_in_brackets, remove_in_brackets
from cardgen.editing.line_entries import add_lines, remove_lines, tail_of_block
from cardgen.editing.new_text import NewText, style_beside
from cardgen.editing.plain_values import Plain, plain_value, said
from cardgen.editing.text_changes import (
    CannotEdit,
    Change,
    Path,
    Put,
    Remove,
    RepeatedElsewhere,
    Value,
)
from cardgen.editing.text_tree import (
    LINE_END,
    AliasText,
    BlockText,
    EntryText,
    NodeText,
    ScalarText,
    TextTree,
    first_line,
    is_written_empty,
    marks_of,
    nodes_in,
)

_HEADER_REMARK = re.compile(r"[ \t]+#[^\r\n]*")


def change_tree(tree: TextTree, change: Change) -> None:
    """Do a change whose place is there, which `PlainValues` has seen to."""
    spot = _TreeSpot(tree=tree, path=(), outer=None, owner=None, node=tree.root, always="")
    spot = spot.with_quotes()
    for part in change.path[:-1]:
        spot = spot.into(spot.entry(part))
    last = change.path[-1]
    if isinstance(change, Put):
        spot.put(last, change.value, change.after)
    elif isinstance(change, Remove):
        spot.remove(spot.entry(last))
    else:
        spot.rename(spot.entry(last), change.key)


@dataclass(frozen=True, slots=True, kw_only=True)
class _TreeSpot:
    """A value whose entries are changed.

    Attributes:
        outer, owner: the one around it, and the entry there whose value it is.
        always: the quote of its keys, as in JSON.
    """

    tree: TextTree
    path: Path
    outer: _TreeSpot | None
    owner: EntryText | None
    node: NodeText
    always: str

    @property
    def block(self) -> BlockText:
        assert isinstance(self.node, BlockText)
        return self.node

    @property
    def new(self) -> NewText:
        return NewText(self.tree, self.always)

    def entry(self, part: str | int) -> EntryText:
        return self.block.by_key[part] if isinstance(part, str) else self.block.entries[part]

    def into(self, entry: EntryText) -> _TreeSpot:
        """The value of an entry, if it can be changed at this place alone."""
        part = entry.key if self.block.is_mapping else self.block.entries.index(entry)
        path, node = (*self.path, part), entry.value
        if isinstance(node, AliasText):
            raise CannotEdit(
                f"'{said(path)}' is written elsewhere and repeated here by '{node.raw.strip()}'",
                f"write its value in place of '{node.raw.strip()}'",
            )
        if node.repeats:
            raise _repeated(path, node)
        spot = _TreeSpot(
            tree=self.tree, path=path, outer=self, owner=entry, node=node, always=self.always
        )
        return spot.with_quotes()

    def with_quotes(self) -> _TreeSpot:
        """With the quote that all its first keys have."""
        block = self.node
        if not isinstance(block, BlockText) or not block.is_mapping or not block.entries:
            return self
        firsts = {entry.raw_key[:1] for entry in block.entries[:3]}
        quote = firsts.pop() if len(firsts) == 1 else ""
        return replace(self, always=quote if quote in ("'", '"') else "")

    def put(self, part: str | int, value: Value, after: str | tuple[str, ...] = "") -> None:
        if is_written_empty(self.node) and self.outer and self.owner:
            self.outer.write(self.owner, {part: value} if isinstance(part, str) else [value])
            return
        block = self.block
        if isinstance(part, int):
            if part < len(block.entries):
                self.replace(block.entries[part], value)
            else:
                self.insert(part, None, value)
        elif part in block.by_key:
            self.replace(block.by_key[part], value)
        else:
            keys = (after,) if isinstance(after, str) else after
            before = next((block.by_key[key] for key in keys if key in block.by_key), None)
            index = block.entries.index(before) + 1 if before else len(block.entries)
            self.insert(index, part, value)

    def insert(self, index: int, key: str | None, value: Value) -> None:
        block = self.block
        if block.is_flow:
            add_in_brackets(self.tree, block, index, self.new.flow_entry(key, value))
            return
        like = style_beside(block, index, value) if self.owner else None
        add_lines(self.tree, block, index, self.new.line_entry(key, value, block.indent, like))

    def remove(self, entry: EntryText) -> None:
        self._release(entry)
        if self.block.is_flow:
            remove_in_brackets(self.block, entry)
        else:
            remove_lines(self.tree, self.owner, self.block, entry)

    def rename(self, entry: EntryText, key: str) -> None:
        if entry.raw_key.startswith(("&", "!")):
            raise CannotEdit(f"the key '{entry.key}' has an anchor or a tag", "remove it there")
        in_brackets = self.block.is_flow
        old = entry.raw_key[:1]
        quote = old if old in ("'", '"') else self.tree.quote
        entry.raw_key = self.new.raw(key, in_brackets=in_brackets, quote=quote)
        del self.block.by_key[entry.key]
        entry.key = key
        self.block.by_key[key] = entry

    def replace(self, entry: EntryText, value: Value) -> None:
        """Change what differs in a value; one of another kind is written anew."""
        old = entry.value
        if value_of(old) == plain_value(value):
            return
        if isinstance(old, BlockText) and old.entries and value:
            if old.is_mapping and isinstance(value, Mapping) and old.by_key.keys() & value.keys():
                self.into(entry).match(value)
                return
            if not old.is_mapping and not isinstance(value, (str, Mapping)):
                self.into(entry).match_items(value)
                return
        self.write(entry, value)

    def match(self, value: Mapping[str, Value]) -> None:
        for entry in [e for e in self.block.entries if e.key not in value]:
            self.remove(entry)
        before = ""
        for key, inner in value.items():
            self.put(key, inner, before)
            before = key

    def match_items(self, value: Sequence[Value]) -> None:
        """What is alike at the beginning and the end of a list stays; between, one by one."""
        old = [value_of(entry.value) for entry in self.block.entries]
        new = [plain_value(item) for item in value]
        least = min(len(old), len(new))
        same = next((n for n in range(least) if old[n] != new[n]), least)
        behind = next((n for n in range(least - same) if old[-1 - n] != new[-1 - n]), least - same)
        if same == 0 and len(new) > len(old):
            behind = 0  # nothing is put before the first
        both = least - same - behind
        for number in range(same, same + both):
            self.replace(self.block.entries[number], value[number])
        for entry in self.block.entries[same + both : len(old) - behind]:
            self.remove(entry)
        for number in range(same + both, len(new) - behind):
            self.insert(number, None, value[number])

    def write(self, entry: EntryText, value: Value) -> None:
        """A value anew, whatever stood there."""
        self._release(entry)
        old, block = entry.value, self.block
        marks = marks_of(old)
        if marks and not marks[-1].isspace():
            marks += " "
        style = old.style if isinstance(old, ScalarText) else ""
        if not block.is_flow:
            _remark_to_tail(self.tree, entry)
        if isinstance(value, str):
            entry.value = self.new.scalar(
                value, in_brackets=block.is_flow, quote=style, marks=marks
            )
        elif block.is_flow or marks or LINE_END.search(entry.gap):
            entry.value = self.new.flow(value)
            assert isinstance(entry.value, BlockText)
            entry.value.opening = marks + entry.value.opening
        else:
            like = style_beside(block, block.entries.index(entry), value) if self.owner else None
            is_mapping = isinstance(value, Mapping)
            if isinstance(old, BlockText) and old.entries and old.is_mapping == is_mapping:
                like = old
            self.new.fill(entry, self.new.node(value, block.indent, entry.raw_key, like))
        if block.is_mapping and ":" not in entry.gap:
            entry.gap += ":"
        if entry.raw_key and not entry.gap[-1:].isspace():
            entry.gap += " "

    def _release(self, entry: EntryText) -> None:
        """What goes is not repeated elsewhere, and repeats nothing any more."""
        inside = Counter(n.anchored for n in nodes_in(entry.value) if isinstance(n, AliasText))
        for node in nodes_in(entry.value):
            if not isinstance(node, AliasText) and node.repeats > inside[node]:
                part = entry.key if self.block.is_mapping else self.block.entries.index(entry)
                raise _repeated((*self.path, part), node)
        for anchored, count in inside.items():
            anchored.repeats -= count


def value_of(node: NodeText) -> Plain:
    """What a node says."""
    if isinstance(node, AliasText):
        return value_of(node.anchored)
    if isinstance(node, ScalarText):
        return node.text if node.text or node.style else None
    if node.is_mapping:
        return {entry.key: value_of(entry.value) for entry in node.entries}
    return [value_of(entry.value) for entry in node.entries]


def _repeated(path: Path, node: ScalarText | BlockText) -> RepeatedElsewhere:
    name = marks_of(node).partition("&")[2].split()[0]
    return RepeatedElsewhere(
        f"'{said(path)}' is repeated elsewhere by '*{name}', where it would change as well",
        f"write the value in place of each '*{name}', and remove '&{name}'",
    )


def _remark_to_tail(tree: TextTree, entry: EntryText) -> None:
    """A remark on the line of the key stays there when the value goes."""
    old = entry.value
    if isinstance(old, BlockText) and old.has_lines:
        tail_of_block(tree, entry, old)
    elif isinstance(old, ScalarText) and old.style in ("|", ">"):
        header, _ = first_line(old.raw[len(old.marks) :])
        remark = _HEADER_REMARK.search(header)
        entry.tail = (remark[0] if remark else "") + entry.tail
