"""Set what crews have measured: the newest of each valve, what it shows together, one's history.

Everybody sees dates, values and verdicts; who measured, the notes and photos only a crew.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import UTC, datetime

from starlette.responses import Response

from cardgen.record.diagnosis_part import diagnosis_part
from cardgen.record.html import Child, Markup, element, joined
from cardgen.record.judging import JudgedResults, judged_results, newest
from cardgen.record.page_frame import link
from cardgen.record.results_page import verdict_line
from cardgen.results import Kind, trend
from cardgen.server.addresses import EXPORT, PHOTOS, READINGS, RESULTS, TABLE
from cardgen.server.ending_post import ending_form
from cardgen.server.entries import StoredEntry, by_measuring, entries
from cardgen.server.entry_fields import by, is_reading, measured_of, readings_that_count, when
from cardgen.server.job_context import JobContext, job_context
from cardgen.server.moments import is_ahead, shown
from cardgen.server.page_shell import crew_page, form
from cardgen.server.readings_html import judged_of, judged_row, lines, table, what_in_words
from cardgen.server.request_context import RequestContext
from cardgen.server.shared_terminals import speaks_of, subject_of, with_mates
from cardgen.server.walk_overview import overview


def live_results_page(request: RequestContext) -> Response:
    """All; with `?valve=` the history of that one, with `?conductors=` of what is no valve's."""
    context = job_context(request)
    if request.query.get("valve"):
        return _history_of_valve(request, context, request.query["valve"])
    if "conductors" in request.query:
        return _history_of_conductors(request, context)
    measured = readings_that_count(request.store, context.now.key)
    results = judged_results(context.job.revisions, measured)
    nothing = None if measured else element("p", context.text("no readings"))
    return crew_page(
        request,
        context,
        context.text("results"),
        nothing,
        element("p", overview(context, results), class_="must"),
        *_points_to(context, results),
        *_newest(context, results),
        *(_tables(request, context) if request.crew else ()),
    )


def _points_to(context: JobContext, results: JudgedResults) -> Iterator[Markup]:
    """The diagnosis; patterns only of a job that was published without its network."""
    part = diagnosis_part(context.page_words, context.now, results.today)
    yield from (part,) if part else _together(context, results)


def _together(context: JobContext, results: JudgedResults) -> Iterator[Markup]:
    if results.patterns:
        yield element("h2", context.text("together"))
    for pattern in results.patterns:
        said = context.words(f"together.{pattern.name}", **pattern.values).printed
        next_ = context.words(f"next.{pattern.name}", **pattern.values).printed
        yield element(
            "div", element("p", element("b", said)), element("p", next_), class_="verdict"
        )


def _newest(context: JobContext, results: JudgedResults) -> Iterator[Markup]:
    """By valve, in the order of the job; those that the job has no more come last."""
    of = results.by_valve
    order = [valve for valve in context.now.valve if valve in of]
    order += [valve for valve in of if valve not in context.now.valve]
    for valve in order:
        rows = [judged_row(context, each) for each in newest(of[valve]).values()]
        head = element("h2", valve, id=f"V-{valve}")
        history = link(context.text("history", valve=valve), context.to(RESULTS, valve=valve))
        yield element("section", head, *rows, history)
    if results.of_conductors:
        others = newest(results.of_conductors).values()
        head = element("h2", context.page_words("read on conductors"))
        rows = [judged_row(context, each) for each in others]
        history = link(context.text("history of others"), context.to(RESULTS, conductors="1"))
        yield element("section", head, *rows, history)


# ---- all values of a valve, or of what is no valve's ---------------------------------------


def _history_of_valve(request: RequestContext, context: JobContext, valve: str) -> Response:
    own = with_mates(context.now, valve)
    every = [e for v in own for e in entries(request.store, context.now.key, valve=v)]
    readings = [e for e in by_measuring(every) if is_reading(e)]
    found = [e for e in readings if speaks_of(context.now, measured_of(e), valve)]
    box = context.now.valve[valve].box if valve in context.now.valve else ""
    again = context.to(READINGS, box=box, valve=valve)
    way = link(context.text("title"), again) if box else None
    title = context.text("history of", valve=valve)
    return crew_page(request, context, title, way, *_history(request, context, found))


