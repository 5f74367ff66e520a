"""Make a job of a book, or change one by it, and say all that is unclear in one run."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from cardgen.editing import Change
from cardgen.examine import examine_nodes
from cardgen.faults.conductor_faults import NO_SUCH_CONDUCTOR
from cardgen.faults.sheet_faults import SHEET_LEFT_OUT
from cardgen.faults.value_faults import MISSING, UNKNOWN_NAME
from cardgen.job.job_loader import load_nodes, load_text
from cardgen.job.job_parts import Job
from cardgen.problems import Problem, Span, Verdict, has_errors, in_order
from cardgen.reading import nodes
from cardgen.reading.parse import parse
from cardgen.workbook.as_exported import text_as_exported
from cardgen.workbook.book_files import Book
from cardgen.workbook.both_changes import with_both
from cardgen.workbook.exporting import exported
from cardgen.workbook.job_changes import changes_between
from cardgen.workbook.job_text import job_text
from cardgen.workbook.list_codes import listed_code
from cardgen.workbook.list_into import list_into, stations_not_listed
from cardgen.workbook.list_job import NewJob, list_boxes, list_job, list_runs
from cardgen.workbook.list_legs import ListedLeg, listed_legs
from cardgen.workbook.list_stations import ListedStation, listed_stations
from cardgen.workbook.list_table import list_table
from cardgen.workbook.partial_job import merged
from cardgen.workbook.sheet_rows import by_cell
from cardgen.workbook.sheets_in import is_workbook, read_sheets
from cardgen.workbook.site_books import SiteBook, site_books, site_name
from cardgen.workbook.site_jobs import site_codes
from cardgen.workbook.worked_out import WORKED_OUT

_FOLLOWS = (UNKNOWN_NAME.code, MISSING.code)


@dataclass(frozen=True, slots=True, kw_only=True)
class ImportedJob:
    """Attributes:
    text: of the new job; None where something in the book is wrong.
    stations: how many there are, if it was made of a list that does not say everything.
    title: the site, or what stands above such a list.
    code: what such a list says of it.
    """

    text: str | None
    problems: tuple[Problem, ...]
    stations: int = 0
    title: str = ""
    code: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class JobUpdate:
    """Attributes:
    changes: None where something in the book, or in the job, is wrong.
    root: the job as it is, to show what changes.
    not_listed: stations of the job that a list does not have; they stay.
    """

    changes: tuple[Change, ...] | None
    problems: tuple[Problem, ...]
    root: nodes.Node | None = None
    not_listed: tuple[str, ...] = ()


def new_job(book: Book, new: NewJob) -> ImportedJob:
    """A job of its own; what is `new` is for one that is made of a list."""
    if not is_workbook(book):
        own = _only_site(book)
        if own is None:
            return job_of_list(book, new)
        (code,) = site_codes([own.site], [])
        return job_of_list(own.book, replace(new, site=own.site, code=code))
    partial, problems = read_sheets(book)
    start = Span(book.name, 1, 1)
    root = merged(nodes.Mapping(start, ()), partial, start)
    found = _told(book, problems, root)
    if has_errors(found):
        return ImportedJob(text=None, problems=found)
    text = job_text(root)
    return ImportedJob(text=text, problems=(*found, *_worked_out(book, text)))


def _only_site(book: Book) -> SiteBook | None:
    """Of a list with a column for the site, in which all rows have the same."""
    sites, problems = site_books(book)
    if len(sites) != 1 or problems:
        return None
    code = sites[0].code
    return sites[0] if code is None or code.text != sites[0].site else None


def job_of_list(book: Book, new: NewJob) -> ImportedJob:
    table, problems = list_table(book)
    if table is None:
        return ImportedJob(text=None, problems=_in_cells(book, problems))
    stations, more = listed_stations(book, table)
    code, wrong = listed_code(book, table)
    legs, unclear = listed_legs(book, table, stations, list_boxes(stations))
    left = () if has_errors([*more, *unclear]) else _legs_left(stations, legs)
    found = _in_cells(book, [*problems, *more, *wrong, *unclear, *left])
    said = code.text if code is not None else ""
    text = None
    if not has_errors(found):
        text = list_job(table, stations, replace(new, listed_code=said), legs)
    title = new.site or table.title
    return ImportedJob(text=text, problems=found, stations=len(stations), title=title, code=said)


def _legs_left(
    stations: Sequence[ListedStation], legs: Mapping[str, ListedLeg]
) -> Iterator[Problem]:
    """Of each controller that has no run the first."""
    runs, told = list_runs(stations, legs), set[str]()
    for station in stations:
        leg, name = legs.get(station.name), station.controller
        if leg is not None and name not in told and name not in runs:
            told.add(name)
            yield SHEET_LEFT_OUT.at(leg.span, variant="ways", controller=name)


def update_of(book: Book, text: str, name: str) -> JobUpdate:
    """What the book changes in the job with this text."""
    job, problems = load_text(text, name)
    root, _ = parse(text, name)
    if job is None or root is None or has_errors(problems):
        return JobUpdate(changes=None, problems=in_order(problems))
    meant = _by_workbook(book, text, root) if is_workbook(book) else _by_list(book, text, job, root)
    if meant.root is None:
        return JobUpdate(changes=None, problems=_in_cells(book, meant.problems))
    told = (*_told(book, meant.problems, meant.root), *_worked_out(book, meant.then))
    changes = None if has_errors(told) else changes_between(root, meant.root)
    return JobUpdate(changes=changes, problems=told, root=root, not_listed=meant.not_listed)


@dataclass(frozen=True, slots=True)
class _MeantJob:
    """The job as a book wants it, or None where the book cannot be read.

    Attributes:
        then: the text of the job when the book was written, as far as anybody knows.
    """

    root: nodes.Node | None
    problems: Sequence[Problem]
    then: str
    not_listed: tuple[str, ...] = ()


def _by_workbook(book: Book, text: str, root: nodes.Node) -> _MeantJob:
    start = Span(book.name, 1, 1)
    partial, problems = read_sheets(book)
    then, old = _as_exported(book) or (text, root)
    new: nodes.Node = merged(old, partial, start)
    if then != text:
        new, left_out = with_both(old, root, new, start)
        problems += left_out
    return _MeantJob(new, problems, then)


def _by_list(book: Book, text: str, job: Job, root: nodes.Node) -> _MeantJob:
    own, site = _only_site(book), job.info.site.value if job.info else ""
    if own is not None and site_name(own.site) == site_name(site):
        book = own.book
    table, problems = list_table(book)
    if table is None:
        return _MeantJob(None, problems, text)
    stations, more = listed_stations(book, table)
    partial, unclear = list_into(book, table, stations, job, root)
    code, wrong = listed_code(book, table)
    if code is not None:
        partial.values["job", "code"] = code
    new = merged(root, partial, Span(book.name, 1, 1))
    not_listed = tuple(stations_not_listed(stations, job))
    return _MeantJob(new, [*problems, *more, *unclear, *wrong], text, not_listed)


def _as_exported(book: Book) -> tuple[str, nodes.Node] | None:
    """The text of the job when its workbook was written, and what it says, if both are there."""
    text = text_as_exported(book)
    root = parse(text, book.name)[0] if text is not None else None
    return (text, root) if text is not None and root is not None else None


def _told(book: Book, problems: Sequence[Problem], root: nodes.Node) -> tuple[Problem, ...]:
    """What the sheets have wrong, and what the job that they make has wrong.

    Rows that could not be taken are not told once more by whatever names them.
    """
    _, more = load_nodes(root, book.name)
    follows = _FOLLOWS if has_errors(problems) else ()
    told = [*problems, *(p for p in more if p.code not in follows)]
    if not has_errors(told):
        told += _no_conductors(book, root)
    return _in_cells(book, told)


def _no_conductors(book: Book, root: nodes.Node) -> Iterator[Problem]:
    """Cells that name a wire which is not there: the job is made, but nothing is printed of it."""
    sheets = {book.file_of(sheet) for sheet in book.sheets}
    for problem in examine_nodes(root, book.name).problems:
        if problem.code == NO_SUCH_CONDUCTOR.code and problem.span.file in sheets:
            yield replace(problem, verdict=Verdict.WARNING)


def _worked_out(book: Book, text: str) -> tuple[Problem, ...]:
    """The sheets that are not read, where they say something else than the job with this text."""
    there = [sheet for sheet in book.sheets if sheet.title in WORKED_OUT]
    sheets = exported(text, book.name).sheets if there else {}
    told = []
    for sheet in there:
        said = [[cell.text for cell in row] for row in sheet.rows]
        if said != sheets.get(sheet.title, said):
            span = Span(book.file_of(sheet), 1, 1)
            told.append(SHEET_LEFT_OUT.at(span, variant="worked out", sheet=sheet.title))
    return tuple(told)


def _in_cells(book: Book, problems: Sequence[Problem]) -> tuple[Problem, ...]:
    return in_order(by_cell(problem, book) for problem in problems)
