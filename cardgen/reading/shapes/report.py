"""Collect what is wrong while reading, each fault at its place."""

from __future__ import annotations

from dataclasses import field
from typing import Any, Generic, NamedTuple, TypeVar

from cardgen.faults.fault import Fault
from cardgen.faults.value_faults import WRONG_TYPE
from cardgen.light_dataclass import dataclass
from cardgen.problems import Problem, Span, UserError
from cardgen.reading.nodes import Node, is_absent, kind_of

T = TypeVar("T")


class Written(NamedTuple, Generic[T]):
    """A value with the place where the file says it."""

    span: Span
    value: T


@dataclass(slots=True)
class Report:
    """Collects what is wrong while reading.

    Attributes:
        reported: ids whose entries could not be read; later stages keep silent about them, for it
            has been reported already.
        named: names in entries that could not be read, which may be wrong as well.
        printed: texts of a person that are printed or published as they stand.
    """

    problems: list[Problem] = field(default_factory=list)
    reported: set[str] = field(default_factory=set)
    named: list[Written[str]] = field(default_factory=list)
    printed: list[Written[str]] = field(default_factory=list)

    def add(self, problem: Problem) -> None:
        self.problems.append(problem)


class BadValue(UserError):
    """Raised inside a parser of one value; becomes a problem at the value's place."""

    def __init__(self, fault: Fault, variant: str = "", **values: Any) -> None:
        super().__init__(*(words.format_map(values) for words in fault.words(variant)))
        self._fault, self._variant, self._values = fault, variant, values

    def at(self, span: Span) -> Problem:
        return self._fault.at(span, variant=self._variant, **self._values)


def expected(what: str, node: Node, at: Span, example: str = "") -> Problem:
    """Something else, or nothing, is where `what` belongs."""
    span = at if is_absent(node) else node.span
    return WRONG_TYPE.at(span, what=what, found=kind_of(node), example=example)
