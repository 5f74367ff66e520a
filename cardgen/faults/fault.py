"""One kind of fault: its code, how bad it is, what it says, the way out, and how it looks."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Any

from cardgen.problems import Also, Problem, Span, Verdict

_NONE: Mapping[str, Any] = MappingProxyType({})


@dataclass(frozen=True, slots=True, kw_only=True)
class Fault:
    """A kind of fault; `at` makes the problem that a person is told.

    Attributes:
        code: never changes its meaning; explained by `cardgen explain CODE`.
        title: what it is, in a few words, for lists.
        sentence: one sentence, present tense, names in quotes, no full stop; `{name}` stands for
            a value that `at` is given.
        way_out: what to do at this very place; empty where the sentence says it all.
        variants: further pairs of sentence and way out by name, where one fault has several looks.
        why: why it matters on site.
        fix: the way out in general, as `cardgen explain` tells it.
        wrong, right: parts of a file that give it and that do not.
        base: what the two parts are part of: the name of a sound job of the tests, or `text` if
            they are the whole file, `stock`, `face` or `words` for layouts, `allot` or `print`
            where it comes only while allotting or printing, `results` for a CSV file.
    """

    code: str
    verdict: Verdict
    title: str
    sentence: str
    way_out: str = ""
    variants: Mapping[str, tuple[str, str]] = field(default=_NONE)
    why: str
    fix: str
    wrong: str
    right: str
    base: str = "plain"

    def at(
        self, span: Span, *, variant: str = "", also: tuple[Also, ...] = (), **values: object
    ) -> Problem:
        """The problem of this kind at a place of a file.

        Raises:
            KeyError: a value that the words name is missing, or there is no such variant.
        """
        sentence, way_out = self.variants[variant] if variant else (self.sentence, self.way_out)
        return Problem(
            code=self.code,
            verdict=self.verdict,
            span=span,
            sentence=sentence.format_map(values),
            help=way_out.format_map(values),
            also=also,
        )
