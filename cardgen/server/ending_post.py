"""Take back a reading that was typed wrong, or close a report: with who and why, and kept."""

from __future__ import annotations

from starlette.responses import RedirectResponse, Response

from cardgen.record.html import Markup, element
from cardgen.server.addresses import ENDING, REPORTS, RESULTS
from cardgen.server.bad_field import BadField
from cardgen.server.entries import StoredEntry, end, entry_of
from cardgen.server.entry_fields import NOTES_MOST, is_reading, text_of
from cardgen.server.http_error import HttpError
from cardgen.server.job_context import JobContext, job_context
from cardgen.server.page_shell import crew_page, form
from cardgen.server.request_context import RequestContext

WITHDRAWN, CLOSED = "withdrawn", "closed"


def may_end(request: RequestContext, entry: StoredEntry) -> bool:
    """The office all of it, a crew its own readings; each only once."""
    own = is_reading(entry) and entry.crew == request.crew
    return bool(request.crew) and entry.ending is None and (request.is_office or own)


def ending_form(request: RequestContext, context: JobContext, entry: StoredEntry) -> Markup | None:
    """What asks for the reason; nothing for whoever may not."""
    if not may_end(request, entry):
        return None
    name = "withdraw" if is_reading(entry) else "close"
    field = element("input", name="why", class_="field", required=True, maxlength=str(NOTES_MOST))
    label = element("label", context.text(f"{name} why"), field)
    hidden = element("input", type="hidden", name="id", value=entry.id)
    button = element("button", context.text(name), class_="quiet")
    sent = form(request, context.to(ENDING), hidden, label, button)
    return element("details", element("summary", context.text(name)), sent, class_="slim")


def end_entry(request: RequestContext) -> Response:
    """Withdraw or close it, and show the page that it stands on."""
    context = job_context(request)
    entry = entry_of(request.store, request.form.get("id", ""))
    if entry is None or entry.record_key != context.now.key:
        raise HttpError(404, "not here")
    if entry.ending is None and not may_end(request, entry):
        raise HttpError(403, "not yours")
    try:
        why = _reason(request.form.get("why", ""))
    except BadField as wrong:
        text = context.text(f"wrong {wrong.name}", **wrong.values)
        alert = element("p", text, class_="alert", role="alert")
        again = ending_form(request, context, entry)
        return crew_page(request, context, context.text("title"), alert, again, status=400)
    what = WITHDRAWN if is_reading(entry) else CLOSED
    end(request.store, entry, what, why, request.crew, network=request.network)
    return RedirectResponse(f"/{context.job.path}/{_back(context, entry)}", 303)


def _back(context: JobContext, entry: StoredEntry) -> str:
    if not is_reading(entry):
        return context.to(REPORTS)
    page = {"valve": entry.valve} if entry.valve else {"conductors": "1"}
    return context.to(RESULTS, **page)


def _reason(typed: str) -> str:
    """Why, as it is kept.

    Raises:
        BadField: if there is none, or what nobody should keep.
    """
    why = text_of(typed)
    if not why:
        raise BadField("no reason")
    return why
