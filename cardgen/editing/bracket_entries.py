"""Add and remove entries in braces and brackets."""

from __future__ import annotations

import re

from cardgen.editing.new_text import add
from cardgen.editing.text_changes import CannotEdit
from cardgen.editing.text_tree import LINE_END, BlockText, EntryText, TextTree

_NEAR = 4  # entries before it that tell whether each has its own line
_REMARK = re.compile(r"[ \t]*#[^\r\n]*")


def add_in_brackets(tree: TextTree, block: BlockText, index: int, entry: EntryText) -> None:
    """Put an entry at that place, on its own line where those before it are."""
    _refuse_bare(block)
    is_last = index == len(block.entries)
    if index == 0:
        entry.tail = "" if is_last else ","
        add(block, index, entry)
        return
    before = block.entries[index - 1]
    entry.tail = "," if not is_last or before.tail else ""
    before.tail = before.tail or ","
    entry.lead = " "
    if _own_lines(block, index):
        follows = block.closing if is_last else block.entries[index].lead
        remark = _REMARK.match(follows)
        same_line = remark[0] if remark else ""
        entry.lead = same_line + _line_before(before.lead, block.entries[0].lead, tree)
        if is_last:
            block.closing = follows[len(same_line) :]
        else:
            block.entries[index].lead = follows[len(same_line) :]
    add(block, index, entry)


def remove_in_brackets(block: BlockText, gone: EntryText) -> None:
    """Take an entry out with its comma, and its remark where it is alone on its line."""
    _refuse_bare(block)
    index = block.entries.index(gone)
    is_last = index + 1 == len(block.entries)
    follows = block.closing if is_last else block.entries[index + 1].lead
    if index == 0 or LINE_END.search(gone.lead):
        remark = _REMARK.match(follows)
        follows = follows[len(remark[0]) :] if remark else follows
    del block.entries[index]
    block.by_key.pop(gone.key, None)
    if is_last:
        block.closing = _joined(gone.lead, follows, keep_line=False)
        if block.entries and not gone.tail:
            block.entries[-1].tail = block.entries[-1].tail.replace(",", "")
    else:
        block.entries[index].lead = _joined(gone.lead, follows, keep_line=True)


def _refuse_bare(block: BlockText) -> None:
    if block.is_bare:
        raise CannotEdit(
            "a 'key: value' in brackets without braces of its own cannot be changed",
            "put braces around it: [{key: value}]",
        )


def _joined(lead: str, follows: str, *, keep_line: bool) -> str:
    """What stood before an entry that is gone with what stands after it."""
    if "#" not in lead:
        # The next one takes its place in the line, unless it has a line of its own.
        return lead if keep_line and not follows.strip(" \t") else follows
    ends_line = LINE_END.match(follows.lstrip(" \t"))
    return lead.rstrip(" \t\r\n") + follows if ends_line else lead + follows


def _own_lines(block: BlockText, index: int) -> bool:
    """Each entry has its line; or all but the first, which is on that of the bracket."""
    near = block.entries[max(1, index - _NEAR) : index]
    is_first_too = bool(LINE_END.search(block.entries[0].lead))
    own = all(LINE_END.search(entry.lead) for entry in near)
    return own and (is_first_too or len(near) > 1)


def _line_before(lead: str, first: str, tree: TextTree) -> str:
    """A new line, indented as the last one."""
    indent = LINE_END.split(lead if LINE_END.search(lead) else first)[-1]
    return tree.line_end + indent
