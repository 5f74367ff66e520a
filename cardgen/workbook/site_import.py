"""Read a list with several sites, and the jobs that are there already."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from cardgen.problems import Problem, UserError
from cardgen.workbook.book_files import Book
from cardgen.workbook.sheets_in import is_workbook
from cardgen.workbook.site_books import SiteBook, site_books
from cardgen.workbook.site_jobs import SiteJob, site_jobs


def sites_and_jobs(
    book: Book, job_files: Iterable[Path]
) -> tuple[list[SiteBook], list[SiteJob], list[Problem]]:
    """The sites of the list and the jobs that are there, and what is wrong with either.

    Raises:
        UserError: if it is the workbook of one job.
    """
    if is_workbook(book):
        raise UserError(
            f"'{book.name}' is the workbook of one job", "name its job file, which ends in .yaml"
        )
    sites, problems = site_books(book)
    jobs, unread = site_jobs(job_files)
    return sites, jobs, [*problems, *unread]
