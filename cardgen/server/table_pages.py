"""Readings of a job out as a CSV file, and in from one: all rows, or none with what is wrong."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from starlette.responses import Response

from cardgen.faults.results import READING_CHANGED
from cardgen.faults.values import TOO_LONG
from cardgen.problems import Problem, in_order
from cardgen.record.frame import go
from cardgen.record.html import Child, element
from cardgen.results import ReadingRow, read_results, results_csv, strangers, value_text
from cardgen.server.entries import Conflict, add, entries
from cardgen.server.entries import CrewEntry as Entry
from cardgen.server.entries import StoredEntry as Stored
from cardgen.server.http_error import HttpError as Refusal
from cardgen.server.job_context import JobContext as Asked
from cardgen.server.job_context import job_context as asked
from cardgen.server.job_context import last_valve
from cardgen.server.request_context import RequestContext as Visit
from cardgen.server.said import NOTES_MOST, is_reading, measured_of, more
from cardgen.server.shown import RESULTS, page

_NAME = "readings.csv"


def table_out(visit: Visit) -> Response:
    """All readings of the job, in the order they came in."""
    about = asked(visit)
    found = [e for e in entries(visit.store, about.now.key) if is_reading(e)]
    name = re.sub("[^A-Za-z0-9.-]", "", f"{about.now.job}-{about.now.key}-{_NAME}")
    return Response(
        results_csv(map(measured_of, found)),
        headers={"Content-Disposition": f'attachment; filename="{name}"'},
        media_type="text/csv; charset=utf-8",
    )


def table_in(visit: Visit) -> Response:
    """Store the rows that are not there yet."""
    about, sent = asked(visit), visit.files.get("table")
    data = sent.data if sent else b""
    rows, problems = read_results(data, _NAME)
    known = {entry.id: entry for entry in entries(visit.store, about.now.key)}
    valves = {valve for revision in about.job.revisions for valve in revision.valve}
    problems = in_order(
        (*problems, *strangers(rows, valves, about.now.key), *_unfit(rows), *_changed(rows, known))
    )
    if problems:
        return _refused(visit, about, problems)
    new = [_entry(about, row, visit.crew) for row in rows if row.measured.id not in known]
    try:
        add(visit.store, new, network=visit.network)
    except Conflict as fault:
        raise Refusal(409, "conflict") from fault
    said = about.text("rows in", number=str(len(new)), known=str(len(rows) - len(new)))
    told = element("p", said, class_="alert", role="status")
    return page(
        visit, about, about.text("table in"), told, go(about.text("to results"), about.to(RESULTS))
    )


def _refused(visit: Visit, about: Asked, problems: Sequence[Problem]) -> Response:
    """As `cardgen check` tells it: place, sentence, way out."""
    listed = (
        element(
            "li", element("p", element("b", str(p.span)), f": {p.sentence}"), element("p", p.help)
        )
        for p in problems
    )
    parts: tuple[Child, ...] = (
        element("p", about.text("rows refused"), class_="alert", role="alert"),
        element("ul", *listed, class_="plain"),
    )
    return page(visit, about, about.text("table in"), *parts, status=400)


def _unfit(rows: Sequence[ReadingRow]) -> Iterator[Problem]:
    """What a form would not take either."""
    for row in rows:
        for column in ("notes", "by"):
            text = getattr(row.measured, column)
            if len(text) > NOTES_MOST:
                yield TOO_LONG.at(row.places[column], count=len(text), most=NOTES_MOST)


def _changed(rows: Sequence[ReadingRow], known: dict[str, Stored]) -> Iterator[Problem]:
    """A row that is here already and says something else: entries are only added."""
    for row in rows:
        entry = known.get(row.measured.id)
        if entry is not None and (not is_reading(entry) or not _same(row, entry)):
            yield READING_CHANGED.at(row.places.get("id", row.places["value"]))


def _same(row: ReadingRow, entry: Stored) -> bool:
    """Its box and job follow from the valve; who measured may be left out."""
    ours, theirs = measured_of(entry), row.measured
    return theirs.by in ("", ours.by) and all(
        getattr(ours, name) == getattr(theirs, name)
        for name in ("valve", "kind", "value", "notes", "when")
    )


def _entry(about: Asked, row: ReadingRow, crew: str) -> Entry:
    said = row.measured
    valve = last_valve(about.job, said.valve)
    assert valve is not None  # else it was a stranger
    return Entry(
        id=said.id,
        job=about.now.key,
        box=valve.box,
        valve=said.valve,
        kind=str(said.kind),
        value=value_text(said.value),
        notes=said.notes,
        crew=crew,
        said_at=said.when,
        more=more(said.by if said.by != crew else ""),
    )
