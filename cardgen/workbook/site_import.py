"""Go through a list with several sites: which have a job already, and a job for each other one."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path

from cardgen.address import new_record_key
from cardgen.problems import Problem, UserError
from cardgen.workbook.book_files import Book
from cardgen.workbook.importing import ImportedJob, job_of_list
from cardgen.workbook.list_job import NewJob
from cardgen.workbook.sheets_in import is_workbook
from cardgen.workbook.site_books import SiteBook, site_books
from cardgen.workbook.site_jobs import SiteJob, site_codes, site_jobs


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


def new_jobs(
    sites: Sequence[SiteBook], jobs: Sequence[SiteJob], there: Mapping[str, SiteJob]
) -> list[tuple[SiteBook, str, ImportedJob]]:
    """For each site without a job: its code, and the job with a key of its own."""
    new = [site for site in sites if site.site not in there]
    codes = site_codes([site.site for site in new], [job.code for job in jobs])
    return [
        (
            site,
            code,
            job_of_list(site.book, NewJob(key=new_record_key(), site=site.site, code=code)),
        )
        for site, code in zip(new, codes, strict=True)
    ]
