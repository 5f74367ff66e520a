"""Set what differs from the tags, as crews have reported it, and send photos: for crews only."""

from __future__ import annotations

from starlette.responses import Response

from cardgen.record.html import Markup, element
from cardgen.record.page_frame import link
from cardgen.server.ending_post import ending_form
from cardgen.server.entries import StoredEntry, entries, entry_of, photo_of
from cardgen.server.entry_fields import DIFFERENCE, when
from cardgen.server.http_error import HttpError
from cardgen.server.job_context import JobContext, job_context
from cardgen.server.live_results_page import ended_part, private_part
from cardgen.server.moments import shown
from cardgen.server.page_shell import crew_page
from cardgen.server.request_context import RequestContext


def reports_page(request: RequestContext) -> Response:
    """The newest first: what the office has to look at, and then to put into the job file."""
    context = job_context(request)
    found = entries(request.store, context.now.key, kind=DIFFERENCE)
    nothing = None if found else element("p", context.text("no reports"))
    is_open = [entry for entry in reversed(found) if entry.ending is None]
    closed = [entry for entry in reversed(found) if entry.ending is not None]
    return crew_page(
        request,
        context,
        context.text("reports"),
        element("p", context.text("reports how")),
        nothing,
        *(_report(request, context, entry) for entry in is_open),
        element("h2", context.text("closed")) if closed else None,
        *(_report(request, context, entry) for entry in closed),
    )


def _report(request: RequestContext, context: JobContext, entry: StoredEntry) -> Markup:
    place = link(entry.box, context.to_place(entry.box), shown(when(entry)))
    parts = (*private_part(context, entry), *ended_part(context, entry))
    return element("div", place, *parts, ending_form(request, context, entry), class_="verdict")


def photo(request: RequestContext) -> Response:
    """The photo of an entry of this job."""
    context, id_ = job_context(request), request.values["id"]
    entry = entry_of(request.store, id_)
    found = photo_of(request.store, id_)
    if entry is None or found is None or entry.record_key != context.now.key:
        raise HttpError(404, "not here")
    return Response(found.data, media_type=found.media)
