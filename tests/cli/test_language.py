"""`cardgen print --language`: one, two, unknown, corrected by a folder of one's own."""

from __future__ import annotations

from pathlib import Path

import pytest

from cardgen.cli.main import main
from tests.jobs import SAMPLE_JOBS
from tests.outside.pages import text_by_pdfium

JOB = str(SAMPLE_JOBS / "larkspur.yaml")


def tags(out: Path, *options: str) -> str:
    assert main(["print", JOB, "--out", str(out), "--only", "valve-tags", *options]) == 0
    return " ".join(" ".join(text_by_pdfium((out / "valve-tags.pdf").read_bytes())).split())


def test_english_unless_another_is_named(tmp_path: Path) -> None:
    assert "red RD HOT · A-K1" in tags(tmp_path / "tags")


def test_spanish_and_both(tmp_path: Path) -> None:
    assert "rojo RD ESTAC. · A-K1" in tags(tmp_path / "es", "--language", "es")
    assert "red rojo RD HOT / EST. · A-K1" in tags(tmp_path / "both", "--language", "en, es")


def test_a_correction_of_ones_own(tmp_path: Path) -> None:
    """As `layouts/README.md` shows it."""
    (tmp_path / "words").mkdir()
    text = "valve tag:\n  hot: FASE\ncolors:\n  red: colorado\n"
    (tmp_path / "words" / "es.yaml").write_text(text, encoding="utf-8")
    said = tags(tmp_path / "tags", "--language", "es", "--layouts", str(tmp_path))
    assert "colorado RD FASE · A-K1" in said


@pytest.mark.parametrize(
    ("asked", "sentence"),
    [
        ("fr", "no language is called 'fr'"),
        ("en,", "no language is called ''"),
        ("es,ES", "no language is called 'ES'"),
    ],
)
def test_a_language_that_is_not_there(
    asked: str, sentence: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["print", JOB, "--out", str(tmp_path / "tags"), "--language", asked]) == 2
    assert capsys.readouterr().err == f"cardgen: {sentence}\nway out: there are en, es\n"
    assert not (tmp_path / "tags").exists()


def test_three_are_too_many(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "words").mkdir()
    (tmp_path / "words" / "de.yaml").write_text("colors: {red: rot}\n", encoding="utf-8")
    mine = ("--out", str(tmp_path / "tags"), "--layouts", str(tmp_path))
    assert main(["print", JOB, *mine, "--language", "en,es,de"]) == 2
    assert "a card has room for two languages, not for 3" in capsys.readouterr().err
    assert main(["print", JOB, *mine, "--language", "de", "--format", "short"]) == 1
    said = capsys.readouterr().err
    assert f"{tmp_path / 'words' / 'de.yaml'}:1:1: error: the language 'de' lacks" in said
    assert not (tmp_path / "tags").exists()
