"""Set a page of the server: the record's style, a strict policy, a form that only we can send."""

from __future__ import annotations

from collections.abc import Sequence

from starlette.responses import JSONResponse, Response

from cardgen.record.html import Child, Markup, element, joined
from cardgen.record.page_frame import link
from cardgen.record.policy import NAME, digests
from cardgen.server.addresses import REPORTS, RESULTS
from cardgen.server.crew_assets import STYLE, WAITING_SCRIPTS
from cardgen.server.http_error import HttpError
from cardgen.server.job_context import JobContext
from cardgen.server.request_context import LOGIN, RequestContext
from cardgen.server.waiting_part import waiting_list, waiting_state
from cardgen.words import Said, Words


def document(
    words: Words,
    title: Said,
    *contents: Child,
    scripts: Sequence[str] = (),
    status: int = 200,
) -> Response:
    """A whole page; nothing runs or shows on it but these scripts and styles."""
    head = (
        element("meta", charset="utf-8"),
        element("meta", name="viewport", content="width=device-width, initial-scale=1"),
        element("meta", name="robots", content="noindex, nofollow, noarchive"),
        element("meta", name="color-scheme", content="light"),
        element("meta", name="format-detection", content="telephone=no"),
        element("title", title),
        element("link", rel="icon", href="data:,"),
        element("style", Markup(STYLE)),
    )
    body = (
        element("main", *contents, id="main"),
        *(element("script", Markup(text)) for text in scripts),
    )
    page = element("html", element("head", *head), element("body", *body), lang=words.languages[0])
    return Response(
        f"<!DOCTYPE html>\n{page.text}\n",
        status,
        {NAME: _policy(scripts), "Cache-Control": "no-store"},
        media_type="text/html",
    )


def _policy(scripts: Sequence[str]) -> str:
    return (
        f"default-src 'none'; style-src {digests((STYLE,))}; script-src {digests(scripts)}; "
        "img-src 'self' blob: data:; connect-src 'self'; worker-src 'self'; form-action 'self'; "
        "base-uri 'none'; frame-ancestors 'none'"
    )


def crew_page(
    request: RequestContext,
    context: JobContext,
    title: str,
    *contents: Child,
    scripts: Sequence[str] = (),
    status: int = 200,
    bar_first: bool = True,
) -> Response:
    """A page about a job, with the way back to the job above it, or below what is pressed often.

    What waits on the phone is shown and sent there too, unless its own scripts see to that.
    """
    bar = _bar(request, context)
    waiting = None if scripts else joined(waiting_state(context), waiting_list())
    where = f"{context.now.site} · {context.now.job_code}"
    return document(
        context.words,
        f"{title}: {context.now.site}",
        bar if bar_first else None,
        element("h1", title, class_=None if bar_first else "slim"),
        element("p", where, class_="where" if bar_first else "small slim"),
        waiting,
        *contents,
        None if bar_first else bar,
        scripts=scripts or WAITING_SCRIPTS,
        status=status,
    )


def _bar(request: RequestContext, context: JobContext) -> Markup:
    """The job, and what crews have entered."""
    links = [
        link(context.text("to the job"), context.to_place("")),
        link(context.text("to results"), context.to(RESULTS)),
    ]
    if request.crew:
        links.append(link(context.text("to reports"), context.to(REPORTS)))
    return element("nav", *links, class_="bar", aria_label=context.text("around"))


def form(request: RequestContext, action: str, *fields: Child, **attributes: str | bool) -> Markup:
    """A form that is sent with its token, so that no page of another site can send it."""
    token = element("input", type="hidden", name="token", value=request.token)
    return element("form", token, *fields, method="post", action=action, **attributes)


def field(label: Said, name: str, **attributes: str | bool) -> Markup:
    """A labeled field, high enough for a glove."""
    box = element("input", id=f"f-{name}", name=name, class_="field", **attributes)
    return joined(element("label", label, for_=f"f-{name}"), box)


def refused(refusal: HttpError, words: Words, *, json: bool) -> Response:
    """The page, or the JSON, that says why nothing was done."""
    name, values = f"refusal.{refusal.name}", refusal.values
    title, sentence = words(f"{name} title"), words(name, **values)
    help_ = words(f"{name} help", **values)
    if json:
        told = {"error": refusal.name, "sentence": sentence.printed, "help": help_.printed}
        response: Response = JSONResponse(told, refusal.status, {"Cache-Control": "no-store"})
    else:
        parts = (element("p", sentence), element("p", help_))
        alert = element("div", *parts, class_="alert", role="alert")
        log_in = link(words("server.log in"), LOGIN) if refusal.status == 401 else None
        page = (element("h1", title), alert, log_in)
        response = document(words, title, *page, status=refusal.status)
    response.headers.update(refusal.headers)
    return response
