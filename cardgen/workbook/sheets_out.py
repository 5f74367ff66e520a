"""Turn the nodes of a job into the rows of its sheets, as they are written in the file."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import chain

from cardgen.reading import nodes
from cardgen.reading.nodes import Node, Scalar
from cardgen.workbook.heading_names import column_meant, may_mean_a_leg
from cardgen.workbook.sheet_plans import (
    EXTRA,
    JOB_HEADINGS,
    JOB_SHEET,
    SheetColumn,
    SheetKind,
    SheetPlan,
    job_rows,
    sheet_plans,
)

Rows = list[list[str]]
# These are there for whoever wants to fill them in, though a job may have none of them.
_ALWAYS = ("coils", "controllers", "cables", "legs", "boxes", "stations")


def sheets_of(root: Node) -> dict[str, Rows]:
    """By name the rows of each sheet, the first with the headings; what a job has not is none."""
    sheets = {JOB_SHEET: [list(JOB_HEADINGS), *_job(root)]}
    for plan in sheet_plans():
        rows = [_headings(plan, root), *_rows(plan, root)]
        if len(rows) > 1 or plan.title in _ALWAYS:
            width = len(rows[0])
            sheets[plan.title] = [[*row, *[""] * (width - len(row))] for row in rows]
    return sheets


def value_at(node: Node | None, path: Sequence[str], also: str = "") -> Node | None:
    """The value under these keys, the last of which may be spelled otherwise."""
    for number, key in enumerate(path, 1):
        keys = (key, also) if also and number == len(path) else (key,)
        entries = node.entries if isinstance(node, nodes.Mapping) else ()
        node = next((e.value for k in keys for e in entries if e.key.text == k), None)
    return node


def items_of(node: Node) -> tuple[Node, ...]:
    """A list, or one value that stands for a list of one."""
    return node.items if isinstance(node, nodes.Sequence) else (node,)


def one_line(node: Node) -> str:
    return " ".join(node.text.split()) if isinstance(node, Scalar) else ""


def entries_of(root: Node, section: str) -> tuple[nodes.KeyValue, ...]:
    found = value_at(root, (section,))
    return found.entries if isinstance(found, nodes.Mapping) else ()


# ---- a cell --------------------------------------------------------------------------------


def cell_of(node: Node | None, column: SheetColumn) -> str:
    """What a cell shows of a value; empty where there is none."""
    if node is None:
        return ""
    if not column.is_list:
        return one_line(node)
    return joined([one_line(item) for item in items_of(node)], column)


def joined(texts: Sequence[str], column: SheetColumn) -> str:
    """A list in a cell; on lines of its own where one of its values has a separator in it."""
    signs, separator = (";", "; ") if column.holds_texts else (",;", ", ")
    if any(sign in text for text in texts for sign in signs):
        return "\n".join(texts) if len(texts) > 1 else f"{texts[0]}\n"
    return separator.join(texts)


# ---- rows ----------------------------------------------------------------------------------


def _job(root: Node) -> Iterator[list[str]]:
    for (section, key), column in job_rows().items():
        node = value_at(root, (section, *column.path), column.also)
        if node is not None and not nodes.is_absent(node):
            yield [section, key, cell_of(node, column)]


def _headings(plan: SheetPlan, root: Node) -> list[str]:
    names = [plan.owner] if plan.owner else []
    extra = [shown_extra(name) for name in _extra(plan, root)]
    return [*names, *(column.heading for column in plan.columns), *extra]


def shown_extra(heading: str) -> str:
    """Told from our own headings, and from what is taken for one of them."""
    is_ours = bool(column_meant(heading)) or may_mean_a_leg(heading)
    return f"{EXTRA}: {heading}" if is_ours else heading


def _extra(plan: SheetPlan, root: Node) -> list[str]:
    """The headings of the user's own, in the order in which they first come."""
    if not plan.takes_extra:
        return []
    blocks = (value_at(entry.value, (EXTRA,)) for entry in entries_of(root, plan.section))
    found = chain.from_iterable(b.entries for b in blocks if isinstance(b, nodes.Mapping))
    return list(dict.fromkeys(one_line(entry.key) for entry in found))


def _rows(plan: SheetPlan, root: Node) -> Iterator[list[str]]:
    if not plan.owner:
        section = value_at(root, (plan.section,))
        yield from _blocks(plan, section)
        return
    extra = _extra(plan, root)
    for entry in entries_of(root, plan.section):
        name = one_line(entry.key)
        node = value_at(entry.value, (plan.key,)) if plan.key else entry.value
        if plan.kind is SheetKind.ENTRIES:
            own = value_at(node, (EXTRA,)) if extra else None
            texts = {one_line(e.key): one_line(e.value) for e in _pairs(own)}
            yield [name, *_cells(plan, node), *(texts.get(heading, "") for heading in extra)]
        elif node is not None:
            yield from ([name, *row] for row in _inner_rows(plan, node))


def _inner_rows(plan: SheetPlan, node: Node) -> Iterator[list[str]]:
    match plan.kind:
        case SheetKind.LEGS:
            texts = [one_line(item) for item in items_of(node)]
            for index in range(0, len(texts) - 2, 2):
                yield texts[index : index + 3]
        case SheetKind.BLOCKS:
            yield from _blocks(plan, node)
        case SheetKind.PARTS:
            for entry in _pairs(node):
                rest = plan.columns[1:]
                values = (cell_of(value_at(entry.value, c.path, c.also), c) for c in rest)
                yield [one_line(entry.key), *values]
        case SheetKind.LISTS:
            (column,) = plan.columns
            yield from ([cell_of(item, column)] for item in items_of(node))
            if isinstance(node, nodes.Sequence) and not node.items:
                yield [""]  # said to be none


def _blocks(plan: SheetPlan, node: Node | None) -> Iterator[list[str]]:
    if isinstance(node, nodes.Sequence):
        yield from (_cells(plan, item) for item in node.items)


def _cells(plan: SheetPlan, node: Node | None) -> list[str]:
    return [
        cell_of(value_at(node, column.path, column.also) if column.path else node, column)
        for column in plan.columns
    ]


def _pairs(node: Node | None) -> tuple[nodes.KeyValue, ...]:
    return node.entries if isinstance(node, nodes.Mapping) else ()
