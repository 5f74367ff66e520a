"""A job becomes sheets and the sheets a job again, and nothing is lost or changed on the way."""

from __future__ import annotations

import csv
import io
import random
from pathlib import Path

import openpyxl
import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st

from cardgen.problems import Span, Verdict
from cardgen.reading import nodes
from cardgen.reading.nodes import Scalar
from cardgen.results.workbook_file import workbook
from cardgen.workbook.book_files import Book, book_of, csv_file, csv_files, read_book
from cardgen.workbook.exporting import exported
from cardgen.workbook.importing import new_job, update_of
from cardgen.workbook.job_changes import changes_between
from cardgen.workbook.job_text import job_text, scalar
from cardgen.workbook.list_job import NewJob
from tests.jobs import SAMPLES, edit, sample
from tests.property.jobs import Wish, random_plan
from tests.wiring.test_known_parts import with_hot
from tests.workbook.books import (
    KEY,
    book_of_rows,
    imported,
    nodes_of,
    sheets_of_text,
    values_of,
    xlsx,
)

# What no sample and no random job has; each text is one that a spreadsheet or YAML could spoil.
HARD = edit(
    edit(
        sample("quarry"),
        "A2: {area: entry lawn S,",
        "A2: {area: '=1+1', notes: ['a; b', 'c, #d: e', \"60' of pipe\"],\n"
        "    extra: {'Flow, gpm': '007', Notes: 1E5, 'a: b': '+-@'},",
    ),
    "    station limit: 0.8 A\n    total limit: 1.5 A\n  B:",
    "    jumpers: [[1, 2], [3, 4]]\n    polarity: {hot: red, common: black}\n  B:",
).replace("place: entry lawn,", "place: entry lawn, ties: ['5 ft; wall', '6 ft, post'],")
PLAIN_JOINTS = HARD + "surge units: []\nreels: [500 ft, 1000 ft]\nslack: {run: 5 %}\n"


def same_again(text: str, book: Book) -> None:
    made = new_job(book, NewJob(key=KEY))
    assert made.text is not None and made.problems == ()
    assert values_of(made.text) == values_of(text)
    update = update_of(book, text, "job.yaml")
    assert update.changes == () and update.problems == ()


@pytest.mark.parametrize("name", [*SAMPLES, "hard"])
def test_a_workbook_has_all_of_a_job(name: str) -> None:
    text = sample(name) if name in SAMPLES else PLAIN_JOINTS.replace("surge units: []\n", "")
    data = workbook(exported(text, "job.yaml").sheets)
    book, problems = book_of(data, "book.xlsx")
    assert book is not None and problems == ()
    same_again(text, book)
    if name == "larkspur":
        assert workbook(exported(text, "job.yaml").sheets) == data  # no clock is in it


def test_what_is_not_known_of_a_hot_comes_back() -> None:
    text = with_hot("[K1 green to SB-1, not known, K2 red from VB-2]")
    sheets = sheets_of_text(text)
    assert sheets["stations"][3][3] == "K1 green to SB-1, not known, K2 red from VB-2"
    assert sheets["stations"][2][3] == "not known"
    same_again(text, book_of_rows(sheets))


def random_text(seed: int) -> str:
    rng = random.Random(seed)
    wish = Wish(
        seed=seed,
        stations=rng.randint(1, 25),
        controllers=rng.randint(1, 3),
        written=rng.choice((0.0, 0.3, 1.0)),
        twins=rng.choice((0.0, 0.2)),
        specials=rng.choice((0.0, 0.3, 1.0)),
        split=rng.choice((0.0, 0.3)),
        metric=rng.random() < 0.3,
        two_wire=rng.random() < 0.3,
    )
    return random_plan(wish).text


def test_random_jobs_come_back() -> None:
    """`python -m tests.benchmarks.round_trips 200` takes more of them."""
    for seed in range(20):
        text = random_text(seed)
        same_again(text, book_of_rows(sheets_of_text(text)))


def test_a_folder_of_csv_files_has_all_of_a_job(tmp_path: Path) -> None:
    text = PLAIN_JOINTS.replace("surge units: []\n", "")
    for name, data in csv_files(exported(text, "job.yaml").sheets):
        (tmp_path / name).write_bytes(data)
    book, problems = read_book(tmp_path)
    assert book is not None and problems == ()
    same_again(text, book)


def test_other_programs_read_the_same_sheets() -> None:
    """openpyxl sees texts and no formulas; Python's csv module the same cells."""
    sheets = exported(HARD, "job.yaml").sheets
    book = openpyxl.load_workbook(io.BytesIO(workbook(sheets)))
    assert book.sheetnames == list(sheets)
    for title, rows in sheets.items():
        read = book[title].iter_rows(values_only=True)
        assert [[cell or "" for cell in row] for row in read] == rows
    cell = book["stations"]["B3"]
    assert (cell.value, cell.data_type, cell.number_format) == ("=1+1", "s", "@")
    text = csv_file(sheets["stations"]).decode("utf-8-sig")
    rows = list(csv.reader(io.StringIO(text, newline="")))
    assert rows[2][1] == "'=1+1"  # an apostrophe, so that no spreadsheet runs it
    assert rows[1] == sheets["stations"][1]


