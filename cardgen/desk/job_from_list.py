"""Make a new job of a spreadsheet or a pasted list; nothing is written while it has an error."""

from __future__ import annotations

import datetime
from collections.abc import Mapping

from starlette.responses import RedirectResponse, Response

from cardgen.address import new_record_key
from cardgen.desk.blank_job import file_stem, job_code, listed_job
from cardgen.desk.desk_routing import DeskRequest
from cardgen.desk.desk_shell import desk_page, job_address, labeled_input, link_to
from cardgen.desk.job_summary import codes_of, text_at
from cardgen.desk.problem_list import told_cells
from cardgen.desk.sent_lists import list_form, sent_book, sent_file
from cardgen.desk.site_lists import SentSites, has_several_sites, sites_page
from cardgen.output.writing import write_new
from cardgen.problems import Problem
from cardgen.reading import parse
from cardgen.record.html import Child, element
from cardgen.workbook.importing import ImportedJob, new_job
from cardgen.workbook.list_job import NewJob


def list_page(request: DeskRequest) -> Response:
    """The form."""
    return _page(request, {})


def job_from_list(request: DeskRequest) -> Response:
    """Write the new job, and say what a person must know of it; or what is unclear, and where."""
    book, problems, fields = sent_book(request)
    if book is None:
        return _unclear(request, fields, problems)
    if has_several_sites(book):
        return sites_page(request, SentSites(*sent_file(request), fields.get("address", "")))
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


def _write(request: DeskRequest, made: ImportedJob, fields: Mapping[str, str]) -> str:
    """The name of its file."""
    assert made.text is not None
    said = {name: " ".join(fields.get(name, "").split()) for name in ("site", "address")}
    text = made.text
    if made.stations:  # a plain list, which does not say whose it is
        today = datetime.datetime.now().astimezone().date()
        site = said["site"] or made.title
        code = made.code or job_code(site, codes_of(request.jobs.all()))
        text = listed_job(text, site, said["address"], today, code=code)
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
