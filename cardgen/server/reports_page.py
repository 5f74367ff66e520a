"""Set what differs from the tags, as crews have reported it, and send photos: for crews only."""

from __future__ import annotations

from starlette.responses import Response

from cardgen.record.frame import go
from cardgen.record.html import Markup, element
from cardgen.server.entries import StoredEntry as Stored
from cardgen.server.entries import entries, entry_of, photo_of
from cardgen.server.http_error import HttpError as Refusal
from cardgen.server.job_context import JobContext as Asked
from cardgen.server.job_context import job_context as asked
from cardgen.server.request_context import RequestContext as Visit
from cardgen.server.results_page import private_part
from cardgen.server.said import DIFFERENCE, when
from cardgen.server.shown import page


def reports_page(visit: Visit) -> Response:
    """The newest first: what the office has to look at, and then to put into the job file."""
    about = asked(visit)
    found = entries(visit.store, about.now.key, kind=DIFFERENCE)
    nothing = None if found else element("p", about.text("no reports"))
    rows = (_report(about, entry) for entry in reversed(found))
    return page(
        visit, about, about.text("reports"), element("p", about.text("reports how")), nothing, *rows
    )


def _report(about: Asked, entry: Stored) -> Markup:
    place = go(entry.box, about.to_place(entry.box), when(entry)[:16].replace("T", " "))
    return element("div", place, *private_part(about, entry), class_="verdict")


def photo(visit: Visit) -> Response:
    """The photo of an entry of this job."""
    about, id_ = asked(visit), visit.values["id"]
    entry = entry_of(visit.store, id_)
    found = photo_of(visit.store, id_)
    if entry is None or found is None or entry.job != about.now.key:
        raise Refusal(404, "not here")
    return Response(found.data, media_type=found.media)
