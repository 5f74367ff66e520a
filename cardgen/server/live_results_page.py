"""Set what crews have measured: the newest of each valve, what it shows together, one's history.

Everybody sees dates, values and verdicts; who measured, the notes and photos only a crew.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from starlette.responses import Response

from cardgen.record.diagnosis_part import diagnosis_part
from cardgen.record.html import Child, Markup, element, joined
from cardgen.record.judging import JudgedResults, judged_results
from cardgen.record.judging import newest as newest_of
from cardgen.record.page_frame import link
from cardgen.record.results_page import verdict_line
from cardgen.results import Kind, trend
from cardgen.server.addresses import PHOTOS, READINGS, RESULTS, TABLE
from cardgen.server.entries import StoredEntry, entries, newest
from cardgen.server.entry_fields import by, is_reading, measured_of, when
from cardgen.server.job_context import JobContext, job_context
from cardgen.server.page_shell import crew_page, form
from cardgen.server.readings_html import judged_of, judged_row, lines, table, what_in_words
from cardgen.server.request_context import RequestContext


def live_results_page(request: RequestContext) -> Response:
    """All valves; with `?valve=` the history of that one."""
    context, valve = job_context(request), request.query.get("valve", "")
    if valve:
        every = entries(request.store, context.now.key, valve=valve)
        return _history(request, context, valve, [e for e in every if is_reading(e)])
    measured = [measured_of(e) for e in newest(request.store, context.now.key) if is_reading(e)]
    results = judged_results(context.job.revisions, measured)
    nothing = None if measured else element("p", context.text("no readings"))
    return crew_page(
        request,
        context,
        context.text("results"),
        nothing,
        *_points_to(context, results),
        *_newest(context, results),
        *(_tables(request, context) if request.crew else ()),
    )


def _points_to(context: JobContext, results: JudgedResults) -> Iterator[Markup]:
    """The diagnosis; patterns only of a job that was published without its network."""
    part = diagnosis_part(context.page_words, context.now, results.by_valve)
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
        rows = [judged_row(context, each) for each in newest_of(of[valve]).values()]
        head = element("h2", valve, id=f"V-{valve}")
        history = link(context.text("history", valve=valve), context.to(RESULTS, valve=valve))
        yield element("section", head, *rows, history)
    if results.of_conductors:
        others = newest_of(results.of_conductors).values()
        head = element("h2", context.page_words("read on conductors"))
        yield element("section", head, *(judged_row(context, each) for each in others))


# ---- one valve -----------------------------------------------------------------------------


def _history(
    request: RequestContext, context: JobContext, valve: str, found: Sequence[StoredEntry]
) -> Response:
    box = context.now.valve[valve].box if valve in context.now.valve else ""
    again = context.to(READINGS, box=box, valve=valve)
    parts: list[Child] = [link(context.text("title"), again)] if box else []
    if not found:
        parts.append(element("p", context.text("no readings")))
    of_subject: dict[tuple[str, ...], list[StoredEntry]] = {}
    for entry in found:
        of_subject.setdefault(measured_of(entry).subject, []).append(entry)
    for kind in Kind:
        for own in of_subject.values():
            if own[0].kind == kind:
                parts += _subject(request, context, own)
    return crew_page(request, context, context.text("history of", valve=valve), *parts)


def _subject(
    request: RequestContext, context: JobContext, own: Sequence[StoredEntry]
) -> Iterator[Markup]:
    """How the values of one thing have moved, and each with its verdict."""
    measured = [measured_of(entry) for entry in own]
    yield element("h2", what_in_words(context, measured[-1]))
    if measured[-1].kind.unit:
        moved = trend(measured)
        yield element("p", context.words(f"trend.{moved.name}", **moved.values).printed)
    heads = (context.text("value"), context.text("verdict"))
    yield table(heads, (_cells(request, context, entry) for entry in reversed(own)))


def _cells(request: RequestContext, context: JobContext, entry: StoredEntry) -> Iterator[Child]:
    measured = measured_of(entry)
    each = judged_of(context, measured)
    yield joined(element("b", measured.shown), when(entry)[:16].replace("T", " "))
    said = verdict_line(context.page_words, each) if each else None
    yield joined(said, *(private_part(context, entry) if request.crew else ()))


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
    yield link(context.text("table out"), context.to(TABLE))
    fields = (
        element("label", context.text("table in"), for_="f-table"),
        element("input", type="file", id="f-table", name="table", accept=".csv,.xlsx,text/csv"),
        element("p", context.text("table columns"), class_="small"),
        element("button", context.text("take in"), class_="quiet"),
    )
    yield form(request, context.to(TABLE), *fields, enctype="multipart/form-data")
