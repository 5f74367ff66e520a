"""Say what is wrong as a page does: in its language, with its own cells and fields as the way out.

What no file of words knows is said in English, as on the terminal.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, replace
from functools import cache, partial
from pathlib import Path
from string import Formatter
from typing import Any

from cardgen import faults
from cardgen.desk.kept_reasons import Reason
from cardgen.editing import NotReadYet
from cardgen.editing.plain_values import plain
from cardgen.problems import Problem, UserError
from cardgen.reading import parse
from cardgen.server.accept_language import words_in
from cardgen.trade.colors import COLORS
from cardgen.words import Words

ENGLISH = "en"
USUAL = "usual"  # what a fault says that has no variant
TOLD = "told"  # what is in that language already
_PATTERNS = ("phrases", "refusals")
# A name of the job, with the color and flag of a conductor; an amount; or what stands in quotes or
# brackets, as one writes it.
_NAME = r"[^\s,;()']*[A-Z0-9][^\s,;()']*"
_COLOR = rf"(?:{'|'.join(map(re.escape, COLORS))})"
_UNIT = "ft|m|in|cm|mm|mm2|AWG|V|A|mA|VA|ohms?|kohm|Mohm|[kM]?Ω|%"
_SIMPLE = re.compile(
    rf"'[^']*'|\"[^\"]*\"|\{{.*\}}|\[\[.*\]\]|\[[^\]]*\]|[^\w\s]|"
    rf"{_COLOR}(?:/{_COLOR})?(?: {_NAME})?|[0-9.,]+(?: (?:{_UNIT}))?|"
    rf"{_NAME}(?: {_NAME})?(?: {_COLOR}(?:/{_COLOR})?)?(?: {_NAME})?"
)
_KEY_AND_VALUE = re.compile(r"'([a-z][a-z0-9 ]*): ([^']*)'")
_QUOTED_LIST = re.compile(r"(?<=')\[+([^\[\]]*)\]+(?=')")
_LIST = re.compile(r"\[+([^\[\]]*)\]+")
_NAMED = re.compile("<([a-z][a-z0-9 ]*)>")
_SMALL = re.compile(r"[^\W\dA-Z_][^\W\dA-Z_-]*")
_OF_COLOR = re.compile(rf" {_COLOR}(?:/{_COLOR})?(?: {_NAME})?$")
_CELL = re.compile(r"[A-Z]+[0-9]+: ")  # of a sheet
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
        language: English has only what a page says otherwise than the terminal.
        of_the_text: codes of what no cell shows; the way out is in a text editor.
        said: by code and variant, the sentence and the way out.
        phrases: what a value may be, as a pattern, with what it is in that language.
        joining: what stands between names, in that language.
        refusals: what the desk says when it refuses, as patterns.
    """

    language: str
    of_the_text: frozenset[str]
    said: Mapping[str, Mapping[str, tuple[str, str]]]
    phrases: tuple[tuple[re.Pattern[str], str], ...]
    joining: Mapping[str, str]
    refusals: tuple[tuple[re.Pattern[str], str], ...]

    def refusal(self, text: str) -> str | None:
        """What is between quotes in it is as it is, and so is what is `told`; None if not known."""
        for pattern, said in self.refusals:
            if match := pattern.fullmatch(text):
                with suppress(Untold):
                    return self._filled(said, match)
        return None if text and self.language != ENGLISH else text

    def _filled(self, said: str, match: re.Match[str]) -> str:
        """With what was found in the English words; in quotes it is as it is."""
        as_it_is, wanted = {TOLD, *_quoted(said)}, names_in(said)
        values = {
            name: found if name in as_it_is else self.value(found)
            for name, found in match.groupdict().items()
            if name in wanted
        }
        return said.format_map(values)

    def of(self, problem: Problem | Reason) -> tuple[str, str] | None:
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
        sentence, help_ = (
            f"{before}{text.format_map(values)}{after}"
            for text, (before, after) in zip(words, added, strict=True)
        )
        return sentence, help_

    def _added(self, text: str, said: str) -> tuple[str, object]:
        """What was added to the words of the fault: its cell, or where cards have no room.

        Raises:
            Untold: if something else was said.
        """
        cell = match[0] if (match := _CELL.match(said)) and not text.startswith(match[0]) else ""
        if not said.startswith(text, len(cell)):
            raise Untold
        return cell, self.value(said[len(cell) + len(text) :])

    def _values(self, problem: Problem | Reason, english: str, words: str) -> dict[str, object]:
        """Those that are named; what is in quotes in either language is a name as it is."""
        wanted = names_in(words)
        if not wanted <= problem.values.keys():
            raise Untold
        quoted = _quoted(english) | _quoted(words)
        return {
            name: value if name in quoted or value in problem.things else self.value(value)
            for name, value in problem.values.items()
            if name in wanted
        }

    def value(self, value: object) -> object:
        """A number as it is; a phrase or a list of names in that language.

        Raises:
            Untold: if it is something else.
        """
        if isinstance(value, int | float) or not value or self.language == ENGLISH:
            return value
        value = str(value)
        if _is_simple(value):
            return value
        for pattern, phrase in self.phrases:
            if match := pattern.fullmatch(value):
                with suppress(Untold):  # another phrase may fit
                    return self._filled(phrase, match)
        for between in _BETWEEN:
            parts = between.split(value)
            if len(parts) > 1:
                with suppress(Untold):
                    parts[::2] = (str(self.value(part)) for part in parts[::2])
                    return "".join(self.joining.get(part, part) for part in parts)
        if _is_small_name(value):
            return value
        raise Untold


