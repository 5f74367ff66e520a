"""What other programs call: loading, checking and printing a job, and what is raised."""

from __future__ import annotations

import logging
import subprocess
import sys
from pathlib import Path

import pytest

import cardgen
from tests.jobs import SAMPLE_JOBS, edit, sample
from tests.outside.pages import sizes_mm, text_by_poppler

LARKSPUR = SAMPLE_JOBS / "larkspur.yaml"


@pytest.fixture
def broken(tmp_path: Path) -> Path:
    """Without the hot of A3, and with a current without its unit."""
    text = edit(sample("larkspur"), "box: VB-2, hot: A-K1 green", "box: VB-2")
    path = tmp_path / "broken.yaml"
    path.write_text(edit(text, "inrush: 0.40 A", "inrush: 0.40"), encoding="utf-8")
    return path


def test_importing_it_loads_nothing_else() -> None:
    """A program that only may print pays for it when it does."""
    script = "import sys, cardgen\nprint([m for m in sys.modules if m.startswith('cardgen.')])"
    done = subprocess.run(
        [sys.executable, "-c", script], capture_output=True, text=True, check=True
    )
    assert done.stdout == "[]\n"
    with pytest.raises(AttributeError, match="'cardgen' has no attribute 'paint'"):
        cardgen.paint  # type: ignore[attr-defined]  # noqa: B018


def test_everything_it_offers_says_what_it_is() -> None:
    for name in cardgen.__all__:
        assert getattr(cardgen, name).__doc__


def test_what_is_expected_at_each_valve() -> None:
    """A3: 145 ft of 18 AWG each way at 6.39 ohm for 1000 ft, by hand, and the coil."""
    found = cardgen.check(cardgen.load(LARKSPUR))
    assert [p.code for p in found.problems] == ["several-commons", "sensor-on-terminals"]
    assert not found.has_errors
    assert list(found.expected) == ["A1", "A2", "A3", "A4", "A5", "A6"]
    third = found.expected["A3"]
    assert (third.station, third.controller, third.terminal, third.box) == ("A3", "A", "3", "VB-2")
    assert third.ohms is not None and third.coil is not None
    wire = 2 * 145 * 6.39 / 1000
    assert third.ohms.expected == pytest.approx(30 + wire, abs=0.01)
    assert third.ohms.low == pytest.approx(0.85 * 30 + wire - 1, abs=0.01)
    assert third.ohms.high == pytest.approx(1.15 * 30 + wire + 1, abs=0.01)
    assert third.coil.expected == 30
    # The holding current lets least in the wire: 0.23 A x 1.85 ohm.
    assert third.volts[0] == pytest.approx(24 - 0.23 * wire, abs=0.01)
    assert third.milliamperes == 230


def test_what_a_meter_cannot_measure_is_not_expected() -> None:
    expected = cardgen.check(SAMPLE_JOBS / "heron.yaml").expected["D1"]
    assert expected.ohms is None and expected.volts == ()


def test_of_a_job_with_errors_all_are_told(broken: Path) -> None:
    with pytest.raises(cardgen.JobErrors) as raised:
        cardgen.load(str(broken))
    errors = [p for p in raised.value.problems if p.verdict == "error"]
    assert [(p.code, p.span.line) for p in errors] == [("unit-missing", 10), ("hot-missing", 41)]
    assert [line.rpartition("[")[2] for line in str(raised.value).splitlines()] == [
        "unit-missing]",
        "hot-missing]",
    ]
    found = cardgen.check(broken)
    assert found.has_errors and not found.expected
    assert found.problems == raised.value.problems


def test_a_file_that_is_not_there(tmp_path: Path) -> None:
    with pytest.raises(cardgen.JobErrors, match="file-unreadable"):
        cardgen.load(tmp_path / "gone.yaml")


def test_printing(tmp_path: Path) -> None:
    out = tmp_path / "tags"
    files = cardgen.print_job(
        LARKSPUR, out, only=["valve-tags", "spare-list"], paper="a4", languages=["es"], ink="one"
    )
    assert files == [out / "spare-list.pdf", out / "valve-tags.pdf"]
    tags = (out / "valve-tags.pdf").read_bytes()
    assert sizes_mm(tags) == [pytest.approx((210, 297), abs=0.1)]
    assert "rojo" in text_by_poppler(tags)[0]
    everything = cardgen.print_job(cardgen.load(LARKSPUR), out, stocks=["a7-a4"])
    assert {path.name for path in everything} >= {"packet.pdf", "materials.csv", "valve-tags.pdf"}
    assert all(path.is_file() for path in everything)


def test_a_job_with_errors_is_not_printed(broken: Path, tmp_path: Path) -> None:
    with pytest.raises(cardgen.JobErrors, match="hot-missing"):
        cardgen.print_job(broken, tmp_path / "tags")
    assert not (tmp_path / "tags").exists()


def test_what_does_not_fit_is_told_with_its_place(tmp_path: Path) -> None:
    path = tmp_path / "job.yaml"
    path.write_text(edit(sample("larkspur"), "front lawn west, spray", "W" * 60), encoding="utf-8")
    with pytest.raises(cardgen.JobErrors) as raised:
        cardgen.print_job(path, tmp_path / "tags", only=["valve-tags"])
    assert "text-too-long" in {problem.code for problem in raised.value.problems}
    assert not (tmp_path / "tags").exists()


@pytest.mark.parametrize(
    ("options", "sentence", "way_out"),
    [
        ({"paper": "a5"}, "there is no paper 'a5'", "there are letter and a4"),
        ({"ink": "two"}, "there is no ink 'two'", "there are color, gray and one"),
        ({"stocks": ["a7-leter"]}, "there is no stock 'a7-leter'", "did you mean 'a7-letter'?"),
        ({"languages": ["fr"]}, "there is no language 'fr'", "there are en and es"),
        ({"only": ["labels"]}, "there is no kind of card 'labels'", "there are valve-tags, "),
    ],
)
def test_a_name_that_is_not_known(
    tmp_path: Path, options: dict[str, str], sentence: str, way_out: str
) -> None:
    with pytest.raises(cardgen.UserError) as raised:
        cardgen.print_job(LARKSPUR, tmp_path / "tags", **options)  # type: ignore[arg-type]
    assert raised.value.sentence == sentence
    assert raised.value.help.startswith(way_out)
    assert not (tmp_path / "tags").exists()


def test_a_folder_that_is_a_file(tmp_path: Path) -> None:
    (tmp_path / "tags").write_bytes(b"mine")
    with pytest.raises(cardgen.UserError, match="is a file, not a folder"):
        cardgen.print_job(LARKSPUR, tmp_path / "tags", only=["valve-tags"])


def test_a_program_can_follow_the_stages(tmp_path: Path, caplog: pytest.LogCaptureFixture) -> None:
    with caplog.at_level(logging.INFO, logger="cardgen.stages"):
        cardgen.print_job(LARKSPUR, tmp_path / "tags", only=["valve-tags"])
    assert [message.split() for message in caplog.messages] == [
        *(["1", "reading"], ["2", "job"], ["3", "wiring"], ["4", "electrics"], ["5", "checks"]),
        *(["6", "asbuilt"], ["7", "cards"], ["8", "layout"], ["9", "draw"], ["11", "output"]),
    ]
