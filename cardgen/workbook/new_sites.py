"""Make a job for each site of a list that has none in the folder yet."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from cardgen.faults.sheet_faults import SHEET_NAME
from cardgen.problems import Problem, in_order
from cardgen.reading.nodes import short
from cardgen.workbook.importing import ImportedJob, job_of_list
from cardgen.workbook.list_job import NewJob
from cardgen.workbook.sheet_rows import by_cell
from cardgen.workbook.site_books import SiteBook
from cardgen.workbook.site_jobs import SiteJob, job_of_site, site_codes


@dataclass(frozen=True, slots=True, kw_only=True)
class NewSites:
    """Attributes:
    made: with its part of the list; without text where that has errors.
    there: by site, the job that it has already.
    """

    made: tuple[tuple[SiteBook, ImportedJob], ...]
    there: dict[str, SiteJob]
    problems: tuple[Problem, ...]


def new_sites(
    sites: Sequence[SiteBook], jobs: Sequence[SiteJob], new_key: Callable[[], str]
) -> NewSites:
    """Each with the code that the list says, or one made of its name; no two have the same.

    Raises:
        UserError: if a site has several jobs, or a job several sites.
    """
    there = job_of_site(sites, jobs)
    new = [site for site in sites if site.site not in there]
    listed = {site.site: code for site in new if (code := site.code) is not None}
    taken = [*(job.code for job in jobs), *(code.text for code in listed.values())]
    unnamed = [site.site for site in new if site.site not in listed]
    proposed = dict(zip(unnamed, site_codes(unnamed, taken), strict=True))
    made = tuple(
        (site, job_of_list(site.book, NewJob(
            key=new_key(), site=site.site, code=proposed.get(site.site, "")
        )))
        for site in new
    )  # fmt: skip
    problems = [*_taken(new, jobs), *(problem for _, job in made for problem in job.problems)]
    return NewSites(made=made, there=there, problems=tuple(in_order(problems)))


def _taken(new: Sequence[SiteBook], jobs: Sequence[SiteJob]) -> Iterator[Problem]:
    """Codes of the list that another job has."""
    owner = {job.code.casefold(): job.path.name for job in jobs}
    for site in new:
        code = site.code
        if code is None:
            continue
        other = owner.setdefault(code.text.casefold(), site.site)
        if other != site.site:
            told = SHEET_NAME.at(
                code.span, variant="code taken", text=short(code.text), other=short(other)
            )
            yield by_cell(told, site.book)
