"""One kind of fault: its code, how bad it is, what it says, the way out, and how it looks."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field
from textwrap import dedent
from typing import Final

from cardgen.light_dataclass import dataclass
from cardgen.problems import Also, Problem, Span, Verdict

ERROR: Final = Verdict.ERROR
WARNING: Final = Verdict.WARNING
NOTE: Final = Verdict.NOTE
_EXAMPLE_WIDTH = 76  # so that a terminal of 80 columns shows it indented by four


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Fault:
    r"""A kind of fault; `at` makes the problem that a person is told.

    Attributes:
        code: never changes its meaning; explained by `cardgen explain CODE`.
        title: what it is, in a few words, for lists.
        sentence: one sentence, present tense, names in quotes, no full stop; `{name}` stands for
            a value that `at` is given, `{{` for a bracket.  Empty where there are only variants.
        way_out: what to do at this very place; empty where the sentence says it all.
        variants: where one fault has several looks, what is said instead, by what is the matter:
            a sentence, or sentence and way out; an empty sentence is the fault's own.
        thing: which of the values names the thing of the job that it is about, or several in a
            tuple, where the owner of the valves must know it, too: the closeout packet lists
            them; else empty.
        why: why it matters on site.
        fix: the way out in general, as `cardgen explain` tells it.
        wrong, right: parts of a file that give it and that do not, written as a person would;
            the indent that all their lines share is dropped, and long lines are broken.
        base: what the two parts are part of: the name of a sound job of the tests, or `text` if
            the wrong one is a whole file, `bytes` if they show bytes with escapes (`\xff`),
            `command` if they are commands, `stock`, `face` or `words` for layouts, `allot` or
            `print` where it comes only while allotting or printing (a comment may name a file of
            the layouts instead), `list` or `workbook` for sheets, `late workbook` where the job got
            another place of VB-1 meanwhile, `results` for readings as CSV, `server` where the
            server has stored the reading of the right one.
    """

    code: str
    verdict: Verdict
    title: str
    sentence: str = ""
    way_out: str = ""
    variants: Mapping[str, str | tuple[str, str]] = field(default_factory=dict)
    thing: str = ""
    why: str
    fix: str
    wrong: str
    right: str
    base: str = "plain"

    def __post_init__(self) -> None:
        for name in ("wrong", "right"):
            object.__setattr__(self, name, _example(getattr(self, name)))

    def at(
        self, span: Span, *, variant: str = "", also: tuple[Also, ...] = (), **values: object
    ) -> Problem:
        """The problem of this kind at a place of a file.

        Raises:
            KeyError: a value that the words name is missing, or there is no such variant.
        """
        sentence, way_out = self.words(variant)
        return Problem(
            code=self.code,
            verdict=self.verdict,
            span=span,
            sentence=sentence.format_map(values),
            help=way_out.format_map(values),
            also=also,
            things=_names_of(values[self.thing]) if self.thing else (),
            names=frozenset(value for value in values.values() if isinstance(value, str)),
            variant=variant,
            values=values,
        )

    def words(self, variant: str = "") -> tuple[str, str]:
        """Sentence and way out, with names where values will be."""
        said = self.variants[variant] if variant else self.sentence
        sentence, way_out = (said, self.way_out) if isinstance(said, str) else said
        assert sentence or self.sentence, f"{self.code} has variants only"
        return sentence or self.sentence, way_out


def _names_of(value: object) -> tuple[str, ...]:
    """One name, or several in a tuple."""
    return tuple(map(str, value)) if isinstance(value, tuple) else (str(value),)


def _example(text: str) -> str:
    """An example as it is shown: long lines are broken inside their brackets, as YAML allows."""
    lines: list[str] = []
    for line in dedent(text).strip("\n").splitlines():
        rest, start = line, line.find("{") + 1
        while start and len(rest) > _EXAMPLE_WIDTH:
            comma = rest.rfind(", ", start, _EXAMPLE_WIDTH)
            cut = comma + 1 or rest.rfind(" ", start, _EXAMPLE_WIDTH)
            lines.append(rest[:cut])
            rest = " " * start + rest[cut:].lstrip()
        lines.append(rest)
    return "\n".join(lines)
