"""A printer that shifts its prints: measured on the alignment sheet, entered once, and corrected.

How far is read off the pictures that another program makes of the PDF files.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pypdfium2
import pytest

from tests.desk.clients import JOB, DeskAnswer, DeskClient, answering
from tests.jobs import sample
from tests.outside.pages import by_poppler

DPI = 254  # ten dots a millimeter


@pytest.fixture
def desk(tmp_path: Path) -> Iterator[DeskClient]:
    (tmp_path / "larkspur.yaml").write_text(sample("larkspur"), encoding="utf-8")
    with answering(tmp_path) as port:
        yield DeskClient(port)


def printed(desk: DeskClient, **fields: str) -> DeskAnswer:
    form = {"only": "valve-tags", "stock": "id-1-letter", "language": "en", **fields}
    answer = desk.form(f"{JOB}/print", form)
    for kept in answer.headers.get_all("Set-Cookie") or ():  # as a browser keeps it
        name, value = kept.partition(";")[0].split("=")
        others = [each for each in desk.cookie.split("; ") if not each.startswith(f"{name}=")]
        desk.cookie = "; ".join([*others, f"{name}={value}"])
    return answer


def corner(made: bytes) -> tuple[float, float]:
    """Of all that is printed, left and top in mm."""
    dark = np.asarray(by_poppler(made, dpi=DPI).convert("L")) < 128
    return np.flatnonzero(dark.any(axis=0))[0] / 10, np.flatnonzero(dark.any(axis=1))[0] / 10


def tags(desk: DeskClient) -> bytes:
    return desk.get(f"{JOB}/cards/valve-tags.pdf").content


def test_an_offset_moves_the_print_and_is_kept_for_the_next(desk: DeskClient) -> None:
    assert printed(desk).status == 200
    true, (left, top) = tags(desk), corner(tags(desk))
    assert printed(desk, **{"offset x": "1.5", "offset y": "-2 mm"}).status == 200
    moved = tags(desk)
    assert corner(moved) == pytest.approx((left + 1.5, top - 2), abs=0.15)
    assert "id-1-letter: x 1.5 mm, y -2 mm" in desk.get(f"{JOB}/print").text
    whole_cookie = desk.cookie
    printed(desk, **{"offset x": "0.5"})
    assert corner(tags(desk)) == pytest.approx((left + 0.5, top - 2), abs=0.15)
    printed(desk, **{"offset x": "0", "offset y": "0"})
    assert tags(desk) == true
    printed(desk)
    assert tags(desk) == true
    desk.cookie = whole_cookie
    printed(desk)
    assert tags(desk) == moved
    for spoiled in ("x:1", "1.2.3:0", "9:0"):
        desk.cookie = f"{whole_cookie.partition(';')[0]}; offset-id-1-letter={spoiled}"
        assert printed(desk).status == 200 and tags(desk) == true


@pytest.mark.parametrize(
    ("typed", "told"),
    [
        ("left", "&#x27;left&#x27; is no number of mm"),
        ("5.5", "a printer shifts a print by no more than 5 mm"),
        ("1e0", "&#x27;1e0&#x27; is no number of mm"),
    ],
)
def test_what_is_no_offset_is_told(desk: DeskClient, typed: str, told: str) -> None:
    refused = printed(desk, **{"offset x": typed})
    assert refused.status == 409 and told.lower() in refused.text.lower()
    assert desk.get(f"/proof.pdf?stock=id-1-letter&offset+x={typed}").status == 409


@pytest.mark.parametrize(
    ("language", "lines"),
    [
        (
            "en",
            (
                "Alignment sheet of 'id-1-letter'",
                "x = 20 - that + 1.5",
                "under 'The print is shifted'",
            ),
        ),
        (
            "es",
            ("Hoja de alineación de 'id-1-letter'", "x = 20 - lo medido + 1.5", "regla de acero"),
        ),
    ],
)
def test_the_alignment_sheet_speaks_as_the_page(
    desk: DeskClient, language: str, lines: tuple[str, ...]
) -> None:
    path = "/proof.pdf?stock=id-1-letter&offset+x=1.5&offset+y="
    answer = desk.get(path, **{"Accept-Language": language})
    text = pypdfium2.PdfDocument(answer.content)[0].get_textpage().get_text_range()
    assert all(line in text for line in lines), text
    assert "{" not in text  # what a stock file says is for those who write one
