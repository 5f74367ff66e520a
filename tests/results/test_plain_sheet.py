"""A spreadsheet of our own is read by openpyxl, which is not ours, as the text that went in."""

from __future__ import annotations

import io
import subprocess
import sys
import zipfile
from pathlib import Path
from xml.etree import ElementTree

import openpyxl

from cardgen.results.plain_sheet import plain_sheet
from tests.jobs import SAMPLE_JOBS

ROWS = [
    ["valve", "ohms", "note"],
    ["A1", "", " <wet> & 'low'  "],
    ["-A2", "007", "=1+1"],
    ["Ñ-1", "", ""],
]


def test_each_cell_is_there_as_text() -> None:
    book = openpyxl.load_workbook(io.BytesIO(plain_sheet(ROWS)))
    (sheet,) = book.worksheets
    found = [[cell.value for cell in row] for row in sheet.iter_rows()]
    assert found == [[text or None for text in row] for row in ROWS]
    shapes = {cell.number_format for row in sheet.iter_rows() for cell in row}
    assert shapes == {"@"}, "also of blank cells: what is typed there stays as it is"
    assert {c.data_type for row in sheet.iter_rows() for c in row if c.value} <= {"s", "inlineStr"}


def test_each_part_is_xml_that_another_names() -> None:
    """ISO/IEC 29500-2: a part is reached by relationships, and has a content type."""
    with zipfile.ZipFile(io.BytesIO(plain_sheet(ROWS))) as packed:
        parts = {name: packed.read(name) for name in packed.namelist()}
    trees = {name: ElementTree.fromstring(part) for name, part in parts.items()}  # noqa: S314
    types = {each.get("PartName") for each in trees["[Content_Types].xml"]}
    named = {name for name in parts if not name.endswith((".rels", "[Content_Types].xml"))}
    assert {f"/{name}" for name in named} <= types
    targets = {f"xl/{each.get('Target')}" for each in trees["xl/_rels/workbook.xml.rels"]}
    assert targets | {"xl/workbook.xml"} == named


def test_a_print_loads_no_library_for_workbooks(tmp_path: Path) -> None:
    code = (
        "import sys; from cardgen.cli.main import main; assert main(sys.argv[1:]) == 0;"
        "assert 'openpyxl' not in sys.modules"
    )
    job = str(SAMPLE_JOBS / "larkspur.yaml")
    command = [sys.executable, "-c", code, "print", job, "--out", str(tmp_path / "out")]
    subprocess.run(command, check=True, capture_output=True)
    assert (tmp_path / "out" / "test-sheet.xlsx").is_file()
