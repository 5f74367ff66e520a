"""A workbook comes back after its job was changed: both changes are kept, or it is told.

What must come of it is worked out with PyYAML's plain data, without the reader of workbooks.
"""

from __future__ import annotations

import io
import random
from typing import Any

import openpyxl
import pytest
import yaml

from cardgen.editing import Change, Put, Remove, edited
from cardgen.problems import Verdict
from cardgen.results.workbook_file import workbook
from cardgen.workbook.as_exported import AS_EXPORTED
from cardgen.workbook.exporting import exported
from cardgen.workbook.importing import JobUpdate, update_of
from tests.jobs import sample
from tests.workbook.books import Rows, book_of_rows, xlsx

LARKSPUR = sample("larkspur")


def brought_back(sheets: dict[str, Rows], text: str) -> JobUpdate:
    return update_of(book_of_rows(sheets), text, "job.yaml")


def with_cell(sheets: dict[str, Rows], title: str, name: str, column: str, text: str) -> None:
    rows = [list(row) for row in sheets[title]]
    row = next(row for row in rows[1:] if row[0] == name)
    row[rows[0].index(column)] = text
    sheets[title] = rows


def without_row(sheets: dict[str, Rows], title: str, name: str) -> None:
    sheets[title] = [row for row in sheets[title] if row[0] != name]


def sheets_of_job(text: str) -> dict[str, Rows]:
    return dict(exported(text, "job.yaml").sheets)


def data_of(text: str) -> Any:
    return yaml.load(text, yaml.BaseLoader)  # noqa: S506  # it makes texts alone


@pytest.mark.parametrize("seed", range(8))
def test_both_changes_are_there(seed: int) -> None:
    rng = random.Random(seed)
    text = sample("quarry")
    sheets, wanted = sheets_of_job(text), data_of(text)
    stations, boxes = list(wanted["stations"]), list(wanted["boxes"])
    rng.shuffle(stations)
    by_job, by_book, gone = stations[:2], stations[2:4], stations[4]
    now: list[Change] = [
        Put(path=("stations", name, "area"), value=f"job {name}") for name in by_job
    ]
    for name in by_job:
        wanted["stations"][name]["area"] = f"job {name}"
    for name in by_book:
        with_cell(sheets, "stations", name, "area", f"book {name}")
        wanted["stations"][name]["area"] = f"book {name}"
    if rng.random() < 0.5:
        without_row(sheets, "stations", gone)
    else:
        now.append(Remove(path=("stations", gone)))
    del wanted["stations"][gone]
    box = rng.choice(boxes)
    with_cell(sheets, "boxes", box, "place", "book place")
    now.append(Put(path=("boxes", box, "ties"), value=["5 ft from wall"]))
    wanted["boxes"][box] |= {"place": "book place", "ties": ["5 ft from wall"]}
    changed = edited(text, now)
    update = brought_back(sheets, changed)
    assert [p.code for p in update.problems if p.verdict is not Verdict.NOTE] == []
    assert update.changes is not None
    assert data_of(edited(changed, update.changes)) == wanted


def test_sent_twice_it_changes_nothing_more() -> None:
    sheets = sheets_of_job(LARKSPUR)
    with_cell(sheets, "stations", "A1", "area", "rose bed")
    first = brought_back(sheets, LARKSPUR)
    assert first.changes is not None
    text = edited(LARKSPUR, [*first.changes, Put(path=("stations", "A2", "area"), value="lawn")])
    again = brought_back(sheets, text)
    assert again.changes == () and [p.code for p in again.problems] == []


def test_a_cell_that_the_job_changed_too_is_told() -> None:
    sheets = sheets_of_job(LARKSPUR)
    with_cell(sheets, "stations", "A1", "area", "rose bed")
    text = edited(LARKSPUR, [Put(path=("stations", "A1", "area"), value="herb bed")])
    update = brought_back(sheets, text)
    assert update.changes == ()
    (told,) = update.problems
    assert told.verdict is Verdict.WARNING
    assert told.sentence.endswith(
        "'rose bed' is left out: the job was changed to 'herb bed' after this workbook was written"
    )
    assert (told.span.file, told.span.line, told.span.column) == ("book.xlsx:stations", 2, 2)


def test_what_left_the_job_and_what_leaves_the_workbook_is_told() -> None:
    sheets = sheets_of_job(LARKSPUR)
    with_cell(sheets, "stations", "A1", "area", "rose bed")
    without_row(sheets, "stations", "A2")
    text = edited(
        LARKSPUR,
        [
            Remove(path=("stations", "A1")),
            Put(path=("stations", "A2", "area"), value="herb bed"),
        ],
    )
    update = brought_back(sheets, text)
    assert update.changes == ()
    sentences = sorted(problem.sentence for problem in update.problems)
    assert len(sentences) == 2
    assert "the job lost 'A1' after this workbook was written" in sentences[0] + sentences[1]
    assert "'A2' stays: the job changed it after this workbook was written" in sentences


def test_without_the_hidden_sheet_all_counts_as_the_workbook_has_it() -> None:
    sheets = sheets_of_job(LARKSPUR)
    text = edited(LARKSPUR, [Put(path=("stations", "A1", "area"), value="herb bed")])
    assert brought_back(dict(sheets), text).changes == ()
    for spoiled in ([["", ""]], [["x"], ["no code"]]):
        sheets[AS_EXPORTED] = spoiled
        assert brought_back(sheets, text).changes
    del sheets[AS_EXPORTED]
    (change,) = brought_back(sheets, text).changes or ()
    assert isinstance(change, Put) and change.path == ("stations", "A1", "area")


def test_nobody_sees_the_sheet_and_another_program_keeps_it() -> None:
    found = exported(LARKSPUR, "job.yaml").sheets
    data = workbook(found, hidden=(AS_EXPORTED,))
    read = openpyxl.load_workbook(io.BytesIO(data))
    assert [s.title for s in read if s.sheet_state != "visible"] == [AS_EXPORTED]
    text = edited(LARKSPUR, [Put(path=("stations", "A1", "area"), value="herb bed")])
    book = xlsx(lambda _: None, found)
    assert update_of(book, text, "job.yaml").changes == ()
