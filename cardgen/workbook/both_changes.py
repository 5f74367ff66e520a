"""Bring together what a workbook changes in a job and what the job changed since it was exported.

Three states meet: the job as it was exported, the job as it is, and the job as the sheets have it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

from cardgen.faults.sheet_faults import SHEET_OUTDATED
from cardgen.problems import Problem, Span
from cardgen.reading import nodes
from cardgen.reading.nodes import KeyValue, Node, short
from cardgen.workbook.change_lines import KeyNames, in_line
from cardgen.workbook.job_changes import entries_in, same, value_of


def with_both(then: Node, now: Node, book: Node, span: Span) -> tuple[Node, list[Problem]]:
    """The job as it is, with what only the book changes; where both did, it stays and is told.

    Args:
        span: of the book, for what has no cell.
    """
    merger = _Merger(span)
    return nodes.Mapping(now.span, tuple(merger.entries(then, now, book))), merger.problems


@dataclass(slots=True)
class _Merger:
    span: Span
    problems: list[Problem] = field(default_factory=list)

    def entries(self, then: Node | None, now: Node, book: Node) -> Iterator[KeyValue]:
        before, after, said = (
            {entry.key.text: entry for entry in entries_in(state)} for state in (then, now, book)
        )
        for name in _in_order(list(after), list(said)):
            states = (state.get(name) for state in (before, after, said))
            value = self.value(name, *(entry and entry.value for entry in states))
            if value is not None:
                yield KeyValue((after.get(name) or said[name]).key, value)

    def value(
        self, name: str, then: Node | None, now: Node | None, book: Node | None
    ) -> Node | None:
        """None where there is none, or is none any longer."""
        if same(book) == same(then):
            return now
        if same(now) in (same(then), same(book)):
            return book
        if isinstance(now, nodes.Mapping) and isinstance(book, nodes.Mapping):
            return nodes.Mapping(now.span, tuple(self.entries(then, now, book)))
        self._tell(name, now, book)
        return now

    def _tell(self, name: str, now: Node | None, book: Node | None) -> None:
        variant = "stays" if book is None else "" if now is not None else "gone"
        told = SHEET_OUTDATED.at(
            self.span if book is None else book.span,
            variant=variant,
            name=short(name),
            text=_shown(book),
            now=_shown(now),
        )
        self.problems.append(told)


def _in_order(names: list[str], said: list[str]) -> list[str]:
    """Those of the job, and what the book adds behind the one that is before it there."""
    order = list(names)
    for number, name in enumerate(said):
        if name not in order:
            before = (order.index(other) for other in reversed(said[:number]) if other in order)
            order.insert(next(before, len(order) - 1) + 1, name)
    return order


def _shown(node: Node | None) -> str:
    return "" if node is None else short(in_line(value_of(node), KeyNames()))
