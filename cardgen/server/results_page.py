"""Set what crews have measured: the newest of each valve, what it shows together, one's history.

Everybody sees dates, values and verdicts; who measured, the notes and photos only a crew.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from starlette.responses import Response

from cardgen.record.frame import go
from cardgen.record.html import Child, Markup, element, joined
from cardgen.record.judging import judged
from cardgen.record.results_page import verdict_line
from cardgen.results import Kind, Measured, compare, trend
from cardgen.server.entries import StoredEntry as Stored
from cardgen.server.entries import entries, newest
from cardgen.server.frame import form
from cardgen.server.job_context import JobContext as Asked
from cardgen.server.job_context import job_context as asked
from cardgen.server.request_context import RequestContext as Visit
from cardgen.server.said import by, is_reading, measured_of, when
from cardgen.server.shown import (
    PHOTOS,
    READINGS,
    RESULTS,
    TABLE,
    judged_of,
    kind_name,
    lines,
    page,
    row,
    table,
)


def results_page(visit: Visit) -> Response:
    """All valves; with `?valve=` the history of that one."""
    about, valve = asked(visit), visit.query.get("valve", "")
    if valve:
        every = entries(visit.store, about.now.key, valve=valve)
        return _history(visit, about, valve, [e for e in every if is_reading(e)])
    measured = [measured_of(e) for e in newest(visit.store, about.now.key) if is_reading(e)]
    nothing = None if measured else element("p", about.text("no readings"))
    return page(
        visit,
        about,
        about.text("results"),
        nothing,
        *_together(about, measured),
        *_newest(about, measured),
        *(_tables(visit, about) if visit.crew else ()),
    )


def _together(about: Asked, measured: Sequence[Measured]) -> Iterator[Markup]:
    known = [each for all_ in judged(about.job.revisions, measured).values() for each in all_]
    of_today = {each.measured.id for each in known if each.outdated_by is None}
    patterns = compare([each for each in measured if each.id in of_today], about.now.valve)
    if patterns:
        yield element("h2", about.text("together"))
    for pattern in patterns:
        said = str(about.words(f"together.{pattern.name}", **pattern.values))
        next_ = str(about.words(f"next.{pattern.name}", **pattern.values))
        yield element(
            "div", element("p", element("b", said)), element("p", next_), class_="verdict"
        )


def _newest(about: Asked, measured: Iterable[Measured]) -> Iterator[Markup]:
    """By valve, in the order of the job; those that the job has no more come last."""
    of: dict[str, dict[Kind, Measured]] = {}
    for each in measured:
        of.setdefault(each.valve, {})[each.kind] = each
    order = [valve for valve in about.now.valve if valve in of]
    order += [valve for valve in of if valve not in about.now.valve]
    for valve in order:
        rows = [of[valve][kind] for kind in Kind if kind in of[valve]]
        head = element("h2", valve, id=f"V-{valve}")
        link = go(about.text("history", valve=valve), about.to(RESULTS, valve=valve))
        yield element("section", head, *(row(about, each) for each in rows), link)


# ---- one valve -----------------------------------------------------------------------------


def _history(visit: Visit, about: Asked, valve: str, found: Sequence[Stored]) -> Response:
    box = about.now.valve[valve].box if valve in about.now.valve else ""
    again = about.to(READINGS, box=box, valve=valve)
    parts: list[Child] = [go(about.text("title"), again)] if box else []
    if not found:
        parts.append(element("p", about.text("no readings")))
    for kind in Kind:
        own = [entry for entry in found if entry.kind == kind]
        if own:
            parts += _kind(visit, about, kind, own)
    return page(visit, about, about.text("history of", valve=valve), *parts)


def _kind(visit: Visit, about: Asked, kind: Kind, own: Sequence[Stored]) -> Iterator[Markup]:
    moved = trend([measured_of(entry) for entry in own])
    yield element("h2", kind_name(about, kind))
    yield element("p", str(about.words(f"trend.{moved.name}", **moved.values)))
    heads = (about.text("value"), about.text("verdict"))
    yield table(heads, (_cells(visit, about, entry) for entry in reversed(own)))


def _cells(visit: Visit, about: Asked, entry: Stored) -> Iterator[Child]:
    measured = measured_of(entry)
    each = judged_of(about, measured)
    yield joined(element("b", measured.shown), when(entry)[:16].replace("T", " "))
    said = verdict_line(about.page_words, each) if each else None
    yield joined(said, *(private_part(about, entry) if visit.crew else ()))


def private_part(about: Asked, entry: Stored) -> Iterator[Child]:
    """Who, the notes and the photo: for crews only."""
    yield element("p", by(entry))
    if entry.notes:
        yield element("p", lines(entry.notes))
    if entry.photo:
        yield go(about.text("photo of it"), f"{PHOTOS}/{entry.id}")


# ---- tables --------------------------------------------------------------------------------


def _tables(visit: Visit, about: Asked) -> Iterator[Markup]:
    """Out to a spreadsheet, and in from one."""
    yield element("h2", about.text("tables"))
    yield go(about.text("table out"), about.to(TABLE))
    fields = (
        element("label", about.text("table in"), for_="f-table"),
        element("input", type="file", id="f-table", name="table", accept=".csv,text/csv"),
        element("p", about.text("table columns"), class_="small"),
        element("button", about.text("take in"), class_="quiet"),
    )
    yield form(visit, about.to(TABLE), *fields, enctype="multipart/form-data")
