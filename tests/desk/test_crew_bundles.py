"""What a crew takes along: tags of its boxes as it walks and sheets with nothing else, one PDF."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from pypdf import PdfReader

from cardgen.memory.prints import read_log
from tests.desk.clients import JOB, DeskClient, answering
from tests.jobs import edit, sample

QUARRY = "/jobs/quarry.yaml"
FORM: dict[str, str | list[str]] = {
    "only": ["valve-tags", "box-tags"],
    "sheet": ["test-sheet", "survey"],
    "stock": "id-1-letter",
}
_CHECKBOX = re.compile(r'name="box" value="([^"]*)"')
# As the quarry's file has them: what hangs in the two boxes of this crew, and in others.
OURS = ["A4", "A5", "A6", "A11", "A12", "B3", "B4", "B5"]
OTHERS = ["A1", "A2", "A3", "A7", "A8", "A9", "A10a", "A10b", "A13", "A14"]
OTHERS += ["B1", "B2", "B6", "B7", "B8", "B9", "B10"]


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "quarry.yaml").write_text(sample("quarry"), encoding="utf-8")
    unknown = edit(sample("larkspur"), "VB-1, 60 ft, VB-2", "VB-1, not known, VB-2")
    (tmp_path / "larkspur.yaml").write_text(unknown, encoding="utf-8")
    return tmp_path


@pytest.fixture
def desk(folder: Path) -> Iterator[DeskClient]:
    with answering(folder) as port:
        yield DeskClient(port)


def parts(path: Path) -> dict[str, str]:
    """The words of a file by the mark of its outline under which they stand."""
    reader = PdfReader(path)
    marks = [(str(m.title), reader.get_destination_page_number(m)) for m in reader.outline]  # type: ignore[union-attr, arg-type]
    ends = [start for _, start in marks[1:]] + [len(reader.pages)]
    return {
        name: "\n".join(page.extract_text() for page in reader.pages[start:end])
        for (name, start), end in zip(marks, ends, strict=True)
    }


def names_in(text: str) -> list[str]:
    """Valves that stand alone in a line, each once."""
    found = re.findall(r"^[AB]\d{1,2}[ab]?$", text, re.MULTILINE)
    return list(dict.fromkeys(found))


def test_one_file_has_the_tags_and_sheets_of_the_boxes_as_one_walks(
    desk: DeskClient, folder: Path
) -> None:
    # In the order of the cables, as they are drawn in the file; not in that of the names.
    shown = _CHECKBOX.findall(desk.get(f"{QUARRY}/crews").text)
    assert shown.index("VB-3") < shown.index("MVB-1") < shown.index("VB-4") < shown.index("VB-7")
    made = desk.form(f"{QUARRY}/crews", {**FORM, "crew": "Crew Ana", "box": ["VB-5", "VB-2"]})
    assert "crews/crew-ana.pdf" in made.text
    assert "no survey list" in made.text  # the quarry knows everything
    found = parts(folder / "quarry-cards" / "crews" / "crew-ana.pdf")
    assert list(found) == ["Valve tags", "Box tags", "Test sheet"]
    assert names_in(found["Valve tags"]) == OURS
    sheet = found["Test sheet"]
    rows = re.findall(r"\b[AB]\d{1,2}[ab]?\b", sheet)
    assert set(OURS) <= set(rows)
    assert "This sheet has only these boxes: VB-2 and VB-5." in " ".join(sheet.split())
    assert "Crew Ana" in sheet
    for name in ("VB-3", "VB-7", "VB-8", "MVB-1", "north slope lower"):
        assert name not in sheet
    # What is printed for a crew is known as printed; other crews and prints stay.
    assert "valve tag A4" in read_log(folder / "quarry-cards").last
    desk.form(f"{QUARRY}/print", {"only": "valve-tags", "start": "1"})
    desk.form(f"{QUARRY}/crews", {**FORM, "crew": "Crew 2", "controller": "B"})
    assert sorted(path.name for path in (folder / "quarry-cards" / "crews").iterdir()) == [
        "crew-2.pdf",
        "crew-ana.pdf",
    ]
    assert (folder / "quarry-cards" / "valve-tags.pdf").exists()


def test_a_survey_list_has_only_what_the_crew_can_find_out(desk: DeskClient, folder: Path) -> None:
    crews = folder / "larkspur-cards" / "crews"
    desk.form(f"{JOB}/crews", {**FORM, "crew": "1", "box": ["VB-2"]})
    found = parts(crews / "crew-1.pdf")
    survey = " ".join(found["Survey list"].split())
    assert "length of A-K1 from VB-1 to VB-2" in survey
    made = desk.form(f"{JOB}/crews", {**FORM, "crew": "2", "box": ["VB-3"]})
    assert "Survey list" not in parts(crews / "crew-2.pdf") and "no survey list" in made.text


def test_what_cannot_be_bundled_is_said_and_writes_nothing(desk: DeskClient, folder: Path) -> None:
    for wrong, told in (
        ({"crew": "1"}, "no box is chosen"),
        ({"crew": "1", "box": "VB-77"}, "no box"),
        ({"crew": "1", "box": "VB-1", "stock": "roll-50x75"}, "no stock in sheets"),
    ):
        refused = desk.form(f"{QUARRY}/crews", {**FORM, **wrong})
        assert refused.status == 409 and told in refused.text, told
    assert not (folder / "quarry-cards").exists()
    desk.form(f"{QUARRY}/crews", {**FORM, "crew": "1", "box": "VB-1"})
    old = sample("quarry")
    (folder / "quarry.yaml").write_text(old.replace("entry lawn N", "rose bed"), encoding="utf-8")
    refused = desk.form(f"{QUARRY}/crews", {**FORM, "crew": "1", "box": "VB-1"})
    assert "was printed before and said something else" in refused.text
    (folder / "quarry.yaml").write_text(old.replace("box: VB-1,", "box: VB-99,"), encoding="utf-8")
    assert "VB-99" in desk.get(f"{QUARRY}/crews").text
