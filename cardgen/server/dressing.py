"""Put the last readings, and the way to write one down, into the pages of the finished record.

The record is served in any case: where the readings cannot be told, the page says so.
"""

from __future__ import annotations

import hashlib

from cardgen.record import names, served
from cardgen.record.frame import go
from cardgen.record.html import Child, Markup, element, joined
from cardgen.results import Kind
from cardgen.server import entry_script, shown
from cardgen.server.data_faults import DataFault
from cardgen.server.entries import StoredEntry as Stored
from cardgen.server.entries import newest
from cardgen.server.job_context import JobContext as Asked
from cardgen.server.jobs import ServedJob as Job
from cardgen.server.jobs import ServedJobs as Jobs
from cardgen.server.said import is_reading, measured_of
from cardgen.server.store import Store
from cardgen.server.words import words_for, words_in
from cardgen.words import languages


class Dressing:
    """What is added to the files of a record before they are sent."""

    def __init__(self, jobs: Jobs, store: Store) -> None:
        self._jobs, self._store = jobs, store

    def __call__(self, path: str, data: bytes) -> bytes:
        """The file of a path as it is sent; most are sent as they are."""
        folder, _, name = path.strip("/").rpartition("/")
        if name == names.WORKER and self._jobs.at(folder):
            return served.with_pages(data, [shown.READINGS], _STAMP)
        if name != names.INDEX:
            return data
        found = self._job_above(folder)
        return data if found is None else served.filled(data, _Parts(*found, data, self._store))

    def _job_above(self, folder: str) -> tuple[Job, str] | None:
        """The job in whose folder a page lies, and the way up to it."""
        parts = folder.split("/")
        for up in (1, 2):  # a page of another language lies one folder deeper
            job = self._jobs.at("/".join(parts[:-up])) if len(parts) > up else None
            if job is not None:
                return job, "../" * up
        return None


# The entry page is kept on the phone with the record, anew when it changes.
_STAMP = hashlib.sha256(f"{entry_script.SCRIPT}{shown.STYLE}".encode()).hexdigest()[:8]


class _Parts:
    """What goes into the rooms of one page."""

    def __init__(self, job: Job, root: str, page: bytes, store: Store) -> None:
        language = served.language_of(page)
        words = words_in(language) if language in languages() else words_for("")
        asked_for = language if root != "../" else ""
        self._about = Asked(job=job, words=words, root=root, language=asked_for)
        self._store = store
        self._fault: DataFault | None = None

    def __call__(self, kind: str, of: str) -> Markup:
        return self._last(of) if kind == served.VALVE else self._ways(of)

    def _ways(self, place: str) -> Markup:
        """To write down what is measured here, or what differs."""
        about = self._about
        target = about.to(shown.READINGS, box=place)
        links = [
            go(about.text("write"), target),
            go(about.text("differs"), about.to(shown.READINGS, box=place, report="1") + "#differs"),
            go(about.text("results"), about.to(shown.RESULTS)),
        ]
        rows = (element("li", link) for link in links)
        return element("ul", *rows, class_="list screen")

    def _last(self, valve: str) -> Markup:
        """The newest of each kind: what everybody may see."""
        about = self._about
        found = self._entries(valve)
        if found is None:
            return element("p", about.text("cannot show"), class_="small")
        last = {entry.kind: measured_of(entry) for entry in found if is_reading(entry)}
        said = about.now.valve.get(valve)
        target = about.to(shown.READINGS, box=said.box if said else "", valve=valve)
        rows: list[Child] = [shown.row(about, last[kind]) for kind in Kind if kind in last]
        if rows:
            rows.insert(0, element("h4", about.text("last here")))
            more = go(about.text("history", valve=valve), about.to(shown.RESULTS, valve=valve))
            rows.append(more)
        return joined(*rows, go(about.text("write of", valve=valve), target))

    def _entries(self, valve: str) -> tuple[Stored, ...] | None:
        """None where they cannot be read; a page waits for that only once."""
        if self._fault is None:
            try:
                return newest(self._store, self._about.now.key, valve)
            except DataFault as fault:
                self._fault = fault
        return None
