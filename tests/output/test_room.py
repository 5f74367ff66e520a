"""What has no room is told beforehand, and the rest is printed where that is asked for."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from cardgen.cli.main import main
from tests.jobs import edit, sample

STOCK = ("--stock", "id-1-letter")
LONG = "Staudenbeetbewässerungsventilschacht Süd"  # a word wider than the card


@pytest.fixture
def job(tmp_path: Path) -> Path:
    """Larkspur with an area that no card of that size takes."""
    path = tmp_path / "job.yaml"
    path.write_text(edit(sample("larkspur"), "front beds, drip", LONG), encoding="utf-8")
    return path


def test_check_tells_it_as_a_warning(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", str(job), *STOCK]) == 0
    told = capsys.readouterr()
    assert f"warning: '{LONG}' on the valve tag 'A3' is" in told.err
    assert "it fits on 'shipping-tag-" in told.err
    assert "'--without-misfits' prints the rest" in told.err


def test_check_on_roomy_stock_has_nothing_to_tell(
    job: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["check", str(job), "--stock", "shipping-tag-8"]) == 0
    assert "valve tag 'A3'" not in capsys.readouterr().err


def test_a_job_with_an_error_is_not_measured(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "job.yaml"
    text = edit(sample("larkspur"), "front beds, drip", LONG).replace(
        "hot: A-K1 green", "hot: A-K9 red"
    )
    path.write_text(text, encoding="utf-8")
    assert main(["check", str(path), *STOCK]) == 1
    assert "text-too-long" not in capsys.readouterr().err


def test_nothing_is_printed_unless_the_rest_is_asked_for(
    job: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "out"
    command = ["print", str(job), "--out", str(out), "--only", "valve-tags", *STOCK]
    assert main(command) == 1
    assert not out.exists() or not list(out.glob("*.pdf"))
    capsys.readouterr()
    assert main([*command, "--without-misfits"]) == 0
    told = capsys.readouterr()
    assert "5 cards on 1 page" in told.out
    assert "Not printed, for there is no room: valve tag A3." in told.out
    assert "warning: " in told.err
    (revision,) = json.loads((out / "cardgen-manifest.json").read_text())["revisions"].values()
    assert "valve tag A3" not in revision["cards"]  # it does not hang anywhere
    assert "valve tag A4" in revision["cards"]
