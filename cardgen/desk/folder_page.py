"""The first page: every job of the folder with its state, a search over all of them, a new job."""

from __future__ import annotations

import datetime
import json
from collections.abc import Iterator

from starlette.responses import RedirectResponse, Response

from cardgen.desk.blank_job import blank_job, file_stem
from cardgen.desk.desk_assets import LIST_SCRIPTS
from cardgen.desk.desk_routing import DeskRequest
from cardgen.desk.desk_shell import (
    desk_page,
    job_address,
    labeled_choice,
    labeled_input,
    link_to,
    script_words,
)
from cardgen.desk.job_summary import codes_of, head_of, is_job
from cardgen.output.writing import write_new
from cardgen.record.html import Markup, element
from cardgen.words import Words

SUPPLIES = ("24 V AC", "9 V DC latching", "two-wire")
# Words that the script of the page fills in.
_SCRIPT_WORDS = (
    *("choose", "clean", "errors", "hangs", "job one", "jobs many", "not printed", "not readable"),
    *("open questions", "printed", "warnings"),
)


def folder_page(request: DeskRequest) -> Response:
    """Heads at once; what takes longer is filled in by the script, job by job."""
    words = request.words
    heads = [head_of(job) for job in request.jobs.all() if is_job(job)]
    title = words("desk.jobs")
    cells = ("site", "code short", "revision", "state", "print state")
    all_shown = element(
        "input", type="checkbox", id="choose-all", aria_label=words("desk.choose all")
    )
    head = element(
        "tr",
        element("th", all_shown, scope="col"),
        *(element("th", words(f"desk.{name}"), scope="col") for name in cells),
    )
    table = element(
        "table",
        element("caption", words("desk.jobs in", folder=str(request.jobs.folder.path))),
        element("thead", head),
        element("tbody", id="jobs"),
        class_="table",
        id="job-table",
        data_heads=json.dumps(heads),
        data_words=script_words(words, _SCRIPT_WORDS),
        hidden=not heads,
    )
    none = element("p", words("desk.no jobs"), class_="said") if not heads else None
    find = labeled_input(words("desk.search"), "find", type="search", autocomplete="off")
    return desk_page(
        words,
        title,
        element("h1", title),
        none,
        *_notices(request),
        element("div", find, element("p", id="found", role="status"), hidden=not heads),
        table,
        _queue_form(request, hidden=not heads),
        element("h2", words("desk.new job")),
        element("p", link_to(words("desk.from list"), "/from-list")),
        _new_form(words),
        scripts=LIST_SCRIPTS,
    )


def new_job(request: DeskRequest) -> Response:
    """Write the file of a new job, and go on at its page."""
    form = dict(request.fields)
    today = datetime.datetime.now().astimezone().date()
    text = blank_job(form, today, codes_of(request.jobs.all()))
    folder = request.jobs.folder
    name = folder.free_name(file_stem(form["site"]))
    write_new(folder.new_file(name), text.encode())
    return RedirectResponse(job_address(name), 303)


def _notices(request: DeskRequest) -> Iterator[Markup]:
    """What the last desk has left, and why this one leaves nothing to the next."""
    words, memory = request.words, request.jobs.memory
    trouble = memory.look()
    if trouble is not None:
        said = words(f"desk.memory {trouble}", file=memory.path.name)
        without = element("p", words("desk.memory without"))
        yield element("div", element("p", said), without, class_="alert", role="alert")
    if left := request.jobs.queue.left:
        count = element("p", words("desk.queue left", count=left))
        way = link_to(words("desk.queue go on"), "/queue")
        yield element("div", count, way, class_="must", role="status")


def _queue_form(request: DeskRequest, *, hidden: bool) -> Markup:
    """For the jobs whose boxes in the table are ticked."""
    words = request.words
    to_queue = link_to(words("desk.queue"), "/queue") if request.jobs.queue.has_jobs else None
    button = element(
        "button", words("desk.queue choose"), type="submit", id="print-chosen", disabled=True
    )
    return element(
        "form", button, to_queue, id="chosen", method="post", action="/queue/choose",
        class_="tools", hidden=hidden,
    )  # fmt: skip


def _new_form(words: Words) -> Markup:
    supplies = [(each, each) for each in SUPPLIES]
    return element(
        "form",
        labeled_input(words("desk.site name"), "site", required=True, autocomplete="off"),
        labeled_input(words("desk.place of A"), "place", autocomplete="off"),
        labeled_input(
            words("desk.terminals of A"), "stations", inputmode="numeric", autocomplete="off"
        ),
        labeled_choice(words("desk.supply of A"), "supply", supplies),
        labeled_input(words("desk.record address"), "address", autocomplete="off"),
        element("button", words("desk.make job"), type="submit"),
        method="post",
        action="/new",
        class_="fields",
    )
