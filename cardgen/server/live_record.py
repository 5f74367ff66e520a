"""Make the pages of a record anew with the last readings on them, from what it keeps as data.

The folder of a record keeps every revision as built; with its pages' own functions that is enough,
but for the drawing, which is taken from the page that was published.
"""

from __future__ import annotations

import hashlib
import logging
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cache, lru_cache
from pathlib import Path
from threading import Lock

from cardgen.memory.codec import BadStoredValue
from cardgen.record import PageFrame, PageWords, frame_of, names
from cardgen.record.drawing_page import drawing_in
from cardgen.record.html import Markup, joined
from cardgen.record.offline_copy import OfflineCopy, copy_of
from cardgen.record.site import SlottedPage, slotted_pages
from cardgen.record.slots import ServedParts
from cardgen.server.addresses import READINGS
from cardgen.server.crew_assets import ENTRY_SCRIPTS, STYLE, WAITING_SCRIPTS
from cardgen.server.data_faults import DataFault
from cardgen.server.entries import StoredEntry, latest_change
from cardgen.server.entry_fields import newest
from cardgen.server.job_context import JobContext
from cardgen.server.jobs import ServedJob, ServedJobs
from cardgen.server.live_readings import slots_of
from cardgen.server.shared_terminals import with_mates
from cardgen.server.store import Store
from cardgen.server.waiting_part import waiting_list, waiting_state
from cardgen.words import Words, languages, load_words

_log = logging.getLogger("cardgen.server")
# The entry page is kept on the phone with the record, anew when it changes.
_ENTRY_PAGE = hashlib.sha256(
    "".join((*ENTRY_SCRIPTS, *WAITING_SCRIPTS, STYLE)).encode()
).hexdigest()[:8]


@dataclass(frozen=True, eq=False, slots=True)
class _LivePage:
    """A page of one revision in one language; another one is not the same, whatever it says."""

    page: SlottedPage
    context: JobContext


class LiveRecord:
    """What is sent in the place of files of a record.

    Attributes:
        layouts: the folder of one's own words with which the record was made; None for the shipped.
    """

    def __init__(self, jobs: ServedJobs, store: Store, layouts: Path | None = None) -> None:
        self._jobs, self._store, self.layouts = jobs, store, layouts
        # When a server starts, many phones ask for the same job, and one must read it.
        self._reading = Lock()

    def __call__(self, path: str) -> bytes | None:
        """The page or worker of a path in an address; None for the file as it was published."""
        folder, _, name = path.strip("/").rpartition("/")
        if name == names.WORKER:
            return self._worker(folder)
        live = self._page_at(folder) if name == names.INDEX else None
        return None if live is None else _html(live, self._entries(live))

    def _page_at(self, folder: str) -> _LivePage | None:
        """The page of a folder; one in another language is one folder deeper below its job."""
        parts = folder.split("/")
        for depth in (0, 1, 2):
            if len(parts) > depth:
                end = len(parts) - depth
                pages = self._pages_of("/".join(parts[:end]))
                if pages is not None:
                    return pages.get("/".join(parts[end:]))
        return None

    def _pages_of(self, path: str) -> Mapping[str, _LivePage] | None:
        with self._reading:
            job = self._jobs.at(path)
            return None if job is None else _pages_of(job, self._jobs.folder, self.layouts)

    def _entries(self, live: _LivePage) -> tuple[StoredEntry, ...] | None:
        """The newest that a page shows, on that of the job all; None where they cannot be read."""
        page, now = live.page, live.context.now
        valves = {each for valve in page.valves for each in with_mates(now, valve.id)}
        try:
            if not page.folder:
                return _newest_of_job(self._store, now.key, latest_change(self._store, now.key))
            return newest(self._store, now.key, sorted(valves)) if valves else ()
        except DataFault:
            return None

    def _worker(self, folder: str) -> bytes | None:
        """The worker that keeps the entry page too; another digest makes another copy."""
        job = self._jobs.at(folder)
        copy = _copy_of(self._jobs.folder / job.path) if job else None
        if copy is None:
            return None
        pages = (READINGS, *copy.pages)
        return replace(copy, pages=pages, digest=f"{_ENTRY_PAGE} {copy.digest}").worker()


@lru_cache(maxsize=64)
def _newest_of_job(
    store: Store, record_key: str, _change: tuple[int, int]
) -> tuple[StoredEntry, ...]:
    """Of all valves: years of readings are not read for every phone that opens the job."""
    return newest(store, record_key)


@lru_cache(maxsize=512)
def _html(live: _LivePage, entries: tuple[StoredEntry, ...] | None) -> bytes:
    return live.page.html(slots_of(live.context, live.page, entries))


@lru_cache(maxsize=64)
def _pages_of(job: ServedJob, record: Path, layouts: Path | None) -> Mapping[str, _LivePage]:
    """By folder within the job's own; none where a language of the pages has no words here."""
    all_words = _words_in(job.log.languages, layouts)
    if not all_words:
        _log.warning("no words in %s: %s is sent as published", job.log.languages, job.path)
    copy = _copy_of(record / job.path)
    found: dict[str, _LivePage] = {}
    drawing = record / job.path / names.page(names.DRAWING)
    for words in all_words:
        saved = copy.note(words.language) if copy else ""
        # At the printed addresses the crews' pages are in the reader's own language.
        language = "" if words == all_words[0] else words.language
        context = JobContext(job=job, words=words.words, language=language)
        frame = replace(frame_of(job.log, words, all_words), saved=saved, served=_served(context))
        pages = [*slotted_pages(frame, drawing.is_file()), _drawing(frame, record / job.path)]
        for page in pages:
            own = replace(context, root=frame.to_root(page.folder))
            found[frame.within(page.folder)] = _LivePage(page, own)
    return found


def _served(context: JobContext) -> ServedParts:
    """On every page what waits on the phone is shown, and sent."""

    def above(root: str) -> Markup:
        return joined(waiting_state(replace(context, root=root)), waiting_list())

    return ServedParts(above=above, scripts=WAITING_SCRIPTS)


def _drawing(frame: PageFrame, folder: Path) -> SlottedPage:
    file = folder / names.page(frame.within(names.DRAWING))
    return SlottedPage(
        kind="drawing",
        folder=names.DRAWING,
        thing=frame.now.job_code,
        place="",
        valves=(),
        html=lambda _: drawing_in(frame, file.read_bytes()),
    )


def _words_in(tags: Sequence[str], layouts: Path | None) -> tuple[PageWords, ...]:
    """The words of all these languages, or none."""
    if not set(tags) <= set(languages(layouts)):
        return ()
    found = [_words(tag, layouts) for tag in tags]
    made = tuple(PageWords(words) for words in found if words is not None)
    return made if len(made) == len(found) else ()


@cache
def _words(tag: str, layouts: Path | None) -> Words | None:
    """Read once while the server runs; None where the files have a fault."""
    return load_words((tag,), layouts)[0]


def _copy_of(folder: Path) -> OfflineCopy | None:
    """What phones keep of a job; None in a record that does not say."""
    try:
        return copy_of((folder / names.OFFLINE).read_bytes())
    except (OSError, BadStoredValue):
        return None
