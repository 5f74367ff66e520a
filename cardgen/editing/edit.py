"""Do changes in the text of a job, one after another, and see that it says what it must then.

The text is read once into a tree that has every character of it. The changes are made in the tree,
each at its place, and the tree is written once; so many changes take little longer than one.
"""

from __future__ import annotations

from collections.abc import Sequence

from cardgen.editing.plain_values import PlainValues, said
from cardgen.editing.text_changes import CannotEdit, Change, NotReadYet
from cardgen.editing.tree_editor import change_tree
from cardgen.editing.tree_reader import tree_of
from cardgen.faults.file_faults import FILE_EMPTY
from cardgen.gc_pause import gc_paused
from cardgen.problems import Problem
from cardgen.reading import parse
from cardgen.reading.nodes import Node

_BYTE_ORDER_MARK = "\ufeff"


def edited(text: str, changes: Sequence[Change]) -> str:
    """The text with the changes in it; paths refer to the text as the changes before left it.

    Raises:
        CannotEdit: if one of them cannot be done; then none is.
    """
    return edited_nodes(text, _root(text.removeprefix(_BYTE_ORDER_MARK)), changes)[0]


@gc_paused()
def edited_nodes(
    text: str, root: Node | None, changes: Sequence[Change], name: str = ""
) -> tuple[str, Node | None]:
    """The same where the text has been read already; with what the new text says.

    Args:
        root: what the text says, in which no fault was found.
        name: what the nodes call the file.
    """
    mark = _BYTE_ORDER_MARK if text.startswith(_BYTE_ORDER_MARK) else ""
    values, tree = PlainValues(root), tree_of(text.removeprefix(mark))
    done: list[Change] = []
    for change in changes:
        try:
            if values.already_has(change):
                continue
            values.change(change)
            change_tree(tree, change)
        except CannotEdit as fault:
            fault.path = fault.path or change.path
            raise
        done.append(change)
    new = tree.text()
    root, problems = _read(new, name)
    if done and (problems or PlainValues(root).root != values.root):
        place = f"'{said(done[0].path)}'" if len(done) == 1 else "one of these values"
        raise CannotEdit(
            f"{place} cannot be changed without changing more of the file",
            "change it by hand, with a text editor",
            done[0].path if len(done) == 1 else (),
        )
    return mark + new, root


def refusals(text: str, changes: Sequence[Change]) -> tuple[CannotEdit, ...]:
    """Why each of these changes cannot be done that cannot; each has a place of its own."""
    values, tree = PlainValues(_root(text)), tree_of(text)
    faults = []
    for change in changes:
        try:
            values.change(change)
            change_tree(tree, change)
        except CannotEdit as fault:
            fault.path = fault.path or change.path
            faults.append(fault)
    return tuple(faults)


def _read(text: str, name: str = "") -> tuple[Node | None, tuple[Problem, ...]]:
    """What a text says; that it has remarks only is none of its problems."""
    root, problems = parse(text, name)
    return root, tuple(p for p in problems if p.code != FILE_EMPTY.code)


def _root(text: str) -> Node | None:
    root, problems = _read(text)
    if problems:
        raise NotReadYet(problems[0])
    return root
