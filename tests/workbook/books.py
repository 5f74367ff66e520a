"""Books to test with: of a job's sheets, of rows, and as bytes of a spreadsheet."""

from __future__ import annotations

import io
from collections.abc import Callable, Mapping, Sequence
from dataclasses import fields, is_dataclass
from typing import Any

import openpyxl

from cardgen.job import load_text
from cardgen.problems import Problem, Span
from cardgen.reading import nodes
from cardgen.reading.parse import parse
from cardgen.results.cells import Cell
from cardgen.results.workbook_file import workbook
from cardgen.results.xlsx_cells import BookSheet
from cardgen.workbook.book_files import Book, book_of
from cardgen.workbook.importing import ImportedJob, new_job
from cardgen.workbook.list_job import NewJob
from cardgen.workbook.sheets_out import sheets_of

KEY = "7Q2F9KX4M3T8"
Rows = Sequence[Sequence[str]]


def nodes_of(text: str) -> nodes.Node:
    root, problems = parse(text, "job.yaml")
    assert root is not None and not problems
    return root


def book_of_rows(sheets: Mapping[str, Rows]) -> Book:
    """As it would be read from a file, without the file."""
    read = (
        BookSheet(
            title=title,
            rows=[[Cell(t, n, c) for c, t in enumerate(row, 1)] for n, row in enumerate(rows, 1)],
        )
        for title, rows in sheets.items()
    )
    return Book(name="book.xlsx", sheets=tuple(read), in_cells=True)


def xlsx(fill: Callable[[Any], None], sheets: Mapping[str, Rows] | None = None) -> Book:
    """A spreadsheet in which a program that is not ours has typed."""
    book = openpyxl.Workbook()
    if sheets is not None:
        book = openpyxl.load_workbook(io.BytesIO(workbook(sheets)))
    fill(book if sheets is not None else book.active)
    stream = io.BytesIO()
    book.save(stream)
    read, problems = book_of(stream.getvalue(), "book.xlsx")
    assert read is not None, problems
    return read


def csv_book(text: str, encoding: str = "utf-8") -> Book:
    read, problems = book_of(text.encode(encoding), "list.csv")
    assert read is not None, problems
    return read


def imported(book: Book) -> ImportedJob:
    return new_job(book, NewJob(key=KEY))


def stations_in(made: ImportedJob) -> dict[str, Any]:
    """What the stations of the new job say, read by the job's own reader of YAML."""
    assert made.text is not None, [shown(p) for p in made.problems]
    root = nodes_of(made.text)
    assert isinstance(root, nodes.Mapping)
    stations = next(e.value for e in root.entries if e.key.text == "stations")
    return dict(plain_data(stations))


def plain_data(node: nodes.Node) -> Any:
    if isinstance(node, nodes.Scalar):
        return node.text
    if isinstance(node, nodes.Sequence):
        return [plain_data(item) for item in node.items]
    return {entry.key.text: plain_data(entry.value) for entry in node.entries}


def shown(problem: Problem) -> str:
    return f"{problem.span}: {problem.sentence} [{problem.code}] {problem.help}"


def sheets_of_text(text: str) -> dict[str, list[list[str]]]:
    return sheets_of(nodes_of(text))


def values_of(text: str) -> Any:
    """All that a job says, without the places where it says it."""
    job, problems = load_text(text, "job.yaml")
    assert job is not None and not problems, [shown(p) for p in problems]
    printed = sorted(each.value for each in job.texts)
    return _values(job), printed


def _values(value: Any) -> Any:
    if isinstance(value, Span):
        return None
    if isinstance(value, Mapping):
        return {key: _values(each) for key, each in value.items()}
    if is_dataclass(value) and not isinstance(value, type):
        said = (f for f in fields(value) if f.name not in ("file", "texts"))
        return type(value).__name__, {f.name: _values(getattr(value, f.name)) for f in said}
    if isinstance(value, (tuple, list)):
        return [_values(each) for each in value]
    return value
