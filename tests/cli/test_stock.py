"""`cardgen stock` as a person types it."""

from __future__ import annotations

from pathlib import Path

import pytest

from cardgen.cli.main import main
from cardgen.reading.shipped import shipped_folder
from tests.jobs import SAMPLE_JOBS
from tests.outside.pages import sizes_mm, structure_faults

FLAG = (shipped_folder() / "stock" / "flag-a4.yaml").read_text(encoding="utf-8")


def own(folder: Path, text: str) -> Path:
    (folder / "stock").mkdir()
    (folder / "stock" / "mine.yaml").write_text(text, encoding="utf-8")
    return folder


def test_every_stock_is_listed_and_drawn(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["stock"]) == 0
    out = capsys.readouterr().out
    for path in (shipped_folder() / "stock").glob("*.yaml"):
        assert f" {path.stem}\n" in out


def test_a_stock_is_drawn_as_it_lies_in_the_printer(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["stock", "roll-50x75"]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert [line[:7] for line in lines[:5]] == ["┌─────┐", "│▒▒▒▒o│", *["│▒▒▒▒▒│"] * 3]
    assert [line[34:] for line in lines[:5]] == [
        "roll-50x75",
        "50 x 75 mm thermal transfer roll, 203 dpi, one tag a page",
        "paper 50 x 75 mm, one card of 50 x 75 mm",
        "203.2 dots per inch, black only",
        "for: box tag, valve tag",
    ]


def test_a_proof_is_one_page_of_the_paper(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "proof.pdf"
    assert main(["stock", "--proof", "id-1-letter", "--out", str(out)]) == 0
    assert sizes_mm(out.read_bytes()) == [pytest.approx((215.9, 279.4), abs=0.01)]
    assert structure_faults(out.read_bytes()) == []
    assert "x = 20 - that" in capsys.readouterr().out


@pytest.mark.parametrize("by", ["option", "environment"])
def test_a_folder_of_ones_own_is_found(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, by: str
) -> None:
    folder = own(tmp_path, FLAG.replace("about: wire", "about: my wire"))
    more = ["--layouts", str(folder)] if by == "option" else []
    if by == "environment":
        monkeypatch.setenv("CARDGEN_LAYOUTS", str(folder))
    assert main(["stock", "mine", *more]) == 0
    assert "my wire flags" in capsys.readouterr().out


def test_a_fault_in_ones_own_is_shown_with_its_line(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = own(tmp_path, FLAG.replace("safe: 1 mm", "safe: 1"))
    assert main(["stock", "--layouts", str(folder)]) == 1
    err = capsys.readouterr().err
    assert "| safe: 1\n" in err
    assert "      |       ^" in err
    assert "[unit]" in err


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (
            ["flag-letters"],
            "no stock is called 'flag-letters'\nway out: did you mean 'flag-letter'?",
        ),
        (["--proof", "flag-letter"], "a proof needs both"),
        (["--out", "x.pdf"], "a proof needs both"),
        (["--layouts", "nowhere"], "'nowhere' has no folder 'stock'"),
        (["--proof", "flag-letter", "--out", "no/such/x.pdf"], "cannot write 'no/such/x.pdf'"),
    ],
)
def test_wrong_use_is_said(
    arguments: list[str], said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["stock", *arguments]) == 2
    assert said in capsys.readouterr().err


def test_each_kind_of_card_goes_on_the_stock_named_for_it(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    own(tmp_path, FLAG.replace("width: 297 mm, height: 210", "width: 300 mm, height: 211"))
    job, out = str(SAMPLE_JOBS / "larkspur.yaml"), tmp_path / "out"
    stocks = ["--stock", "roll-50x75", "--stock", "mine", "--layouts", str(tmp_path)]
    assert main(["print", job, "--out", str(out), *stocks]) == 0
    capsys.readouterr()
    assert sizes_mm((out / "valve-tags.pdf").read_bytes())[0] == pytest.approx((50, 75), abs=0.01)
    assert sizes_mm((out / "wire-flags.pdf").read_bytes())[0] == pytest.approx((300, 211), abs=0.01)
    legend = sizes_mm((out / "door-legend-A.pdf").read_bytes())[0]
    assert legend == pytest.approx((279.4, 215.9), abs=0.01)