def _history_of_conductors(request: RequestContext, context: JobContext) -> Response:
    every = by_measuring(entries(request.store, context.now.key))
    found = [e for e in every if is_reading(e) and not e.valve]
    title = context.text("history of others")
    return crew_page(request, context, title, *_history(request, context, found))


def _history(
    request: RequestContext, context: JobContext, found: Sequence[StoredEntry]
) -> Iterator[Child]:
    """What was measured oldest first, one thing after the other."""
    if not found:
        yield element("p", context.text("no readings"))
    of_subject: dict[tuple[str, ...], list[StoredEntry]] = {}
    for entry in found:
        of_subject.setdefault(subject_of(context.now, measured_of(entry)), []).append(entry)
    for kind in Kind:
        for own in of_subject.values():
            if own[0].kind == kind:
                yield from _subject(request, context, own)


def _subject(
    request: RequestContext, context: JobContext, own: Sequence[StoredEntry]
) -> Iterator[Markup]:
    """How the values of one thing have moved, and each with its verdict."""
    counting = [measured_of(entry) for entry in own if entry.ending is None]
    yield element("h2", what_in_words(context, measured_of(own[-1])))
    if counting and counting[-1].kind.unit:
        moved = trend(counting)
        yield element("p", context.words(f"trend.{moved.name}", **moved.values).printed)
    heads = (context.text("value"), context.text("verdict"))
    yield table(heads, (_cells(request, context, entry) for entry in reversed(own)))


def _cells(request: RequestContext, context: JobContext, entry: StoredEntry) -> Iterator[Child]:
    measured = measured_of(entry)
    value = element("b", measured.shown)
    struck = element("s", value) if entry.ending else value
    yield joined(struck, shown(when(entry)))
    each = judged_of(context, measured)  # none of what is withdrawn
    said = verdict_line(context.page_words, each) if each else None
    private = private_part(context, entry) if request.crew else ()
    ended = ended_part(context, entry) if request.crew else ()
    gone = element("p", context.text("withdrawn")) if entry.ending and not request.crew else None
    ending = ending_form(request, context, entry)
    yield joined(said, gone, clock_part(context, entry), *private, *ended, ending)


def clock_part(context: JobContext, entry: StoredEntry) -> Markup | None:
    """Where the phone's clock contradicts itself: it says a time after the entry arrived."""
    if not is_ahead(entry.said_at, entry.received_at):
        return None
    said = context.text("clock ahead", said=shown(entry.said_at), arrived=shown(when(entry)))
    return element("p", said, class_="small")


def ended_part(context: JobContext, entry: StoredEntry) -> Iterator[Child]:
    """Who has withdrawn or closed it, when and why: for crews only."""
    if entry.ending:
        ending = entry.ending
        day = f"{datetime.fromtimestamp(ending.at, UTC):%Y-%m-%d}"
        values = {"who": ending.who, "why": ending.why, "day": day}
        yield element("p", context.text(f"{ending.what} by", **values))


def private_part(context: JobContext, entry: StoredEntry) -> Iterator[Child]:
    """Who, the notes and the photo: for crews only."""
    yield element("p", by(entry))
    if entry.notes:
        yield element("p", lines(entry.notes))
    if entry.photo:
        yield link(context.text("photo of it"), f"{PHOTOS}/{entry.id}")


# ---- tables --------------------------------------------------------------------------------


def _tables(request: RequestContext, context: JobContext) -> Iterator[Markup]:
    """Out to a spreadsheet, and in from one."""
    yield element("h2", context.text("tables"))
    if request.is_office:
        yield link(context.text("export all"), context.to(EXPORT))
    yield link(context.text("table out"), context.to(TABLE))
    fields = (
        element("label", context.text("table in"), for_="f-table"),
        element("input", type="file", id="f-table", name="table", accept=".csv,.xlsx,text/csv"),
        element("p", context.text("table columns"), class_="small"),
        element("button", context.text("take in"), class_="quiet"),
    )
    yield form(request, context.to(TABLE), *fields, enctype="multipart/form-data")
