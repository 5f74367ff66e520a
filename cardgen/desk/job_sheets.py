"""Take a job out as a workbook, and bring one back: every change is shown before it is written."""

from __future__ import annotations

import base64
import binascii
from collections.abc import Mapping

from starlette.responses import RedirectResponse, Response

from cardgen.desk.desk_routing import DeskRequest
from cardgen.desk.desk_shell import job_address, link_to
from cardgen.desk.grid_names import GridNames
from cardgen.desk.job_frame import job_frame
from cardgen.desk.open_job import FileText
from cardgen.desk.problem_list import told_cells
from cardgen.desk.sent_lists import list_form, sent_book
from cardgen.editing import edited
from cardgen.problems import has_errors
from cardgen.record.html import Child, Markup, element, joined
from cardgen.results.workbook_file import workbook
from cardgen.server.http_error import HttpError
from cardgen.words import Words
from cardgen.workbook.as_exported import AS_EXPORTED
from cardgen.workbook.change_lines import change_lines
from cardgen.workbook.exporting import exported
from cardgen.workbook.importing import JobUpdate, update_of

_XLSX = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"  # as IANA lists it


def sheet_page(request: DeskRequest) -> Response:
    """Out and in."""
    return _page(request, {})


def workbook_file(request: DeskRequest) -> Response:
    """The job as a workbook, as `cardgen export` writes it."""
    job = request.jobs.job(request.values["name"])
    found = exported(job.text, job.name)
    if not found.sheets:
        words = request.words
        return _page(request, {}, told_cells(words, found.problems, words("desk.fix first")))
    disposition = f'attachment; filename="{_ascii(job.path.stem)}.xlsx"'
    return Response(
        workbook(found.sheets, hidden=(AS_EXPORTED,)),
        media_type=_XLSX,
        headers={"Content-Disposition": disposition},
    )


def bring_in(request: DeskRequest) -> Response:
    """Show what a list changes in the job; nothing is written yet."""
    job, words = request.jobs.job(request.values["name"]), request.words
    book, problems, fields = sent_book(request)
    if book is None:
        return _page(request, fields, told_cells(words, problems, words("desk.list unclear")))
    now = job.show()
    found = update_of(book, now.text or "", job.name)
    told: list[Child] = []
    if found.problems:
        key = "list unclear" if has_errors(found.problems) else "list notes"
        told.append(told_cells(words, found.problems, words(f"desk.{key}")))
    if found.changes is not None:
        told.append(_changes(words, job.name, found, now))
    return _page(request, fields, *told)


def take_in(request: DeskRequest) -> Response:
    """Write what was shown, as a step that can be undone."""
    fields = dict(request.fields)
    try:
        text = base64.b64decode(fields.get("text", ""), validate=True).decode()
    except (binascii.Error, UnicodeDecodeError) as fault:
        raise HttpError(400, "unread") from fault
    if not text or "version" not in fields:
        raise HttpError(400, "unread")
    request.jobs.job(request.values["name"]).replace(text, fields["version"])
    return RedirectResponse(job_address(request.values["name"]), 303)


def _changes(words: Words, name: str, found: JobUpdate, now: FileText) -> Markup:
    assert found.changes is not None and found.root is not None
    stay = None
    if found.not_listed:
        stay = element("p", words("desk.not listed", names=words.list_of(found.not_listed)))
    if not found.changes:
        return joined(element("p", words("desk.same already"), class_="must", role="status"), stay)
    told = change_lines(found.changes, found.root, GridNames(words))
    lines = (element("li", line) for line in told)
    text = edited(now.text or "", found.changes)
    coded = base64.b64encode(text.encode()).decode()
    return element(
        "section",
        element("h2", words("desk.list changes", count=len(found.changes))),
        element("ul", *lines, class_="plain changes"),
        stay,
        element(
            "form",
            element("input", type="hidden", name="version", value=now.version),
            element("input", type="hidden", name="text", value=coded),
            element("button", words("desk.take changes"), type="submit"),
            method="post",
            action=job_address(name, "spreadsheet", "take"),
        ),
        role="status",
    )


def _page(request: DeskRequest, fields: Mapping[str, str], *told: Child) -> Response:
    words, name = request.words, request.values["name"]
    way_in = job_address(name, "spreadsheet")
    return job_frame(
        request,
        words("desk.to spreadsheet"),
        *told,
        element("h2", words("desk.take out")),
        element("p", words("desk.take out hint")),
        link_to(words("desk.workbook"), job_address(name, "workbook.xlsx")),
        element("h2", words("desk.bring in")),
        element("p", words("desk.bring in hint")),
        list_form(words, way_in, words("desk.show changes"), fields=fields),
    )


def _ascii(stem: str) -> str:
    """For a header, which takes no other letters and no quotes."""
    return "".join(sign if sign.isascii() and sign not in '"\\' else "-" for sign in stem)
