"""What all pages of a print have in common: the inks."""

from __future__ import annotations

import io
import shutil
from functools import cache
from pathlib import Path

import pikepdf
import pytest
from PIL import ImageChops

from cardgen.cli.main import main
from cardgen.examine import examine_text
from cardgen.output.print_request import PrintRequest
from cardgen.output.printing import Print, make_print
from cardgen.printer import Ink
from tests.draw.test_pdf import colors
from tests.jobs import SAMPLE_JOBS, sample
from tests.outside.pages import by_poppler

pytestmark = pytest.mark.xdist_group("print in inks")
BLACK_AND_WHITE = {("g", (0.0,)), ("g", (1.0,))}


@cache
def printed(ink: Ink) -> Print:
    made, problems = make_print(examine_text(sample("larkspur")), PrintRequest(ink=ink))
    assert made is not None, problems
    return made


def operators(ink: Ink) -> dict[str, set[tuple[str, tuple[float, ...]]]]:
    return {
        name: colors(data) for name, data in printed(ink).files.items() if name.endswith(".pdf")
    }


def test_one_ink_is_black_and_white_in_every_file() -> None:
    found = operators(Ink.ONE)
    assert {"valve-tags.pdf", "packet.pdf", "wiring-drawing.pdf", "door-legend-A.pdf"} <= set(found)
    assert all(each <= BLACK_AND_WHITE for each in found.values())


def test_grays_are_grays_in_every_file() -> None:
    found = operators(Ink.GRAY)
    assert {operator for each in found.values() for operator, _ in each} == {"g"}
    assert not found["valve-tags.pdf"] <= BLACK_AND_WHITE


def test_color_is_the_usual() -> None:
    usual, _ = make_print(examine_text(sample("larkspur")))
    assert usual is not None
    assert usual.files == printed(Ink.COLOR).files
    assert "rg" in {operator for operator, _ in operators(Ink.COLOR)["valve-tags.pdf"]}


def test_a_renderer_sees_no_color_and_no_gray_areas_in_one_ink() -> None:
    picture = by_poppler(printed(Ink.ONE).files["valve-tags.pdf"], dpi=200)
    red, green, blue = picture.split()
    assert ImageChops.difference(red, green).getextrema() == (0, 0)
    assert ImageChops.difference(red, blue).getextrema() == (0, 0)
    # Letters have soft edges on a screen; what is neither black nor white is little.
    gray = sum(red.histogram()[64:192])
    assert gray < 0.02 * red.width * red.height


def test_the_words_are_the_same_in_all_inks() -> None:
    def texts(ink: Ink) -> list[bytes]:
        with pikepdf.open(io.BytesIO(printed(ink).files["valve-tags.pdf"])) as document:
            return [
                bytes(step.operands[0])
                for page in document.pages
                for step in pikepdf.parse_content_stream(page)
                if str(step.operator) == "Tj"
            ]

    assert texts(Ink.ONE) == texts(Ink.GRAY) == texts(Ink.COLOR)


def test_the_option(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    job = tmp_path / "larkspur.yaml"
    shutil.copy(SAMPLE_JOBS / "larkspur.yaml", job)
    arguments = ["print", str(job), "--out", str(tmp_path / "tags"), "--only", "valve-tags"]
    for ink in Ink:
        assert main([*arguments, "--ink", str(ink), "--replace"]) == 0, capsys.readouterr().err
        made = (tmp_path / "tags" / "valve-tags.pdf").read_bytes()
        assert (colors(made) <= BLACK_AND_WHITE) is (ink is Ink.ONE)
