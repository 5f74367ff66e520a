"""Catalogue files: complete, with the values of the English text, faults at their place."""

from __future__ import annotations

from pathlib import Path

import pytest

from cardgen.problems import has_errors
from cardgen.words import languages, load_words


@pytest.mark.parametrize("language", languages())
def test_what_is_shipped_has_no_fault(language: str) -> None:
    words, problems = load_words((language,))
    assert problems == ()
    assert words is not None
    assert words.languages == (language,)


def own(folder: Path, text: str, language: str = "es") -> Path:
    (folder / "words").mkdir()
    (folder / "words" / f"{language}.yaml").write_text(text, encoding="utf-8")
    return folder


def test_a_file_of_ones_own_corrects_single_texts(tmp_path: Path) -> None:
    folder = own(tmp_path, "colors:\n  brown: marrón\n")
    words, problems = load_words(("en", "es"), folder)
    assert words is not None
    assert problems == ()
    assert words.color("brown/red").printed == "brown/red\u00a0/ marrón/rojo"


def test_a_file_that_says_something_else_is_read_again(tmp_path: Path) -> None:
    folder = own(tmp_path, "colors: {brown: [marrón]}\n")
    assert [len(load_words(("es",), folder)[1]) for _ in range(2)] == [1, 1]
    for word in ("marrón", "café"):
        text = f"colors: {{brown: {word}}}\n"
        (folder / "words" / "es.yaml").write_text(text, encoding="utf-8")
        words, problems = load_words(("es",), folder)
        assert words is not None and problems == ()
        assert words.color("brown").printed == word


def test_english_can_be_corrected_too(tmp_path: Path) -> None:
    words, _ = load_words(("en",), own(tmp_path, "colors: {gray: gray}\n", "en"))
    assert words is not None
    assert words.color("gray").printed == "gray"


def test_a_new_language_has_all_texts(tmp_path: Path) -> None:
    folder = own(tmp_path, "colors:\n  red: rot\n", "de")
    assert languages(folder) == ("en", "de", "es")
    words, (problem,) = load_words(("de",), folder)
    assert words is None
    assert problem.code == "words-missing"
    english = (Path(__file__).parents[2] / "layouts/words/en.yaml").read_text(encoding="utf-8")
    (folder / "words" / "de.yaml").write_text(english, encoding="utf-8")
    assert load_words(("de",), folder)[1] == ()


@pytest.mark.parametrize(
    ("text", "place", "code"),
    [
        ("colors:\n  rde: rojo\n", "2:8", "unknown-key"),
        ("materials:\n  tags: muchas\n", "2:9", "words-values"),
        ("materials:\n  tags: '{numero} etiquetas'\n", "2:9", "words-values"),
        ("materials:\n  tags: '{number'\n", "2:9", "words-values"),
        ("materials:\n  tags: '{number.real} etiquetas'\n", "2:9", "words-values"),
        ("materials:\n  tags: '{number:>500} etiquetas'\n", "2:9", "words-values"),
        ("colors:\n  red: [rojo]\n", "2:8", "wrong-type"),
        ("colors:\n  red:\n", "2:7", "wrong-type"),
        ("colors: rojo\n", "1:9", "wrong-type"),
        ("colors:\n  red: rojo\n  red: rojo\n", "3:3", "duplicate-key"),
        ("colors: [\n", "2:1", "not-yaml"),
        (f"colors:\n  red: {'o' * 601}\n", "2:8", "too-long"),
    ],
)
def test_faults_stand_at_line_and_column(tmp_path: Path, text: str, place: str, code: str) -> None:
    words, problems = load_words(("es",), own(tmp_path, text))
    assert [(f"{p.span.line}:{p.span.column}", p.code) for p in problems] == [(place, code)]
    assert words is None
    assert has_errors(problems)