def _quoted(text: str) -> set[str]:
    """The names in quotes; the sign of a genitive is none."""
    without = re.sub(r"(?<=[\w}])'(?=s\b)", "", text)
    return {name for quote in re.findall("'([^']*)'", without) for name in names_in(quote)}


def _is_simple(text: str) -> bool:
    return not text or _SIMPLE.fullmatch(text) is not None


def _is_small_name(text: str) -> bool:
    """`shed` or `main red`: a word in small letters that no fault says, with a color or without."""
    name = _OF_COLOR.sub("", text)
    return _SMALL.fullmatch(name) is not None and name not in _english_words()


@cache
def _english_words() -> frozenset[str]:
    said = (
        " ".join(fault.words(variant))
        for fault in faults.ALL.values()
        for variant in ([""] if fault.sentence else []) + [*fault.variants]
    )
    return frozenset(_SMALL.findall(" ".join(said)))


def names_in(text: str) -> set[str]:
    """The values that a text names."""
    return {name for _, name, _, _ in Formatter().parse(text) if name}


def told(problem: Problem | Reason, language: str) -> ToldFinding:
    """In that language, or in English."""
    said = fault_words(language).of(problem)
    if said is None:
        language, said = ENGLISH, (problem.sentence, problem.help)
    sentence, help_ = said
    is_of_text = problem.code in fault_words(ENGLISH).of_the_text
    return ToldFinding(sentence, help_ if is_of_text else in_cells(help_, language), language)


def in_cells(help_: str, language: str) -> str:
    """With what a file would say as a cell has it: `'common: [A-K1 red]'`, `[white, red]`."""

    def as_cell(found: re.Match[str]) -> str:
        label = words_in(language).own("desk", f"column {found[1]}").printed
        return f"'{label}': '{_LIST.sub(_bare, found[2])}'"

    text = _KEY_AND_VALUE.sub(as_cell, help_)
    text = _QUOTED_LIST.sub(_bare, text)
    return _LIST.sub(lambda found: f"'{found[1]}'", text)


def _bare(found: re.Match[str]) -> str:
    return found[1]


def told_refusal(fault: UserError, language: str) -> ToldFinding:
    """Why something is not done, in that language, or in English."""
    if isinstance(fault, NotReadYet):
        return _told_first(fault, language)
    words = fault_words(language)
    sentence, help_ = words.refusal(fault.sentence), words.refusal(fault.help)
    if sentence is None or help_ is None:
        return ToldFinding(fault.sentence, fault.help, ENGLISH)
    return ToldFinding(sentence, help_, language)


def _told_first(fault: NotReadYet, language: str) -> ToldFinding:
    said, words = told(fault.first, language), fault_words(language)
    sentence = f"{fault.sentence.removesuffix(fault.first.sentence)}{said.sentence}"
    whole = words.refusal(sentence) if said.language == language else None
    return replace(said, sentence=whole or sentence)


def told_reason(reason: Reason, language: str) -> ToldFinding:
    """What was a problem or a refusal, when it is shown."""
    if reason.code:
        return told(reason, language)
    return told_refusal(UserError(reason.sentence, reason.help), language)


def as_sentence(text: str) -> str:
    """With a capital and a full stop, which a terminal leaves out."""
    return f"{text[:1].upper()}{text[1:]}" + ("" if text.endswith((".", "?")) else ".")


@cache
def fault_words(language: str) -> FaultWords:
    """Those of a language; a catalogue that was added has none, so it is told in English."""
    path = Path(__file__).with_name(f"findings_{language}.yaml")
    text = path.read_text(encoding="utf-8") if path.is_file() else ""
    root, problems = parse(_NAMED.sub(partial(_named, words_in(language)), text), path.name)
    assert not problems or not text, problems
    found: dict[str, Any] = plain(root) if text else {}
    phrases, refusals = (tuple(map(_phrase, found.pop(part, {}).items())) for part in _PATTERNS)
    joining = found.pop("between names", {})
    of_the_text = frozenset(found.pop("of the text", ()))
    said = {
        code: {variant: _pair(code, variant, words) for variant, words in variants.items()}
        for code, variants in found.items()
    }
    return FaultWords(language, of_the_text, said, phrases, joining, refusals)


def _named(words: Words, found: re.Match[str]) -> str:
    """`<column hot>`, what a page calls that column."""
    return f"'{words(f'desk.{found[1]}').printed}'"


def _pair(code: str, variant: str, words: str | Sequence[str]) -> tuple[str, str]:
    """A way out alone has the sentence of the fault."""
    if isinstance(words, str):
        return faults.ALL[code].words("" if variant == USUAL else variant)[0], words
    return words[0], words[1]


def _phrase(pair: tuple[str, str]) -> tuple[re.Pattern[str], str]:
    """`the run of {name}` as a pattern."""
    english, said = pair
    parts = re.split(r"\{(\w+)\}", english)
    made = "".join(
        f"(?P<{part}>.+)" if number % 2 else re.escape(part) for number, part in enumerate(parts)
    )
    return re.compile(made), said
