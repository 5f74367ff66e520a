"""Set what the pages of a record show of the readings: the last ones, and the way to enter one."""

from __future__ import annotations

from collections.abc import Sequence
from urllib.parse import quote

from cardgen.asbuilt import BuiltValve
from cardgen.record.html import Child, Markup, element, joined
from cardgen.record.judging import judged_results
from cardgen.record.page_frame import link
from cardgen.record.site import SlottedPage
from cardgen.record.slots import Slots
from cardgen.results import Kind
from cardgen.server.addresses import READINGS, REPORTS, RESULTS
from cardgen.server.entries import StoredEntry
from cardgen.server.entry_fields import measured_of
from cardgen.server.job_context import JobContext
from cardgen.server.readings_html import row
from cardgen.server.request_context import LOGIN
from cardgen.server.shared_terminals import speaks_of, subject_of
from cardgen.server.walk_overview import overview


def slots_of(context: JobContext, page: SlottedPage, found: Sequence[StoredEntry] | None) -> Slots:
    """What goes into a page; `found` are the newest readings that it shows, None if unreadable."""
    return Slots(
        below_valve={valve.id: _below(context, valve, found) for valve in page.valves},
        at_place=_at(context, page, found),
    )


def _at(
    context: JobContext, page: SlottedPage, found: Sequence[StoredEntry] | None
) -> Markup | None:
    if page.place:
        return _ways(context, page.place)
    return None if page.folder else _from_job(context, found)


def _from_job(context: JobContext, found: Sequence[StoredEntry] | None) -> Markup:
    """How far the walk is, and the way in of crews and office."""
    back = quote(f"/{context.job.path}/")
    links = (
        link(context.text("write"), context.to(READINGS)),
        link(context.text("results"), context.to(RESULTS)),
        link(context.text("to reports"), context.to(REPORTS)),
        link(context.words("server.log in").printed, f"{LOGIN}?to={back}"),
    )
    ways = element("ul", *(element("li", each) for each in links), class_="list screen")
    return joined(element("p", _progress(context, found), class_="screen"), ways)


def _progress(context: JobContext, found: Sequence[StoredEntry] | None) -> str:
    if found is None:
        return context.text("cannot show")
    newest = tuple(measured_of(entry) for entry in found)
    return overview(context, judged_results(context.job.revisions, newest))


def _ways(context: JobContext, place: str) -> Markup:
    """To write down what is measured here, or what differs."""
    target = context.to(READINGS, box=place)
    links = (
        link(context.text("write"), target),
        link(context.text("differs"), context.to(READINGS, box=place, report="1") + "#differs"),
        link(context.text("results"), context.to(RESULTS)),
    )
    return element("ul", *(element("li", each) for each in links), class_="list screen")


def _below(context: JobContext, valve: BuiltValve, found: Sequence[StoredEntry] | None) -> Markup:
    """The newest value of each thing: what everybody may see.

    The record is served in any case: where the readings cannot be told, the page says so.
    """
    if found is None:
        return element("p", context.text("cannot show"), class_="small")
    readings = [measured_of(entry) for entry in found]
    own = [each for each in readings if speaks_of(context.now, each, valve.id)]
    last = {subject_of(context.now, each): each for each in own}.values()
    rows: list[Child] = [row(context, each) for kind in Kind for each in last if each.kind is kind]
    if rows:
        rows.insert(0, element("h4", context.text("last here")))
        more = context.to(RESULTS, valve=valve.id)
        rows.append(link(context.text("history", valve=valve.id), more))
    target = context.to(READINGS, box=valve.box, valve=valve.id)
    return joined(*rows, link(context.text("write of", valve=valve.id), target))
