"""Take a list with several sites: show the new jobs and every change, then write what was shown."""

from __future__ import annotations

import base64
import binascii
import datetime
import hashlib
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from starlette.responses import RedirectResponse, Response

from cardgen.address import new_record_key
from cardgen.desk.blank_job import listed_job
from cardgen.desk.desk_routing import DeskRequest
from cardgen.desk.desk_shell import desk_page, link_to
from cardgen.desk.grid_names import GridNames
from cardgen.desk.open_job import OpenJob
from cardgen.desk.problem_list import told_cells
from cardgen.editing import edited
from cardgen.output.writing import write_new
from cardgen.problems import Problem, has_errors, in_order
from cardgen.record.html import Markup, element
from cardgen.server.http_error import HttpError
from cardgen.words import Text
from cardgen.workbook.book_files import Book, book_of
from cardgen.workbook.change_lines import change_lines
from cardgen.workbook.importing import ImportedJob, JobUpdate, update_of
from cardgen.workbook.new_sites import new_sites
from cardgen.workbook.sheets_in import is_workbook
from cardgen.workbook.site_books import SiteBook, site_books
from cardgen.workbook.site_import import sites_and_jobs
from cardgen.workbook.site_jobs import file_names


@dataclass(frozen=True, slots=True)
class SentSites:
    """A list as a person sent it, and the web address for the records of new jobs."""

    data: bytes
    name: str
    address: str


@dataclass(frozen=True, slots=True, kw_only=True)
class _Plan:
    """What a list makes and changes in the folder as it is now.

    Attributes:
        made: sites without a job, each with its job.
        updates: jobs that are there, each with the version that was looked at.
        others: jobs that the list does not have.
    """

    made: tuple[tuple[SiteBook, ImportedJob], ...]
    updates: list[tuple[OpenJob, str, JobUpdate]]
    others: list[str]
    problems: tuple[Problem, ...]

    @property
    def changed(self) -> list[tuple[OpenJob, str, JobUpdate]]:
        return [each for each in self.updates if each[2].changes]

    @property
    def seen(self) -> str:
        """Another as soon as anything of it is."""
        told = [site.site for site, _ in self.made]
        told += [f"{job.name} {version}" for job, version, _ in self.updates]
        return hashlib.sha256("\n".join(told).encode()).hexdigest()[:20]


def has_several_sites(book: Book) -> bool:
    """Whether it is no list of one site, and no workbook of one job."""
    return not is_workbook(book) and len(site_books(book)[0]) > 1


def sites_page(request: DeskRequest, sent: SentSites, *, is_again: bool = False) -> Response:
    """The new jobs, the changes of the others, and a button; nothing is written yet.

    Args:
        is_again: whether what was shown before is no longer so.
    """
    words, plan = request.words, _plan(request, sent)
    title = words("desk.from list")
    around = words("desk.around")
    bar = element("nav", link_to(words("desk.all jobs"), "/"), class_="bar", aria_label=around)
    again = None
    if is_again:
        again = element("p", words("desk.sites again"), class_="alert", role="alert")
    told = None
    if plan.problems:
        key = "list unclear" if has_errors(plan.problems) else "list notes"
        told = told_cells(words, plan.problems, words(f"desk.{key}"))
    form = None
    if not has_errors(plan.problems) and (plan.made or plan.changed):
        form = _form(request, sent, plan)
    heading = element("h1", title, class_="slim")
    return desk_page(words, title, bar, heading, again, told, *_shown(request, plan), form)


def take_sites(request: DeskRequest) -> Response:
    """Write what was shown, if it is still so; each change is a step that can be undone."""
    fields = dict(request.fields)
    try:
        data = base64.b64decode(fields["list"], validate=True)
        sent = SentSites(data, fields["name"], fields["address"])
    except (KeyError, binascii.Error) as fault:
        raise HttpError(400, "unread") from fault
    plan = _plan(request, sent)
    if has_errors(plan.problems) or plan.seen != fields.get("seen"):
        return sites_page(request, sent, is_again=True)
    _write(request, sent, plan)
    return RedirectResponse("/", 303)


def _plan(request: DeskRequest, sent: SentSites) -> _Plan:
    """Raises:
    UserError: if a site has several jobs, or a job several sites.
    """
    book, problems = book_of(sent.data, sent.name)
    if book is None:
        return _Plan(made=(), updates=[], others=[], problems=problems)
    folder = request.jobs.folder
    sites, jobs, unread = sites_and_jobs(book, map(folder.file, folder.names()))
    found = new_sites(sites, jobs, new_record_key)
    updates = []
    for site in sites:
        if site.site in found.there:
            job = request.jobs.job(found.there[site.site].path.name)
            now = job.show()
            updates.append((job, now.version, update_of(site.book, now.text or "", job.name)))
    listed = {job.name for job, _, _ in updates}
    told = [*problems, *unread, *found.problems]
    told += [p for _, _, update in updates for p in update.problems]
    others = [job.path.name for job in jobs if job.site and job.path.name not in listed]
    return _Plan(made=found.made, updates=updates, others=others, problems=in_order(told))


def _write(request: DeskRequest, sent: SentSites, plan: _Plan) -> None:
    today = datetime.datetime.now().astimezone().date()
    folder = request.jobs.folder
    taken = [path.name for path in folder.path.iterdir()]
    names = file_names([site.site for site, _ in plan.made], taken)
    for (site, job_made), name in zip(plan.made, names, strict=True):
        assert job_made.text is not None  # there are no errors
        text = listed_job(job_made.text, site.site, sent.address, today)
        write_new(folder.new_file(name), text.encode())
    for job, version, update in plan.changed:
        assert update.changes is not None
        job.replace(edited(job.text, update.changes), version)


# ---- the page ------------------------------------------------------------------------------


def _shown(request: DeskRequest, plan: _Plan) -> Iterator[Markup]:
    words = request.words
    if plan.made:
        yield element("h2", words("desk.sites new", count=len(plan.made)))
        yield element(
            "ul",
            *(
                element("li", words("desk.site stations", site=site.site, count=job.stations))
                for site, job in plan.made
            ),
            class_="plain",
        )
    for job, _, update in plan.updates:
        if update.changes:
            assert update.root is not None
            lines = change_lines(update.changes, update.root, GridNames(words))
            yield element("h2", job.name)
            yield element("ul", *(element("li", line) for line in lines), class_="plain changes")
        if update.not_listed:
            stay = (f"{job.name} {station}" for station in update.not_listed)
            yield element("p", _named(request, "not listed", stay))
    same = [job.name for job, _, update in plan.updates if update.changes == ()]
    if same:
        yield element("p", _named(request, "sites same", same))
    if plan.others:
        yield element("p", _named(request, "not listed", plan.others))


def _named(request: DeskRequest, key: str, names: Iterable[str]) -> Text:
    return request.words(f"desk.{key}", names=request.words.list_of(names))


def _form(request: DeskRequest, sent: SentSites, plan: _Plan) -> Markup:
    fields = {
        "list": base64.b64encode(sent.data).decode(),
        "name": sent.name,
        "address": " ".join(sent.address.split()),
        "seen": plan.seen,
    }
    hidden = (element("input", type="hidden", name=key, value=of) for key, of in fields.items())
    label = request.words("desk.take changes" if plan.changed else "desk.take sites")
    button = element("button", label, type="submit")
    return element("form", *hidden, button, method="post", action="/from-list/sites")
