"""Readings of a job out as a CSV file, and in from one: all rows, or none where one is wrong."""

from __future__ import annotations

import re
import time
from collections.abc import Iterator, Sequence

from starlette.responses import Response

from cardgen.faults.result_faults import READING_CHANGED
from cardgen.faults.value_faults import TOO_LONG
from cardgen.problems import Problem, in_order
from cardgen.record.html import Child, element
from cardgen.record.page_frame import link
from cardgen.results import (
    KnownNames,
    ReadingRow,
    read_results,
    results_csv,
    unknown_rows,
    value_text,
)
from cardgen.results.measured import AT_A_BOX
from cardgen.server.addresses import RESULTS
from cardgen.server.ending_post import WITHDRAWN, may_end
from cardgen.server.entries import Conflict, CrewEntry, StoredEntry, add, end, entries, entry_of
from cardgen.server.entry_fields import NOTES_MOST, is_reading, measured_of, more
from cardgen.server.http_error import HttpError
from cardgen.server.job_context import JobContext, job_context, last_valve
from cardgen.server.page_shell import crew_page
from cardgen.server.request_context import RequestContext

_NAME = "readings.csv"
ROWS_AT_ONCE = 100  # of one transaction, some hundredths of a second; our choice
PAUSE_S = 0.005  # in which an entry that waits gets its turn; our choice


def table_out(request: RequestContext) -> Response:
    """All readings of the job, in the order they came in."""
    context = job_context(request)
    found = [e for e in entries(request.store, context.now.key) if is_reading(e)]
    name = re.sub("[^A-Za-z0-9.-]", "", f"{context.now.job_code}-{context.now.key}-{_NAME}")
    return Response(
        results_csv(map(measured_of, found)),
        headers={"Content-Disposition": f'attachment; filename="{name}"'},
        media_type="text/csv; charset=utf-8",
    )


def table_in(request: RequestContext) -> Response:
    """Store the rows that are not there yet."""
    context, sent = job_context(request), request.files.get("table")
    data = sent.data if sent else b""
    rows, problems = read_results(data, _NAME)
    known = {entry.id: entry for entry in entries(request.store, context.now.key)}
    names = KnownNames.of(context.job.revisions)
    problems = in_order(
        (
            *problems,
            *unknown_rows(rows, names, context.now.key),
            *_unfit(rows),
            *_changed(rows, known),
            *_of_others(request, rows, known),
        )
    )
    if problems:
        return _refused(request, context, problems)
    new = [_entry(context, row, request.crew) for row in rows if row.measured.id not in known]
    try:
        stored = _stored(request, new)
    except Conflict as fault:
        raise HttpError(409, "conflict") from fault
    withdrawn = _withdraw(request, rows, (*known.values(), *stored))
    said = [context.text("rows in", number=str(len(new)), known=str(len(rows) - len(new)))]
    if withdrawn:
        said.append(context.text("rows withdrawn", number=str(withdrawn)))
    told = element("p", " ".join(said), class_="alert", role="status")
    return crew_page(
        request,
        context,
        context.text("table in"),
        told,
        link(context.text("to results"), context.to(RESULTS)),
    )


def _stored(request: RequestContext, new: Sequence[CrewEntry]) -> tuple[StoredEntry, ...]:
    """All of them, a part at a time, so that no other crew waits for the whole.

    If it is cut short, the rows that are there stay, and the same file brings the rest.

    Raises:
        Conflict: if a row belongs to another job; nothing is stored then.
    """
    for entry in new:
        if entry_of(request.store, entry.id) is not None:
            raise Conflict(entry.id)
    stored: list[StoredEntry] = []
    for start in range(0, len(new), ROWS_AT_ONCE):
        part = new[start : start + ROWS_AT_ONCE]
        stored += add(request.store, part, network=request.network)
        time.sleep(PAUSE_S)
    return tuple(stored)


def _withdraw(
    request: RequestContext, rows: Sequence[ReadingRow], here: Sequence[StoredEntry]
) -> int:
    """Those that the table marks and that count until now; how many they are."""
    reasons = {row.measured.id: row.measured.withdrawn for row in rows}
    marked = [entry for entry in here if reasons.get(entry.id) and entry.ending is None]
    for entry in marked:
        why = reasons[entry.id]
        end(request.store, entry, WITHDRAWN, why, request.crew, network=request.network)
        time.sleep(PAUSE_S)
    return len(marked)


def _refused(request: RequestContext, context: JobContext, problems: Sequence[Problem]) -> Response:
    """As `cardgen check` tells it: place, sentence, way out."""
    rows = (
        element(
            "li", element("p", element("b", str(p.span)), f": {p.sentence}"), element("p", p.help)
        )
        for p in problems
    )
    parts: tuple[Child, ...] = (
        element("p", context.text("rows refused"), class_="alert", role="alert"),
        element("ul", *rows, class_="plain"),
    )
    return crew_page(request, context, context.text("table in"), *parts, status=400)


def _unfit(rows: Sequence[ReadingRow]) -> Iterator[Problem]:
    """What a form would not take either."""
    for row in rows:
        for column in ("notes", "by", "withdrawn"):
            text = getattr(row.measured, column)
            if len(text) > NOTES_MOST:
                yield TOO_LONG.at(row.places[column], count=len(text), most=NOTES_MOST)


def _changed(rows: Sequence[ReadingRow], known: dict[str, StoredEntry]) -> Iterator[Problem]:
    """A row that is here already and says something else: entries are only added."""
    for row in rows:
        entry = known.get(row.measured.id)
        if entry is not None and (not is_reading(entry) or not _same(row, entry)):
            yield READING_CHANGED.at(row.places.get("id", row.places["value"]))


def _of_others(
    request: RequestContext, rows: Sequence[ReadingRow], known: dict[str, StoredEntry]
) -> Iterator[Problem]:
    """A table withdraws no more than its sender may on the page of the reading."""
    for row in rows:
        entry = known.get(row.measured.id)
        if entry is None or entry.ending or not row.measured.withdrawn:
            continue
        if not may_end(request, entry):
            yield READING_CHANGED.at(row.places["withdrawn"], variant="not yours")


def _same(row: ReadingRow, entry: StoredEntry) -> bool:
    """Its job, and mostly its box, follow from the valve; who measured may be left out.

    A table that was saved before may tell the second, or how far the phone was from UTC.
    """
    ours, theirs = measured_of(entry), row.measured
    return (
        theirs.by in ("", ours.by)
        and theirs.when in (ours.when, entry.said_at)
        and theirs.subject == ours.subject
        and all(
            getattr(ours, name) == getattr(theirs, name)
            for name in ("value", "notes", "to", "conditions")
        )
    )


def _entry(context: JobContext, row: ReadingRow, crew: str) -> CrewEntry:
    said = row.measured
    valve = last_valve(context.job, said.valve)
    by = said.by if said.by != crew else ""
    return CrewEntry(
        id=said.id,
        record_key=context.now.key,
        box=valve.box if valve and said.kind not in AT_A_BOX else said.box,
        valve=said.valve,
        kind=str(said.kind),
        value=value_text(said.value),
        notes=said.notes,
        crew=crew,
        said_at=said.when,
        more=more(by, start=said.start, to=said.to, conditions=said.conditions),
    )
