"""Make a new job of a spreadsheet or a pasted list; nothing is written while it has an error."""

from __future__ import annotations

import datetime
from collections.abc import Mapping, Sequence

from starlette.responses import RedirectResponse, Response

from cardgen.address import new_record_key
from cardgen.desk.blank_job import file_stem, job_code, listed_job
from cardgen.desk.desk_routing import DeskRequest
from cardgen.desk.desk_shell import desk_page, job_address, labeled_input, link_to
from cardgen.desk.job_summary import codes_of, text_at
from cardgen.desk.problem_list import told_cells
from cardgen.desk.sent_lists import list_form, sent_book
from cardgen.output.writing import write_new
from cardgen.problems import Problem, has_errors, in_order
from cardgen.reading import parse
from cardgen.record.html import Child, element
from cardgen.workbook.importing import ImportedJob, new_job
from cardgen.workbook.list_job import NewJob
from cardgen.workbook.new_sites import new_sites
from cardgen.workbook.sheets_in import is_workbook
from cardgen.workbook.site_books import SiteBook, site_books
from cardgen.workbook.site_jobs import site_jobs


def list_page(request: DeskRequest) -> Response:
    """The form."""
    return _page(request, {})


def job_from_list(request: DeskRequest) -> Response:
    """Write the new job, and say what a person must know of it; or what is unclear, and where."""
    book, problems, fields = sent_book(request)
    if book is None:
        return _unclear(request, fields, problems)
    sites, unclear = ([], ()) if is_workbook(book) else site_books(book)
    if len(sites) > 1:
        return _several(request, sites, unclear, fields)
    made = new_job(book, NewJob(key=new_record_key()))
    if made.text is None:
        return _unclear(request, fields, made.problems)
    name = _write(request, made, fields)
    if not made.problems:
        return RedirectResponse(job_address(name), 303)
    words = request.words
    title = words("desk.job made")
    return desk_page(
        words,
        title,
        element("h1", title),
        told_cells(words, made.problems, words("desk.list notes")),
        link_to(words("desk.open job"), job_address(name)),
    )


def _several(
    request: DeskRequest,
    sites: Sequence[SiteBook],
    unclear: tuple[Problem, ...],
    fields: Mapping[str, str],
) -> Response:
    """A job for each site that has none in the folder, as `cardgen import` makes them."""
    words, folder = request.words, request.jobs.folder
    jobs, unread = site_jobs(folder.file(name) for name in folder.names())
    found = new_sites(sites, jobs, new_record_key)
    problems = tuple(in_order([*unclear, *found.problems]))
    if has_errors([*problems, *unread]):
        return _unclear(request, fields, (*problems, *unread))
    names = [_write(request, job, {**fields, "site": site.site}) for site, job in found.made]
    title = words("desk.jobs made", count=len(names))
    links = (element("li", link_to(name, job_address(name))) for name in names)
    left = None
    if found.there:
        there = words.list_of([job.path.name for job in found.there.values()])
        left = element("p", words("desk.jobs there", names=there))
    notes = told_cells(words, problems, words("desk.list notes")) if problems else None
    bar = element(
        "nav", link_to(words("desk.all jobs"), "/"), class_="bar", aria_label=words("desk.around")
    )
    heading = element("h1", title, class_="slim")
    listed = element("ul", *links, class_="list")
    return desk_page(words, title, bar, heading, notes, listed, left)


def _write(request: DeskRequest, made: ImportedJob, fields: Mapping[str, str]) -> str:
    """The name of its file."""
    assert made.text is not None
    said = {name: " ".join(fields.get(name, "").split()) for name in ("site", "address")}
    text = made.text
    if made.stations:  # a plain list, which does not say whose it is
        today = datetime.datetime.now().astimezone().date()
        site = said["site"] or made.title
        code = made.code or job_code(site, codes_of(request.jobs.all()))
        text = listed_job(text, site, said["address"], today, code)
    root, _ = parse(text, "")
    folder = request.jobs.folder
    name = folder.free_name(file_stem(text_at(root, "job", "site") or said["site"]))
    write_new(folder.new_file(name), text.encode())
    return name


def _unclear(
    request: DeskRequest, fields: Mapping[str, str], problems: tuple[Problem, ...]
) -> Response:
    words = request.words
    return _page(request, fields, told_cells(words, problems, words("desk.list unclear")))


def _page(request: DeskRequest, fields: Mapping[str, str], *told: Child) -> Response:
    words = request.words
    title = words("desk.from list")
    bar = element(
        "nav", link_to(words("desk.all jobs"), "/"), class_="bar", aria_label=words("desk.around")
    )
    more = (
        labeled_input(words(f"desk.{label}"), name, value=fields.get(name, ""), autocomplete="off")
        for name, label in (("site", "site of list"), ("address", "record address"))
    )
    return desk_page(
        words,
        title,
        bar,
        element("h1", title, class_="slim"),
        *told,
        element("p", words("desk.list hint")),
        list_form(words, "/from-list", words("desk.make job"), *more, fields=fields),
    )
