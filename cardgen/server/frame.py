"""Set a page of the server: the record's style, a strict policy, a form that only we can send."""

from __future__ import annotations

from collections.abc import Sequence

from starlette.responses import JSONResponse, Response

from cardgen.record.frame import digest, go
from cardgen.record.html import Child, Markup, element, joined
from cardgen.record.style import STYLE
from cardgen.server.http_error import HttpError as Refusal
from cardgen.server.request_context import LOGIN
from cardgen.server.request_context import RequestContext as Visit
from cardgen.words import Words

# What the server's own pages add to the record's style.
_MORE = """
h1{margin-top:16px}
.alert+.go{margin-top:16px}
.alert{border:3px solid #111111;border-radius:10px;padding:10px 12px;margin-top:12px}
label{display:block;margin-top:14px;font-weight:700}
button{display:block;width:100%;min-height:60px;margin-top:16px;border:3px solid #111111;\
border-radius:10px;background:#111111;color:#FFFFFF;font:inherit;font-weight:800;font-size:22px}
button:focus-visible{outline:4px solid #0B3D91;outline-offset:2px}
button.quiet{background:#FFFFFF;color:#111111;font-weight:700}
""".strip()


def document(
    words: Words,
    title: str,
    *contents: Child,
    scripts: Sequence[str] = (),
    style: str = "",
    status: int = 200,
) -> Response:
    """A whole page; nothing runs or shows on it but these scripts and styles."""
    styles = f"{STYLE}\n{_MORE}\n{style}".strip()
    head = (
        element("meta", charset="utf-8"),
        element("meta", name="viewport", content="width=device-width, initial-scale=1"),
        element("meta", name="robots", content="noindex, nofollow, noarchive"),
        element("meta", name="color-scheme", content="light"),
        element("meta", name="format-detection", content="telephone=no"),
        element("title", title),
        element("link", rel="icon", href="data:,"),
        element("style", Markup(styles)),
    )
    body = (
        element("main", *contents, id="main"),
        *(element("script", Markup(text)) for text in scripts),
    )
    page = element("html", element("head", *head), element("body", *body), lang=words.languages[0])
    return Response(
        f"<!DOCTYPE html>\n{page.text}\n",
        status,
        {"Content-Security-Policy": _policy(styles, scripts), "Cache-Control": "no-store"},
        media_type="text/html",
    )


def _policy(styles: str, scripts: Sequence[str]) -> str:
    digests = " ".join(map(digest, scripts)) or "'none'"
    return (
        f"default-src 'none'; style-src {digest(styles)}; script-src {digests}; "
        "img-src 'self' blob: data:; connect-src 'self'; worker-src 'self'; form-action 'self'; "
        "base-uri 'none'; frame-ancestors 'none'"
    )


def form(visit: Visit, action: str, *fields: Child, **attributes: str | bool) -> Markup:
    """A form that is sent with its token, so that no page of another site can send it."""
    token = element("input", type="hidden", name="token", value=visit.token)
    return element("form", token, *fields, method="post", action=action, **attributes)


def field(label: str, name: str, **attributes: str | bool) -> Markup:
    """A labelled field, high enough for a glove."""
    box = element("input", id=f"f-{name}", name=name, class_="field", **attributes)
    return joined(element("label", label, for_=f"f-{name}"), box)


def refused(refusal: Refusal, words: Words, *, json: bool) -> Response:
    """The page, or the JSON, that says why nothing was done."""
    name, values = f"refusal.{refusal.name}", refusal.values
    title, sentence = words(f"{name} title"), words(name, **values)
    help_ = words(f"{name} help", **values)
    if json:
        told = {"error": refusal.name, "sentence": sentence, "help": help_}
        response: Response = JSONResponse(told, refusal.status, {"Cache-Control": "no-store"})
    else:
        parts = (element("p", sentence), element("p", help_))
        alert = element("div", *parts, class_="alert", role="alert")
        log_in = go(words("server.log in"), LOGIN) if refusal.status == 401 else None
        page = (element("h1", title), alert, log_in)
        response = document(words, title, *page, status=refusal.status)
    response.headers.update(refusal.headers)
    return response