def test_the_rows_of_larkspur() -> None:
    """By hand from sample_jobs/larkspur.yaml."""
    sheets = exported(sample("larkspur"), "job.yaml").sheets
    assert sheets["legs"] == [
        ["cable", "from", "length", "to"],
        ["A-K1", "A", "85 ft", "VB-1"],
        ["A-K1", "VB-1", "60 ft", "VB-2"],
        ["A-K2", "A", "140 ft", "VB-3"],
    ]
    assert sheets["boxes"][1][:5] == [
        *("VB-1", "front walk", "", "12 x 17 in"),
        "6.5 ft from garage corner; 4.0 ft from walk edge",
    ]
    assert sheets["stations"][3][:4] == ["A3", "front beds, drip", "VB-2", "A-K1 green"]
    assert ["A-K1 orange", "18 AWG", "A", "VB-2"] in [row[:4] for row in sheets["conductors"]]
    assert sheets["readings"][1][:5] == ["A1", "front lawn west, spray", "VB-1", "A", "1"]
    bare = exported(edit(sample("larkspur"), ", hot: A-K1 yellow", ""), "job.yaml")
    assert bare.without == ("conductors", "readings") and not set(bare.without) & {*bare.sheets}


def test_changes_are_those_that_were_typed() -> None:
    def fill(book: openpyxl.Workbook) -> None:
        stations, legs = book["stations"], book["legs"]
        stations["B2"] = "front lawn: all"
        stations["L1"], stations["L3"] = "Plants", "roses"
        stations.delete_rows(7)  # A6
        stations["A7"], stations["B7"], stations["C7"] = "A7", "new bed", "VB-3"
        legs["C2"] = "1,050'"
        book["cables"]["B3"] = "16 ga"
        book["boxes"]["E2"] = None

    sheets = exported(sample("larkspur"), "job.yaml").sheets
    update = update_of(xlsx(fill, sheets), sample("larkspur"), "job.yaml")
    assert update.problems == () and update.changes is not None
    found = {c.path: getattr(c, "value", None) for c in update.changes}
    assert found == {
        ("cables", "A-K1", "run", 1): "1050 ft",
        ("cables", "A-K2", "gauge"): "16 AWG",
        ("boxes", "VB-1", "ties"): None,
        ("stations", "A1", "area"): "front lawn: all",
        ("stations", "A2", "extra"): {"Plants": "roses"},
        ("stations", "A6"): None,
        ("stations", "A7"): {"area": "new bed", "box": "VB-3"},
    }


def test_a_sheet_that_was_taken_out_says_nothing() -> None:
    sheets = exported(sample("quarry"), "job.yaml").sheets
    for title in ("spares", "joints", "changes", "master valves", "palettes"):
        del sheets[title]
    update = update_of(book_of_rows(sheets), sample("quarry"), "job.yaml")
    assert update.changes == ()


def test_british_keys_are_kept() -> None:
    text = edit(sample("larkspur"), "palette: seven", "colours: [white, red, blue, green, yellow]")
    same_again(text, book_of_rows(sheets_of_text(text)))


texts = st.text(st.characters(codec="utf-8", categories=("L", "N", "P", "S", "Zs")), min_size=1)


@settings(max_examples=200)
@given(texts.map(lambda text: " ".join(text.split())).filter(bool))
def test_a_text_is_quoted_so_that_it_is_read_as_it_is(text: str) -> None:
    """In brackets and without, read by PyYAML's own composer."""
    for line in (f"a: {scalar(text)}", f"a: [{scalar(text)}, b]", f"a: {{{scalar(text)}: x}}"):
        whole = yaml.compose(line, Loader=yaml.SafeLoader)
        assert isinstance(whole, yaml.MappingNode)
        node = whole.value[0][1]
        while not isinstance(node, yaml.ScalarNode):
            node = node.value[0][0] if isinstance(node, yaml.MappingNode) else node.value[0]
        assert node.value == text


def test_long_things_are_broken_between_values() -> None:
    text = sample("heron")
    root = nodes_of(text)
    assert isinstance(root, nodes.Mapping)
    out = job_text(root)
    assert max(map(len, out.splitlines())) <= 100
    assert changes_between(root, nodes_of(out)) == ()
    assert imported(book_of_rows(sheets_of_text(text))).text is not None
    nothing = nodes.Mapping(Span("", 1, 1), ())
    assert changes_between(nothing, Scalar(Span("", 1, 1), "")) == ()


def test_a_cell_that_names_no_wire_is_told_at_once_and_the_job_is_made() -> None:
    """An error of the wiring, as `check` tells it of the job, by sheet and cell."""
    text = edit(sample("larkspur"), "hot: A-K1 red}", "hot: A-K1 purpel}")
    made = imported(book_of_rows(sheets_of_text(text)))
    (problem,) = made.problems
    assert made.text is not None and problem.verdict is Verdict.WARNING
    assert (problem.span.file, problem.span.line) == ("book.xlsx:stations", 2)
    assert problem.sentence == "D2: 'A-K1 purpel' names no conductor"
