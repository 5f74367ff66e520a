"""Collect what is wrong while reading, each fault at its place."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Generic, TypeVar

from cardgen.problems import Also, Problem, Span, Verdict
from cardgen.reading.nodes import Node, is_absent, kind_of

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Written(Generic[T]):
    """A value with the place where the file says it."""

    span: Span
    value: T


@dataclass(slots=True)
class Report:
    """Collects what is wrong while reading.

    Attributes:
        broken: ids whose entries could not be read; later stages keep silent about them, for it
            has been reported already.
        named: names in entries that could not be read, which may be wrong as well.
        printed: texts of a person that are printed or published as they stand.
    """

    problems: list[Problem] = field(default_factory=list)
    broken: set[str] = field(default_factory=set)
    named: list[Written[str]] = field(default_factory=list)
    printed: list[Written[str]] = field(default_factory=list)

    def error(
        self, span: Span, code: str, sentence: str, help_: str = "", also: tuple[Also, ...] = ()
    ) -> None:
        self.problems.append(
            Problem(
                code=code,
                verdict=Verdict.ERROR,
                span=span,
                sentence=sentence,
                help=help_,
                also=also,
            )
        )


class Misread(Exception):
    """Raised inside a parser of one value; becomes a problem at the value's place."""

    def __init__(self, sentence: str, help_: str = "", code: str = "value") -> None:
        super().__init__(sentence)
        self.sentence, self.help, self.code = sentence, help_, code


def expected(
    what: str, node: Node, at: Span, report: Report, help_: str = "", code: str = "wrong-type"
) -> None:
    """Report that `what` should stand where something else or nothing does."""
    span = at if is_absent(node) else node.span
    sentence = f"{what} is expected, but {kind_of(node)} stands here"
    report.error(span, code, sentence, help_)
