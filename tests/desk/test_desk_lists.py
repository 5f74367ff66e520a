"""Lists at the desk: a job made of one, taken out as a workbook, and changed by one."""

from __future__ import annotations

import io
import re
from collections.abc import Iterator
from pathlib import Path

import openpyxl
import pytest

from tests.desk.clients import JOB, DeskAnswer, DeskClient, answering
from tests.jobs import sample

# Columns of their own in their own order, as pasted from a spreadsheet.
LIST = (
    "Station\tArea\tBox\tWire color\tNozzles\n"
    "1\tfront lawn, west\tVB-1\tred\t12\n"
    "2\trose bed #2\tVB-1\tblue\t8\n"
    "3\tside yard: north\tVB-2\tgreen\t3 1/2\n"
)
_HIDDEN = re.compile(r'type="hidden" name="(\w+)" value="([^"]*)"')


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "larkspur.yaml").write_text(sample("larkspur"), encoding="utf-8")
    return tmp_path


@pytest.fixture
def desk(folder: Path) -> Iterator[DeskClient]:
    with answering(folder) as port:
        yield DeskClient(port)


def larkspur(folder: Path) -> str:
    return (folder / "larkspur.yaml").read_text(encoding="utf-8")


def test_a_pasted_list_becomes_a_job(desk: DeskClient, folder: Path) -> None:
    made = desk.upload("/from-list", {"pasted": LIST, "site": "Oak Court", "address": ""})
    assert (made.status, made.headers["Location"]) == (303, "/jobs/oak-court.yaml")
    told = desk.data("/jobs/oak-court.yaml")
    shown = [(row["name"], row["area"], row["box"]) for row in told["rows"]["stations"]]
    assert shown == [
        ("A1", "front lawn, west", "VB-1"),
        ("A2", "rose bed #2", "VB-1"),
        ("A3", "side yard: north", "VB-2"),
    ]
    assert told["forms"]["job"]["site"] == "Oak Court"
    assert told["forms"]["job"]["code"] == "OAK-COURT"
    # No address was given, so none is invented; a column of their own is kept.
    text = (folder / "oak-court.yaml").read_text(encoding="utf-8")
    assert "record:" not in text and "Nozzles: 3 1/2" in text
    sent = {"pasted": LIST, "site": "Oak Court", "address": "https://jobs.example.com"}
    again = desk.upload("/from-list", sent).headers["Location"]
    record = desk.data(again)["forms"]["record"]
    assert again == "/jobs/oak-court-2.yaml" and record["address"] == sent["address"]
    assert re.fullmatch("[A-Z0-9]{12}", record["key"])
    assert desk.data(again)["forms"]["job"]["code"] == "OAK-COURT-2"  # no two cards say the same
    # A job that is typed has a code of its own, too; a list may say the code.
    typed = desk.form("/new", {"site": "Oak: court"}).headers["Location"]
    assert desk.data(typed)["forms"]["job"]["code"] == "OAK-COURT-3"
    coded = "Sta,Waters,Job code\n1,lawn,OC-7\n2,beds,\n"
    code = desk.upload("/from-list", {"pasted": coded, "site": "Oak"}).headers["Location"]
    assert desk.data(code)["forms"]["job"]["code"] == "OC-7"


def test_a_list_with_several_sites_becomes_a_job_for_each(desk: DeskClient, folder: Path) -> None:
    rows = ("Park;Job code;Sta;Waters", "Elm;E-04;1;lawn", "Larkspur Cottage;;1;x", "Oak;;1;beds")
    sent = {"pasted": "\n".join(rows), "site": "", "address": ""}
    shown = desk.upload("/from-list", sent, language="es")
    assert "Estación A1 Área: " in shown.text  # what changes, in the words of the page
    assert not (folder / "elm.yaml").exists()
    assert desk.form("/from-list/sites", dict(_HIDDEN.findall(shown.text))).status == 303
    elm, oak = (desk.data(f"/jobs/{name}.yaml")["forms"]["job"] for name in ("elm", "oak"))
    assert (elm["site"], elm["code"], oak["site"], oak["code"]) == ("Elm", "E-04", "Oak", "OAK")
    # One that is unclear keeps all from being written; so does the code of another job.
    for wrong, told in (("Fir;;x;y", "names no station"), ("Fir;E-04;1;y", "that of")):
        bad = desk.upload("/from-list", {**sent, "pasted": "\n".join([*rows, wrong, "Yew;;1;z"])})
        assert told in bad.text and not _HIDDEN.findall(bad.text)
    assert {path.stem for path in folder.glob("*.yaml")}.isdisjoint({"yew", "fir"})


