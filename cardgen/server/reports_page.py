"""Set what differs from the tags, as crews have reported it, and send photos: for crews only."""

from __future__ import annotations

from starlette.responses import Response

from cardgen.record.html import Markup, element
from cardgen.record.page_frame import link
from cardgen.server.asked import Asked, asked
from cardgen.server.entries import Stored, entries, entry_of, photo_of
from cardgen.server.entry_fields import DIFFERENCE, when
from cardgen.server.live_results_page import private_part
from cardgen.server.page_shell import crew_page
from cardgen.server.visit import Refusal, Visit


def reports_page(visit: Visit) -> Response:
    """The newest first: what the office has to look at, and then to put into the job file."""
    about = asked(visit)
    found = entries(visit.store, about.now.key, kind=DIFFERENCE)
    nothing = None if found else element("p", about.text("no reports"))
    rows = (_report(about, entry) for entry in reversed(found))
    return crew_page(
        visit, about, about.text("reports"), element("p", about.text("reports how")), nothing, *rows
    )


def _report(about: Asked, entry: Stored) -> Markup:
    place = link(entry.box, about.to_place(entry.box), when(entry)[:16].replace("T", " "))
    return element("div", place, *private_part(about, entry), class_="verdict")


def photo(visit: Visit) -> Response:
    """The photo of an entry of this job."""
    about, id_ = asked(visit), visit.values["id"]
    entry = entry_of(visit.store, id_)
    found = photo_of(visit.store, id_)
    if entry is None or found is None or entry.job != about.now.key:
        raise Refusal(404, "not here")
    return Response(found.data, media_type=found.media)
