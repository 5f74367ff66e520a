"""Split a book with the stations of several sites into a book for each."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from cardgen.faults.sheet_faults import SHEET_HEADINGS, SHEET_LEFT_OUT, SHEET_NAME
from cardgen.problems import Also, Problem, Span
from cardgen.reading.nodes import Scalar, short
from cardgen.results.cells import Cell
from cardgen.results.xlsx_cells import BookSheet
from cardgen.workbook.book_files import Book
from cardgen.workbook.heading_names import CODE, bare_code_column, plain, site_column
from cardgen.workbook.list_codes import listed_code
from cardgen.workbook.list_table import (
    ends_in_sum,
    is_sum,
    list_heads,
    list_table,
    one_text,
    own_heading,
)
from cardgen.workbook.sheet_rows import Heads, by_cell, filled, unread_cells


@dataclass(frozen=True, slots=True, kw_only=True)
class SiteBook:
    """Attributes:
    site: as the list first writes it.
    span: where it does.
    book: its rows alone, each cell at the place that it has in the whole.
    """

    site: str
    span: Span
    book: Book

    @property
    def code(self) -> Scalar | None:
        """Of its job, if the list says one."""
        table, _ = list_table(self.book)
        return listed_code(self.book, table)[0] if table is not None else None


@dataclass(frozen=True, slots=True)
class _SiteList:
    """A sheet with a list, and the numbers of the columns with the site, and a code, if any."""

    sheet: BookSheet
    heads: Heads
    site_at: int | None
    code_at: int | None


def site_books(book: Book) -> tuple[list[SiteBook], tuple[Problem, ...]]:
    """The sites in the order of the book: by a column, or each a sheet of its own."""
    problems: list[Problem] = []
    lists = [_site_list(sheet) for sheet in book.sheets if not sheet.is_hidden]
    lists = [each for each in lists if each.heads.at >= 0]
    by_column = [each for each in lists if each.site_at is not None]
    of_one_site = [] if by_column or len(lists) == 1 else lists
    chosen = [each.sheet.title for each in by_column or of_one_site]
    if not chosen:
        problems.append(_no_site(book, lists))
    found: dict[str, SiteBook] = {}
    for each in by_column or of_one_site:
        books = _by_column(book, each, problems) if by_column else [_of_sheet(book, each.sheet)]
        for site_book in books:
            before = found.setdefault(site_name(site_book.site), site_book)
            if before is not site_book:
                problems.append(_twice(before, site_book))
    if chosen:
        problems += _left_out(book, chosen)
    return list(found.values()), tuple(by_cell(problem, book) for problem in problems)


def site_name(text: str) -> str:
    """What is the same for one site, however its name is written."""
    return " ".join(text.split()).casefold()


def _site_list(sheet: BookSheet) -> _SiteList:
    heads, texts = list_heads(sheet)
    own = {n: texts[n] for n, column in heads.columns.items() if own_heading(column)}
    codes = [n for n, column in heads.columns.items() if column == CODE]
    site_at = site_column(own)
    if site_at is None and codes:  # each site is known by its code
        site_at = codes[0]
    return _SiteList(sheet, heads, site_at, None if codes else bare_code_column(own))


def _of_sheet(book: Book, sheet: BookSheet) -> SiteBook:
    first = next(cell for row in sheet.rows for cell in filled(row))
    own = replace(book, sheets=(sheet,))
    return SiteBook(site=sheet.title.strip(), span=book.place(sheet, first), book=own)


def _by_column(book: Book, part: _SiteList, problems: list[Problem]) -> Iterator[SiteBook]:
    """The column of the site is left out: it is no column of a station's own.

    Where the code of the job is the site, too, it stays.
    """
    sheet, site_at = part.sheet, part.site_at
    assert site_at is not None
    first: dict[str, Cell] = {}
    rows_of: dict[str, list[list[Cell]]] = {}
    for row in sheet.rows[part.heads.at + 1 :]:
        cell = _site_cell(book, part, row, problems)
        if cell is not None:
            name = site_name(cell.text)
            first.setdefault(name, cell)
            rows_of.setdefault(name, []).append(row)
    above = sheet.rows[: part.heads.at + 1]
    if part.code_at is not None and _says_codes(part.code_at, rows_of.values()):
        *above, heads = above
        cell = heads[part.code_at]
        renamed = replace(cell, text=CODE)
        above = [*above, [*heads[: part.code_at], renamed, *heads[part.code_at + 1 :]]]
    if part.heads.columns[site_at] != CODE:
        above = [[*row[:site_at], *row[site_at + 1 :]] for row in above]
        rows_of = {
            name: [[*row[:site_at], *row[site_at + 1 :]] for row in rows]
            for name, rows in rows_of.items()
        }
    for name, rows in rows_of.items():
        own = replace(book, sheets=(replace(sheet, rows=[*above, *rows]),))
        span = book.place(sheet, first[name])
        yield SiteBook(site=one_text(first[name]), span=span, book=own)


def _says_codes(at: int, sites: Iterable[list[list[Cell]]]) -> bool:
    """Whether a column that is only headed 'code' has one for each site, and no two the same."""
    found = [{one_text(row[at]) for row in rows if at < len(row)} - {""} for rows in sites]
    codes = [code.casefold() for codes in found for code in codes]
    return all(len(codes) <= 1 for codes in found) and len({*codes}) == len(codes) > 0


def _site_cell(
    book: Book, part: _SiteList, row: Sequence[Cell], problems: list[Problem]
) -> Cell | None:
    """The cell with the site of a row; None for one that has no station, and one without a site."""
    cells = filled(row)
    site_at = part.site_at
    assert site_at is not None
    if not cells:
        return None
    cell = row[site_at] if site_at < len(row) else Cell("", cells[0].line, cells[0].column)
    unread = list(unread_cells(book, part.sheet, [cell]))
    if unread:
        problems += unread
        return None
    heading = part.sheet.rows[part.heads.at][site_at]
    if plain(cell.text) == plain(heading.text):
        return None  # the headings once more, as at the top of each printed page
    stations = [row[n] for n, c in part.heads.columns.items() if c == "name" and n < len(row)]
    has_station = any(cell.text.strip() for cell in stations)
    total = cells[0] if is_sum(cells[0]) else cell if ends_in_sum(cell) else None
    if total is not None and not (has_station and cell.text.strip()):
        text = short(one_text(total))
        problems.append(SHEET_LEFT_OUT.at(book.place(part.sheet, total), text=text))
        return None
    if not cell.text.strip():
        span = book.place(part.sheet, cell)
        problems.append(SHEET_NAME.at(span, variant="no site", text=short(one_text(cells[0]))))
        return None
    return cell


def _no_site(book: Book, lists: Sequence[_SiteList]) -> Problem:
    """There is one list without a column for the site, or none at all."""
    for part in lists:
        cell = filled(part.sheet.rows[part.heads.at])[0]
        return SHEET_HEADINGS.at(book.place(part.sheet, cell), variant="no site")
    sheet, cell = next((s, c) for s in book.sheets for row in s.rows for c in filled(row))
    return SHEET_HEADINGS.at(book.place(sheet, cell), variant="list")


def _twice(before: SiteBook, site_book: SiteBook) -> Problem:
    return SHEET_NAME.at(
        site_book.span,
        variant="site twice",
        text=short(site_book.site),
        other=short(before.book.sheets[0].title),
        also=(Also(span=before.span, text="first written here"),),
    )


def _left_out(book: Book, chosen: Sequence[str]) -> Iterator[Problem]:
    for sheet in book.sheets:
        first = next((cell for row in sheet.rows for cell in filled(row)), None)
        if first is not None and sheet.title not in chosen:
            span = book.place(sheet, first)
            yield SHEET_LEFT_OUT.at(span, variant="no list", sheet=short(sheet.title))
