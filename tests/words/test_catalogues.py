"""The shipped catalogues: whole, printable, nothing forgotten and nothing left over."""

from __future__ import annotations

import ast
import re

import pytest

from cardgen import fonts
from cardgen.fonts import Weight
from cardgen.layout import load_layouts
from cardgen.trade.colors import color_words
from cardgen.words import Words, languages, load_words
from cardgen.words.words_loader import values_of
from tests.source_trees import PACKAGE, nodes

# Equal in English and Spanish: letters, signs, and words that both have (looked through).
SAME = re.compile(
    r"(\W|\d|\{\w+\}|[A-Z]{1,3}\b|rev\b|mA\b|CONTR\b|contr\b|valv\b|isol\b|temp\b|[Cc]ables?\b|Error\b|[Cc]onductor\b|[Tt]erminal\b"
    r"|[Ss]ensor\b|[Cc]olor\b|ohms\b|volts\b|on\b|no\b)*"
)


def texts(language: str) -> dict[str, str]:
    words, problems = load_words((language,))
    assert words is not None, problems
    return dict(words.catalogues[0].texts)


ENGLISH = texts("en")
OTHERS = [language for language in languages() if language != "en"]


@pytest.mark.parametrize("language", OTHERS)
def test_each_key_of_english_is_in_the_others_with_the_same_values(language: str) -> None:
    found = texts(language)
    assert found.keys() == ENGLISH.keys()
    assert {k: values_of(v) for k, v in found.items()} == {
        k: values_of(v) for k, v in ENGLISH.items()
    }


def test_no_text_was_left_in_english() -> None:
    spanish = texts("es")
    left = {k: v for k, v in ENGLISH.items() if spanish[k] == v and not SAME.fullmatch(v)}
    assert left == {}


@pytest.mark.parametrize("language", languages())
def test_the_fonts_have_every_letter(language: str) -> None:
    """Of the catalogue, and of Spanish (Real Academia Española, alphabet and signs)."""
    letters = "".join(texts(language).values()) + "áéíóúüñÁÉÍÓÚÜÑ¿¡ªº«»"
    for weight in Weight:
        assert fonts.missing(letters, weight) == ()


@pytest.mark.parametrize("language", languages())
def test_every_color_has_its_word(language: str) -> None:
    words, _ = load_words((language,))
    assert words is not None
    said = [words.color(name).printed for name in color_words()]
    assert len(set(said)) == len(said)
    assert {f"colors.{name}" for name in color_words()} <= texts(language).keys()


def test_every_title_of_the_faces_is_translated() -> None:
    layouts, _ = load_layouts(None, Words(()))
    titles = {b.title for f in layouts.faces for c in f.columns for b in c.blocks if b.title}
    assert titles == set()  # in no language at all nothing is left of a title
    layouts, _ = load_layouts()
    titles = {b.title for f in layouts.faces for c in f.columns for b in c.blocks if b.title}
    assert titles <= {v for k, v in ENGLISH.items() if k.startswith("titles.")}


def strings() -> tuple[set[str], set[str]]:
    """Every string of the program, and how the built ones begin."""
    whole: set[str] = set()
    begins: set[str] = set()
    for found in nodes().values():
        for node in found:
            if isinstance(node, ast.Constant) and isinstance(node.value, str):
                whole.add(node.value)
            elif isinstance(node, ast.JoinedStr) and isinstance(node.values[0], ast.Constant):
                begins.add(str(node.values[0].value))
    return whole, begins


@pytest.mark.xdist_group("source trees")  # one worker parses them
def test_no_text_waits_for_nobody() -> None:
    """A text that nothing prints is work for whoever corrects it."""
    whole, begins = strings()
    sections = whole & {key[: dot.start()] for key in ENGLISH for dot in re.finditer(r"\.", key)}
    built = tuple(begin for begin in begins if "." in begin)
    titles = {
        line
        for path in (PACKAGE.parent / "layouts" / "faces").glob("*.yaml")
        for line in [path.read_text(encoding="utf-8")]
    }

    def printed(key: str) -> bool:
        section, _, name = key.removesuffix(" short").removesuffix(" one").partition(".")
        if section == "titles":
            return any(name in face for face in titles)
        if f"{section}.{name}" in whole or (section in sections and name in whole):
            return True
        return f"{section}.{name}".startswith(built)

    unused = [key for key in ENGLISH if not key.startswith("record.") and not printed(key)]
    assert unused == []