def test_what_is_unclear_is_told_by_row_and_column_and_nothing_is_written(
    desk: DeskClient, folder: Path
) -> None:
    twice = LIST + "2\tagain\tVB-2\ttan\t1\n"
    told = desk.upload("/from-list", {"pasted": twice, "site": "Oak Court"})
    # The name of the fifth row, in the first column: counted by hand.
    assert "pasted list, row 5, column 1:" in told.text
    assert "again" in told.text and 'value="Oak Court"' in told.text  # still there to correct
    for wrong in ({"pasted": LIST}, {"pasted": " ", "site": "Oak Court"}):
        assert desk.upload("/from-list", wrong).status == 409
    for data in (b"%PDF-1.4", b"PK\x03\x04 no workbook"):
        assert desk.upload("/from-list", {"site": "x"}, data).status == 200
    large = desk.upload("/from-list", {"pasted": "x" * 5_000_000})
    assert large.status == 413 and "larger than 4096 KB" in large.text
    assert [path.name for path in folder.iterdir()] == ["larkspur.yaml"]


def changed_book(data: bytes, area: str, box: str) -> bytes:
    """The workbook with other cells for station A2, as a spreadsheet program saves it."""
    book = openpyxl.load_workbook(io.BytesIO(data))
    sheet = book["stations"]
    heads = [cell.value for cell in sheet[1]]
    row = next(row for row in sheet.iter_rows(min_row=2) if row[0].value == "A2")
    row[heads.index("area")].value = area
    row[heads.index("box")].value = box
    kept = io.BytesIO()
    book.save(kept)
    return kept.getvalue()


def taken(desk: DeskClient, page: DeskAnswer) -> DeskAnswer:
    """What the button of the page sends."""
    return desk.form(f"{JOB}/spreadsheet/take", dict(_HIDDEN.findall(page.text)))


def test_a_workbook_goes_out_and_comes_back_with_its_changes_shown_first(
    desk: DeskClient, folder: Path
) -> None:
    out = desk.get(f"{JOB}/workbook.xlsx")
    assert out.headers["Content-Disposition"] == 'attachment; filename="larkspur.xlsx"'
    same = desk.upload(f"{JOB}/spreadsheet", {}, out.content)
    assert "says the same already" in same.text
    data = changed_book(out.content, "front walk", "VB-1")
    page = desk.upload(f"{JOB}/spreadsheet", {}, data)
    assert "Changes: 1" in page.text
    assert "Station A2 Area: front lawn east, spray -&gt; front walk" in page.text
    spanish = desk.upload(f"{JOB}/spreadsheet", {}, data, language="es-MX").text
    assert "<li>Estación A2 Área: front lawn east, spray -&gt; front walk</li>" in spanish
    assert larkspur(folder) == sample("larkspur")
    written = taken(desk, page)
    assert (written.status, written.headers["Location"]) == (303, JOB)
    new = sample("larkspur").replace('"front lawn east, spray"', "front walk")
    assert larkspur(folder) == new
    # A step as any other: it goes back; and a page that is too old writes nothing.
    assert desk.send("undo", {"version": desk.data()["version"]}).status == 200
    assert larkspur(folder) == sample("larkspur")
    desk.edit(["A1", "area", "orchard"])
    before = larkspur(folder)
    assert taken(desk, page).status == 409
    assert larkspur(folder) == before


def test_a_list_for_a_job_that_names_what_there_is_not(desk: DeskClient, folder: Path) -> None:
    out = desk.get(f"{JOB}/workbook.xlsx").content
    page = desk.upload(f"{JOB}/spreadsheet", {}, changed_book(out, "front walk", "VB-9"))
    assert "VB-9" in page.text and "sent.xlsx:stations, row 3" in page.text
    assert 'name="text"' not in page.text
    part = desk.upload(f"{JOB}/spreadsheet", {"pasted": "Station\tArea\nA1\torchard\n"})
    assert "Changes: 1" in part.text and "left as they are: A2 to A6." in part.text
    for fields in ({"text": "%", "version": "x"}, {"text": "", "version": "x"}, {"text": "YQ=="}):
        assert desk.form(f"{JOB}/spreadsheet/take", fields).status == 400
    assert larkspur(folder) == sample("larkspur")
