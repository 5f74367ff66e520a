"""Add and remove entries that are lines of their own."""

from __future__ import annotations

from cardgen.editing.new_text import add
from cardgen.editing.text_tree import (
    LINE_END,
    BlockText,
    EntryText,
    TextTree,
    first_line,
    last_entry,
    marks_of,
)

_NEAR = 4  # entries before and behind it that tell whether blank lines part them


def add_lines(tree: TextTree, block: BlockText, index: int, entry: EntryText) -> None:
    """Put an entry behind the one before that place, and behind the remark on its line."""
    new = last_entry(entry)
    if index == 0:
        if tree.head and not tree.head.endswith(("\r", "\n")):
            tree.head += tree.line_end
    else:
        before = last_entry(block.entries[index - 1])
        line, rest = first_line(before.tail)
        if LINE_END.search(line):
            before.tail, new.tail = line, new.tail + rest
        else:
            before.tail, new.tail = line + tree.line_end, new.tail.removesuffix(tree.line_end)
        if _parted(block, index):
            entry.lead = tree.line_end + entry.lead
    add(block, index, entry)


def remove_lines(
    tree: TextTree, owner: EntryText | None, block: BlockText, gone: EntryText
) -> None:
    """Take an entry out; `owner` is the entry whose value the block is."""
    index = block.entries.index(gone)
    after = block.entries[index + 1] if index + 1 < len(block.entries) else None
    stays = _remarks_that_stay(gone, after, is_top=owner is None and index == 0)
    if after is None and index == 0 and owner is not None:
        tail_of_block(tree, owner, block)
        line, rest = first_line(owner.tail)
        owner.tail = line + stays + rest
        _emptied(owner, block)
        return
    stays += first_line(last_entry(gone).tail)[1]
    del block.entries[index]
    block.by_key.pop(gone.key, None)
    if after is None and index == 0:
        tree.head += stays
    elif after is None:
        last_entry(block.entries[-1]).tail += stays
    elif index == 0 and block.is_inline:
        _to_the_dash(tree, block, after, stays)
    else:
        after.lead = stays + after.lead


def _to_the_dash(tree: TextTree, block: BlockText, entry: EntryText, stays: str) -> None:
    """What was the second entry stands behind the dash now, or below it where remarks part them."""
    if stays or LINE_END.search(entry.lead):
        entry.lead, block.is_inline = tree.line_end + stays + entry.lead, False
    else:
        entry.lead = ""


def tail_of_block(tree: TextTree, owner: EntryText, block: BlockText) -> None:
    """Give the entry around a block of lines a tail of its own, for the block goes.

    It is what stands on the line of its key, with the remarks that follow the last line.
    """
    line, rest = first_line(last_entry(block.entries[-1]).tail)
    has_end = LINE_END.search(line)
    before = owner.gap + block.opening
    head = owner.gap.partition("#")[0]
    begin = head.find(":") + 1 if ":" in head else 0
    if block.opening:
        begin = len(owner.gap) + len(marks_of(block).rstrip())
    on_line = before[begin:]
    if not LINE_END.search(on_line):
        on_line = tree.line_end
    tail = on_line if has_end else on_line.rstrip("\r\n")
    if not block.opening:
        owner.gap = owner.gap[:begin] + " "
    owner.tail = tail + rest


def _emptied(owner: EntryText, block: BlockText) -> None:
    """Where the last entry of a block is gone, `{}` or `[]` says so."""
    marks = marks_of(block).rstrip()
    opening, closing = "{}" if block.is_mapping else "[]"
    if marks:
        opening = f"{marks} {opening}"
    owner.value = BlockText(
        is_mapping=block.is_mapping, is_flow=True, opening=opening, closing=closing
    )


def _parted(block: BlockText, index: int) -> bool:
    """Blank lines stand before all entries near that place; behind it, only sections tell."""
    behind = index if block.indent else index + _NEAR
    near = block.entries[max(1, index - _NEAR) : behind]
    return bool(near) and all(_blank_lines_first(entry.lead) for entry in near)


def _blank_lines_first(lead: str) -> bool:
    line, _ = first_line(lead)
    return bool(LINE_END.search(line)) and not line.strip()


def _remarks_that_stay(gone: EntryText, after: EntryText | None, *, is_top: bool) -> str:
    """The lines above an entry without those that tell of it alone."""
    lines = gone.lead.splitlines(keepends=True)
    indent = lines.pop() if lines and not lines[-1].endswith(("\r", "\n")) else ""
    follows = first_line(after.lead)[0] if after else "\n"
    is_alone = bool(LINE_END.search(follows)) and not is_top
    while is_alone and lines and lines[-1].startswith(indent + "#"):
        lines.pop()
    return "".join(lines)
