"""What people read is plain English of the US trade: no word of `words_not_to_use.txt` is shown."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterable, Iterator
from functools import cache
from pathlib import Path
from typing import NamedTuple

import pytest
import yaml

from cardgen import faults
from cardgen.faults.fault import Fault
from tests.source_trees import nodes

pytestmark = pytest.mark.xdist_group("source trees")  # one worker parses them

ROOT = Path(__file__).parents[1]
SOURCE = ROOT / "cardgen"
ENGLISH = ROOT / "layouts" / "words" / "en.yaml"
LIST = Path(__file__).with_name("words_not_to_use.txt")
NAMES_IT = "British"  # a line that tells of the British spelling may show it
NOT_SHOWN = {"code", "base", "wrong", "right"}  # of a Fault; the examples are parts of jobs
# Words that are looked for in what people write, and SQL.
NO_SENTENCES = {SOURCE / "trade" / "private_text" / "known.py", SOURCE / "server" / "schema.py"}


class Shown(NamedTuple):
    """A text that a person reads, and where it is written."""

    path: Path
    line: int
    text: str


@cache
def not_to_use() -> dict[str, str]:
    """Each form, in lower case, and the better word."""
    lines = LIST.read_text(encoding="utf-8").splitlines()
    pairs = [line.rsplit(" = ", 1) for line in lines if line and not line.startswith("#")]
    return {form.lower(): better for forms, better in pairs for form in forms.split(", ")}


@cache
def _pattern() -> re.Pattern[str]:
    longest_first = sorted(not_to_use(), key=len, reverse=True)
    forms = (r"\s+".join(map(re.escape, form.split())) for form in longest_first)
    return re.compile(rf"(?<![\w-])(?:{'|'.join(forms)})(?![\w-])", re.IGNORECASE)


def found_in(shown: Shown) -> Iterator[str]:
    """`en.yaml:12: 'mend': better fix`, for each that is in a text."""
    lines = shown.text.splitlines()
    for match in _pattern().finditer(shown.text):
        number = shown.text.count("\n", 0, match.start())
        if NAMES_IT not in lines[number]:
            form = " ".join(match[0].lower().split())
            place = f"{shown.path.relative_to(ROOT)}:{shown.line + number}"
            yield f"{place}: '{form}': better {not_to_use()[form]}"


def documents() -> Iterator[Shown]:
    """The manual, the READMEs, and the jobs from which people learn."""
    paths = [ROOT / "README.md", ROOT / "layouts" / "README.md"]
    paths += sorted((SOURCE / "manual").glob("*.md")) + sorted((ROOT / "sample_jobs").iterdir())
    for path in paths:
        yield Shown(path, 1, path.read_text(encoding="utf-8"))


def printed() -> Iterator[Shown]:
    """Every value of the English catalog; its names are not shown."""
    for _, _, value in _catalog():
        yield Shown(ENGLISH, value.start_mark.line + 1, value.value)


@cache
def _names() -> frozenset[str]:
    """What the source calls the texts of the catalog: `legend.volts`, `volts`."""
    names = [(section.value, key.value) for section, key, _ in _catalog()]
    return frozenset(name for section, key in names for name in (key, f"{section}.{key}"))


def _catalog() -> Iterator[tuple[yaml.Node, yaml.Node, yaml.Node]]:
    for section, texts in _pairs(yaml.compose(ENGLISH.read_text(encoding="utf-8"))):
        for key, value in _pairs(texts):
            yield section, key, value


def _pairs(node: yaml.Node | None) -> list[tuple[yaml.Node, yaml.Node]]:
    assert isinstance(node, yaml.MappingNode)
    return list(node.value)


@cache
def sentences() -> tuple[Shown, ...]:
    """What the program says itself: every text of several words in its source."""
    return tuple(_sentences())


def _sentences() -> Iterator[Shown]:
    for path, of in nodes().items():
        if path in NO_SENTENCES:
            continue
        skipped = {id(node) for unread in _not_read(of) for node in ast.walk(unread)}
        for node in of:
            if not isinstance(node, ast.Constant) or not isinstance(node.value, str):
                continue
            if id(node) not in skipped and " " in node.value and node.value not in _names():
                yield Shown(path, node.lineno, node.value)


def _not_read(of: Iterable[ast.AST]) -> Iterator[ast.AST]:
    """Docstrings, and what of a fault is its name or an example."""
    for node in of:
        if isinstance(node, ast.Expr):
            yield node
        elif isinstance(node, ast.Call) and getattr(node.func, "id", "") == "Fault":
            yield from (each.value for each in node.keywords if each.arg in NOT_SHOWN)


@pytest.mark.parametrize("texts", [documents, printed, sentences])
def test_what_people_read_is_plain(texts: object) -> None:
    assert callable(texts)
    assert [line for shown in texts() for line in found_in(shown)] == []


def test_every_word_of_every_fault_is_looked_at() -> None:
    looked_at = {shown.text for shown in sentences() if shown.path.parent.name == "faults"}
    for fault in faults.ALL.values():
        said = [fault.title, fault.why, fault.fix]
        said += [text for variant in ("", *fault.variants) for text in _words(fault, variant)]
        assert [text for text in said if " " in text and text not in looked_at] == [], fault.code


def _words(fault: Fault, variant: str) -> tuple[str, str]:
    return fault.words(variant) if variant or fault.sentence else ("", fault.way_out)


def test_each_word_of_the_list_is_found_and_no_better_one_is() -> None:
    for form, better in not_to_use().items():
        (line,) = found_in(Shown(LIST, 7, f"One line\nand {form.capitalize()}, then more"))
        assert line == f"tests/words_not_to_use.txt:8: '{form}': better {better}"
        assert list(found_in(Shown(LIST, 1, better))) == []


def test_what_is_not_a_word_of_the_list_passes() -> None:
    for text in ("Amend it", "The British spellings colour and grey are read, too", "withholds"):
        assert list(found_in(Shown(LIST, 1, text))) == []
