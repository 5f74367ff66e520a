"""Turn catalogue files into words, with every fault at its line and column.

`layouts/words/en.yaml` is the measure: another language has the same keys with the same values.
A file of one's own corrects single entries of a shipped language, or is a whole new one.
"""

from __future__ import annotations

import string
from collections.abc import Iterator, Mapping, Sequence
from functools import cache, lru_cache
from pathlib import Path

from cardgen.faults.value_faults import TOO_LONG, UNKNOWN_KEY
from cardgen.faults.word_faults import WORDS_MISSING, WORDS_VALUES
from cardgen.light_dataclass import dataclass
from cardgen.problems import Problem, Span, has_errors, in_order
from cardgen.reading import nodes, parse, read_text
from cardgen.reading.nodes import Node, Scalar, is_absent, short
from cardgen.reading.shapes import Report, expected, nearest
from cardgen.reading.shipped import shipped_folder
from cardgen.words.words import Catalogue, Words

MEASURE = "en"
LONGEST = 600  # letters of one text; a caution has about 100


@dataclass(frozen=True, slots=True)
class _CatalogueFile:
    """The texts of one file by `section.key`, each with its place."""

    span: Span
    texts: Mapping[str, Scalar]


def languages(extra: Path | None = None) -> tuple[str, ...]:
    """The tags of the languages there are, English first."""
    found = {path.stem for folder in _folders(extra) for path in folder.glob("*.yaml")}
    return (MEASURE, *sorted(found - {MEASURE}))


@cache
def english() -> Words:
    """The words as shipped, where no language is asked for."""
    words, problems = load_words((MEASURE,))
    assert words is not None and not problems, problems
    return words


def load_words(
    wanted: Sequence[str], extra: Path | None = None
) -> tuple[Words | None, tuple[Problem, ...]]:
    """The languages `wanted` (of those in `languages`), with what `extra/words` corrects."""
    report, usual = Report(), _measure()
    made = tuple(_catalogue(language, usual, extra, report) for language in wanted)
    problems = in_order(report.problems)
    return (None if has_errors(problems) else Words(made)), problems


@cache
def _measure() -> Mapping[str, str]:
    """The English texts as shipped."""
    report = Report()
    file = _read(_folders(None)[0] / f"{MEASURE}.yaml", report)
    assert file is not None and not report.problems, report.problems
    return {key: text.text for key, text in file.texts.items()}


def _folders(extra: Path | None) -> list[Path]:
    return [folder / "words" for folder in (shipped_folder(), *([extra] if extra else []))]


def _catalogue(
    language: str, usual: Mapping[str, str], extra: Path | None, report: Report
) -> Catalogue:
    """The shipped texts of a language, then those that somebody added; all keys must be there."""
    texts: dict[str, str] = dict(usual) if language == MEASURE else {}
    last: Span | None = None
    for folder in _folders(extra):
        path = folder / f"{language}.yaml"
        is_measure = language == MEASURE and folder == _folders(None)[0]
        if is_measure or not path.is_file():
            continue
        file = _read(path, report)
        if file is None:
            return Catalogue(language, texts)
        _compare(file, usual, report)
        texts |= {key: text.text for key, text in file.texts.items()}
        last = file.span
    missing = [key for key in usual if key not in texts]
    if missing and last is not None:
        report.add(WORDS_MISSING.at(last, language=language, count=len(missing), first=missing[0]))
    return Catalogue(language, texts)


def _read(path: Path, report: Report) -> _CatalogueFile | None:
    text, faults = read_text(path)
    report.problems += faults
    if text is None:
        return None
    file, faults = _parsed(text, str(path))
    report.problems += faults
    return file


@lru_cache(maxsize=16)
def _parsed(text: str, name: str) -> tuple[_CatalogueFile | None, tuple[Problem, ...]]:
    """Once as long as the file says the same: a process prints many jobs with the same words."""
    root, faults = parse(text, name)
    if root is None:
        return None, tuple(faults)
    report = Report()
    file = _CatalogueFile(Span(name, 1, 1), dict(_texts(root, report)))
    return file, (*faults, *report.problems)


def _texts(root: Node, report: Report) -> Iterator[tuple[str, Scalar]]:
    """Section by section, each text with its full name."""
    for section in _entries(
        root, "a block of sections", "'section:' with 'key: text' below", report
    ):
        name = section.key.text
        for entry in _entries(section.value, f"the block '{name}'", "'key: text'", report):
            said = entry.value
            if not isinstance(said, Scalar) or is_absent(said):
                what = f"the text '{short(entry.key.text)}'"
                report.add(expected(what, said, said.span, "write it in one line after the ':'"))
            elif len(said.text) > LONGEST:
                report.add(TOO_LONG.at(said.span, count=len(said.text), most=LONGEST))
            else:
                yield f"{name}.{entry.key.text}", said


def _entries(node: Node, what: str, form: str, report: Report) -> tuple[nodes.KeyValue, ...]:
    if isinstance(node, nodes.Mapping):
        return node.entries
    report.add(expected(what, node, node.span, f"write {form}"))
    return ()


def _compare(file: _CatalogueFile, usual: Mapping[str, str], report: Report) -> None:
    """No key that nobody prints; in each text the values that the English one has."""
    for key, said in file.texts.items():
        if key not in usual:
            suggestion = nearest(key, list(usual)) or "'layouts/words/en.yaml' has all names"
            report.add(UNKNOWN_KEY.at(said.span, variant="words", key=key, suggestion=suggestion))
            continue
        found, wanted = values_of(said.text), values_of(usual[key]) or frozenset()
        if found is None:
            report.add(WORDS_VALUES.at(said.span, variant="braces"))
        elif found != wanted:
            more, less = _in_braces(found - wanted), _in_braces(wanted - found)
            variant = "other" if more and less else "more" if more else ""
            report.add(WORDS_VALUES.at(said.span, variant=variant, key=key, more=more, less=less))


def _in_braces(names: frozenset[str]) -> str:
    return ", ".join(f"'{{{name}}}'" for name in sorted(names))


@lru_cache(maxsize=4096)
def values_of(text: str) -> frozenset[str] | None:
    """The names in braces; None if the braces cannot be read or ask for more than a value."""
    try:
        parts = list(string.Formatter().parse(text))
    except ValueError:
        return None
    names = [name for _, name, form, turn in parts if name is not None or form or turn]
    if any(not (name or "").replace("_", "a").isalnum() for name in names):
        return None
    if any(form or turn for _, _, form, turn in parts):
        return None
    return frozenset(name for name in names if name)
