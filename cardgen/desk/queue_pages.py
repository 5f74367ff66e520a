"""Print several jobs: what and on which stock, then how far each is and why one failed."""

from __future__ import annotations

from starlette.responses import JSONResponse, RedirectResponse, Response

from cardgen.desk.desk_assets import QUEUE_SCRIPTS
from cardgen.desk.desk_routing import DeskRequest
from cardgen.desk.desk_shell import desk_page, link_to, script_words
from cardgen.desk.job_frame import before_work
from cardgen.desk.print_form import print_fields
from cardgen.desk.printer_offsets import keep_offset, with_kept_offset
from cardgen.desk.queue_work import QueueState
from cardgen.problems import UserError
from cardgen.record.html import Child, Markup, element
from cardgen.words import Text

_SCRIPT_WORDS = (
    *(f"queue {state}" for state in QueueState),
    *("and more", "in English", "lost server", "queue done", "queue going", "queue stopped"),
    *("queue stopping", "the same for", "to print"),
)


def choose_print(request: DeskRequest) -> Response:
    """What is to be printed of the jobs that were chosen on the list."""
    words = request.words
    names = _names(request)
    if not names:
        raise UserError("no job is chosen", "choose at least one on the list of jobs")
    listed = (element("li", name) for name in names)
    hidden = (element("input", type="hidden", name="job", value=name) for name in names)
    form = element(
        "form",
        *hidden,
        *print_fields(request),
        element("button", words("desk.print"), type="submit"),
        method="post",
        action="/queue",
        class_="fields",
    )
    chosen = element(
        "details",
        element("summary", words("desk.queue chosen", count=len(names))),
        element("ul", *listed, class_="plain"),
    )
    return _page(request, words("desk.queue choose"), chosen, form)


def start_queue(request: DeskRequest) -> Response:
    fields = with_kept_offset(request, request.fields)
    request.jobs.queue.start(_names(request), fields)
    return keep_offset(RedirectResponse("/queue", 303), fields)


def queue_page(request: DeskRequest) -> Response:
    """The frame; the script fills it, also after the page was loaded again."""
    words = request.words
    title = words("desk.queue")
    heads = ("site file", "state")
    table = element(
        "table",
        element("caption", words("desk.queue where")),
        element("thead", element("tr", *(element("th", words(f"desk.{each}"), scope="col")
                                         for each in heads))),
        element("tbody", id="queue-jobs"),
        class_="table",
    )  # fmt: skip
    return _page(
        request,
        title,
        element(
            "div",
            element("progress", id="queue-bar", value="0", max="1", aria_label=title),
            element("p", id="queue-said", role="status"),
            element("div",
                # The script lets them be pressed: before it listens, a press would be lost.
                _button("queue-stop", words("desk.queue stop")),
                _button("queue-go-on", words("desk.queue go on")),
                class_="tools",
            ),
            id="queue",
            data_words=script_words(words, _SCRIPT_WORDS),
        ),
        table,
        before_work(words),
        scripts=QUEUE_SCRIPTS,
    )  # fmt: skip


def _button(id_: str, said: Text) -> Markup:
    return element("button", said, id=id_, type="button", disabled=True)


def queue_state(request: DeskRequest) -> Response:
    return JSONResponse(request.jobs.queue.shown(request.words))


def stop_queue(request: DeskRequest) -> Response:
    request.jobs.queue.stop()
    return queue_state(request)


def go_on_queue(request: DeskRequest) -> Response:
    request.jobs.queue.go_on()
    return queue_state(request)


def _names(request: DeskRequest) -> list[str]:
    return [value for name, value in request.fields if name == "job"]


def _page(
    request: DeskRequest, title: Text, *contents: Child, scripts: tuple[str, ...] = ()
) -> Response:
    words = request.words
    bar = element(
        "nav", link_to(words("desk.all jobs"), "/"), class_="bar", aria_label=words("desk.around")
    )
    heading = element("h1", title, class_="slim")
    return desk_page(words, title, bar, heading, *contents, scripts=scripts)
