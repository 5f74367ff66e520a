"""Say what is wrong in the language of a page, where its words are known; else in English."""

from __future__ import annotations

import re
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from string import Formatter
from typing import Any

from cardgen import faults
from cardgen.editing.plain_values import plain
from cardgen.problems import Problem, UserError
from cardgen.reading import parse
from cardgen.trade.colors import COLORS

ENGLISH = "en"
USUAL = "usual"  # what a fault says that has no variant
_PATTERNS = ("phrases", "refusals")
# A name of the job, with the color and flag of a conductor; an amount; or what stands in quotes or
# brackets, as one writes it.
_NAME = r"[^\s,;()']*[A-Z0-9][^\s,;()']*"
_COLOR = rf"(?:{'|'.join(map(re.escape, COLORS))})"
_UNIT = "ft|m|in|cm|mm|mm2|AWG|V|A|mA|VA|ohms?|kohm|Mohm|%"
_SIMPLE = re.compile(
    rf"'[^']*'|\"[^\"]*\"|\{{.*\}}|\[\[.*\]\]|\[[^\]]*\]|[^\w\s]|"
    rf"{_COLOR}(?:/{_COLOR})?|[0-9.,]+(?: (?:{_UNIT}))?|"
    rf"{_NAME}(?: {_NAME})?(?: {_COLOR}(?:/{_COLOR})?)?(?: {_NAME})?"
)
# What a list has between its members, then what else is between two names.
_NOT_QUOTED = "(?=(?:[^']*'[^']*')*[^']*$)"
_BETWEEN = tuple(
    re.compile(rf"({between}){_NOT_QUOTED}")
    for between in (", | and |; ", r", | \+ | and | or to | or | to |; |: | ?\(|\)")
)


@dataclass(frozen=True, slots=True)
class ToldFinding:
    """A problem as a page tells it."""

    sentence: str
    help: str
    language: str


class Untold(Exception):
    """A value is no name, no number and no phrase that is known in that language."""


@dataclass(frozen=True, slots=True)
class FaultWords:
    """What faults say in a language.

    Attributes:
        said: by code and variant, the sentence and the way out.
        phrases: what a value may be, as a pattern, with what it is in that language.
        joining: what stands between names, in that language.
        refusals: what the desk says when it refuses, as patterns.
    """

    said: Mapping[str, Mapping[str, tuple[str, str]]]
    phrases: tuple[tuple[re.Pattern[str], str], ...]
    joining: Mapping[str, str]
    refusals: tuple[tuple[re.Pattern[str], str], ...]

    def refusal(self, text: str) -> str | None:
        """What stands in it between quotes is as it is; None if it is not known."""
        for pattern, said in self.refusals:
            if match := pattern.fullmatch(text):
                quoted = _quoted(said)
                with suppress(Untold):
                    return said.format_map(
                        {
                            name: found if name in quoted else self.value(found)
                            for name, found in match.groupdict().items()
                        }
                    )
        return None if text else ""

    def of(self, problem: Problem) -> tuple[str, str] | None:
        """Sentence and way out; None where they are not known."""
        words = self.said.get(problem.code, {}).get(problem.variant or USUAL)
        fault = faults.ALL.get(problem.code)
        if words is None or fault is None:
            return None
        english = fault.words(problem.variant)
        try:
            values = self._values(problem, " ".join(english), " ".join(words))
            added = [
                self._added(text.format_map(problem.values), said)
                for text, said in zip(english, (problem.sentence, problem.help), strict=True)
            ]
        except Untold:
            return None
        sentence, help_ = (text.format_map(values) for text in words)
        return f"{sentence}{added[0]}", f"{help_}{added[1]}"

    def _added(self, text: str, said: str) -> object:
        """What was added to the words of the fault, as where cards have no room.

        Raises:
            Untold: if something else was said.
        """
        if not said.startswith(text):
            raise Untold
        return self.value(said.removeprefix(text))

    def _values(self, problem: Problem, english: str, words: str) -> dict[str, object]:
        """Those that are named; what stands in quotes in the English words is a name as it is."""
        wanted = names_in(words)
        if not wanted <= problem.values.keys():
            raise Untold
        quoted = _quoted(english)
        return {
            name: value if name in quoted else self.value(value)
            for name, value in problem.values.items()
            if name in wanted
        }

    def value(self, value: object) -> object:
        """A number as it is; a phrase or a list of names in that language.

        Raises:
            Untold: if it is something else.
        """
        if isinstance(value, int | float) or not value:
            return value
        value = str(value)
        if _is_simple(value):
            return value
        for pattern, phrase in self.phrases:
            if match := pattern.fullmatch(value):
                with suppress(Untold):  # another phrase may fit
                    return phrase.format_map(
                        {name: self.value(text) for name, text in match.groupdict().items()}
                    )
        for between in _BETWEEN:
            parts = between.split(value)
            if len(parts) > 1:
                with suppress(Untold):
                    parts[::2] = (str(self.value(part)) for part in parts[::2])
                    return "".join(self.joining.get(part, part) for part in parts)
        raise Untold


def _quoted(text: str) -> set[str]:
    """The names in quotes; the sign of a genitive is none."""
    without = re.sub(r"(?<=[\w}])'(?=s\b)", "", text)
    return {name for quote in re.findall("'([^']*)'", without) for name in names_in(quote)}


def _is_simple(text: str) -> bool:
    return not text or _SIMPLE.fullmatch(text) is not None


def names_in(text: str) -> set[str]:
    """The values that a text names."""
    return {name for _, name, _, _ in Formatter().parse(text) if name}


def told(problem: Problem, language: str) -> ToldFinding:
    """In that language, or in English."""
    words = fault_words(language)
    said = words.of(problem) if words is not None else None
    if said is None:
        return ToldFinding(problem.sentence, problem.help, ENGLISH)
    return ToldFinding(*said, language)


def told_refusal(fault: UserError, language: str) -> ToldFinding:
    """Why something is not done, in that language, or in English."""
    if words := fault_words(language):
        sentence, help_ = words.refusal(fault.sentence), words.refusal(fault.help)
        if sentence is not None and help_ is not None:
            return ToldFinding(sentence, help_, language)
    return ToldFinding(fault.sentence, fault.help, ENGLISH)


@cache
def fault_words(language: str) -> FaultWords | None:
    """None where there is no file of them, as for English."""
    path = Path(__file__).with_name(f"findings_{language}.yaml")
    if not path.is_file():
        return None
    root, problems = parse(path.read_text(encoding="utf-8"), path.name)
    assert not problems, problems
    found: dict[str, Any] = plain(root)
    phrases, refusals = (tuple(map(_phrase, found.pop(part).items())) for part in _PATTERNS)
    joining = found.pop("between names")
    said = {
        code: {variant: (pair[0], pair[1]) for variant, pair in variants.items()}
        for code, variants in found.items()
    }
    return FaultWords(said, phrases, joining, refusals)


def _phrase(pair: tuple[str, str]) -> tuple[re.Pattern[str], str]:
    """`the run of {name}` as a pattern."""
    english, said = pair
    parts = re.split(r"\{(\w+)\}", english)
    made = "".join(
        f"(?P<{part}>.+)" if number % 2 else re.escape(part) for number, part in enumerate(parts)
    )
    return re.compile(made), said
