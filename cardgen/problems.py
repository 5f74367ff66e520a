"""What a person is told about a file: one problem, at its place, with the way out."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import field
from enum import StrEnum
from pathlib import Path
from typing import NamedTuple

from cardgen.light_dataclass import dataclass


class Verdict(StrEnum):
    """How bad a problem is.

    `ERROR`: what would be printed would be wrong or the circuit will not work, so nothing is
    written.  `WARNING`: works now, costs later.  `NOTE`: legitimate, but must be known.
    """

    ERROR = "error"
    WARNING = "warning"
    NOTE = "note"


class Span(NamedTuple):
    """A span of one file.  Line and column count from 1; `length` is in characters."""

    file: str
    line: int
    column: int
    length: int = 1

    def __str__(self) -> str:
        return f"{self.file}:{self.line}:{self.column}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Also:
    """A second place that belongs to a problem, with what is to be seen there."""

    span: Span
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Problem:
    """One fault, one message.

    Attributes:
        code: never changes its meaning; explained by `cardgen explain CODE`.
        sentence: one sentence, present tense, names in quotes, no full stop.
        help: the way out, empty where the sentence says it all.
        things: boxes, cables, stations ... of the job that an owner must know it of; else empty.
        names: what its words name; among them the one that an acknowledgment says.
        known: acknowledged in the job, so that it is not told again.
        variant, values: which of its fault's words it says, and with which values: to say the same
            in another language.
    """

    code: str
    verdict: Verdict
    span: Span
    sentence: str
    also: tuple[Also, ...] = ()
    help: str = ""
    things: tuple[str, ...] = ()
    names: frozenset[str] = frozenset()
    known: bool = False
    variant: str = field(default="", compare=False)
    values: Mapping[str, object] = field(default_factory=dict, compare=False)


class UserError(Exception):
    """A person is told why what was asked for is not done; nothing has been changed.

    Attributes:
        sentence: what is wrong, or in the way.
        help: the way out.
    """

    def __init__(self, sentence: str, help_: str = "") -> None:
        super().__init__(sentence)
        self.sentence, self.help = sentence, help_


class CannotWrite(UserError):
    """A file or folder cannot take what is to be written."""


def cannot_write(path: Path, fault: OSError, *, unfinished: bool = False) -> CannotWrite:
    """`unfinished`: some of a set is exchanged, and the rest is waiting."""
    reason = (fault.strerror or str(fault)).lower()
    ways = "look for a full disk, a folder without the right to write, or a file open elsewhere"
    if unfinished:
        reason += "; some files are new and some old now"
        ways += ", then run it again: that finishes it first"
    return CannotWrite(f"'{path}' cannot be written: {reason}", ways)


class JobErrors(Exception):
    """A job has errors, so nothing is made of it.

    Attributes:
        problems: all that was found, in the order of the file; also warnings and notes.
    """

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems = tuple(problems)
        errors = [problem for problem in self.problems if problem.verdict is Verdict.ERROR]
        lines = (f"{each.span}: {each.sentence} [{each.code}]" for each in errors)
        super().__init__("\n".join(lines))


def in_order(problems: Iterable[Problem]) -> tuple[Problem, ...]:
    """The problems in the order of the file, each once."""
    return tuple(sorted(dict.fromkeys(problems), key=lambda p: (p.span, p.code, p.sentence)))


def has_errors(problems: Iterable[Problem]) -> bool:
    return any(p.verdict is Verdict.ERROR for p in problems)
