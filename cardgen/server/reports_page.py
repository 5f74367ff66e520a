"""Set what differs from the tags, as crews have reported it, and send photos: for crews only."""

from __future__ import annotations

from starlette.responses import Response

from cardgen.record.html import Markup, element
from cardgen.record.page_frame import link
from cardgen.server.entries import StoredEntry, entries, entry_of, photo_of
from cardgen.server.entry_fields import DIFFERENCE, when
from cardgen.server.http_error import HttpError
from cardgen.server.job_context import JobContext, job_context
from cardgen.server.live_results_page import private_part
from cardgen.server.page_shell import crew_page
from cardgen.server.request_context import RequestContext


def reports_page(request: RequestContext) -> Response:
    """The newest first: what the office has to look at, and then to put into the job file."""
    context = job_context(request)
    found = entries(request.store, context.now.key, kind=DIFFERENCE)
    nothing = None if found else element("p", context.text("no reports"))
    rows = (_report(context, entry) for entry in reversed(found))
    return crew_page(
        request,
        context,
        context.text("reports"),
        element("p", context.text("reports how")),
        nothing,
        *rows,
    )


def _report(context: JobContext, entry: StoredEntry) -> Markup:
    place = link(entry.box, context.to_place(entry.box), when(entry)[:16].replace("T", " "))
    return element("div", place, *private_part(context, entry), class_="verdict")


def photo(request: RequestContext) -> Response:
    """The photo of an entry of this job."""
    context, id_ = job_context(request), request.values["id"]
    entry = entry_of(request.store, id_)
    found = photo_of(request.store, id_)
    if entry is None or found is None or entry.record_key != context.now.key:
        raise HttpError(404, "not here")
    return Response(found.data, media_type=found.media)
