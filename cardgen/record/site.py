"""Turn all that was published of a job into the files of its folder, by their names in it."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from cardgen.asbuilt import AsBuilt
from cardgen.memory.revisions import RevisionLog, to_json
from cardgen.record import names, offline
from cardgen.record.box_page import box_page
from cardgen.record.controller_page import controller_page
from cardgen.record.find_page import find_page
from cardgen.record.frame import Frame
from cardgen.record.judging import judged
from cardgen.record.list_pages import job_page, spares_page, station_page
from cardgen.record.offline import WAY_IN, Page, chosen
from cardgen.record.results_page import results_page
from cardgen.record.scripts import worker
from cardgen.record.tags import gone_page, gone_thing_page
from cardgen.record.words import PageWords

HISTORY = names.HISTORY


class SharedFolder(Exception):
    """Two things of the job would have one page."""

    def __init__(self, name: str, folder: str) -> None:
        super().__init__(name)
        self.name, self.folder = name, folder


def site(
    history: RevisionLog, drawings: Mapping[str, bytes], languages: Sequence[PageWords]
) -> dict[str, bytes]:
    """The same files whatever order the revisions were published in.

    Args:
        history: all that was published; the newest revision is what the pages say.
        drawings: by language, the page of the wiring drawing of the newest; empty if there is none.
        languages: those of the pages, the one at the printed addresses first.

    Raises:
        SharedFolder: if two things would have one page.
    """
    frames = [frame_of(history, words, languages) for words in languages]
    made = [page for frame in frames for page in _pages(frame, drawings)]
    copy = chosen(made, offline.LIMIT)
    if copy.left:  # the foot of each page says so
        frames = [replace(frame, saved=copy.note(frame.words)) for frame in frames]
        made = [page for frame in frames for page in _pages(frame, drawings)]
    pages = {page.name: page.data for page in made}
    digests = {page.name: hashlib.sha256(pages[page.name]).hexdigest() for page in copy.pages}
    whole = hashlib.sha256(repr(sorted(digests.items())).encode()).hexdigest()[:16]
    script = worker(digests, frames[0].now.revision, whole).encode()
    return {**pages, names.WORKER: script, names.HISTORY: to_json(history)}


def frame_of(history: RevisionLog, words: PageWords, languages: Sequence[PageWords]) -> Frame:
    """What the pages in that language share."""
    revisions = history.revisions
    return Frame(
        now=revisions[-1],
        all=revisions,
        words=words,
        languages=tuple(languages),
        results=judged(revisions, history.results),
    )


def _pages(frame: Frame, drawings: Mapping[str, bytes]) -> Iterator[Page]:
    """All pages in one language."""
    language = frame.words.language
    drawing = drawings.get(language, b"")
    told: set[str] = set()
    for kind, folder, thing, data in (*_current(frame, drawing), *_gone(frame)):
        if folder in told:
            raise SharedFolder(thing, folder)
        told.add(folder)
        name = names.page(frame.within(folder))
        yield Page(name=name, language=language, kind=kind, data=data)


_Made = tuple[str, str, str, bytes]  # kind, folder, whose it is, the page


def _current(frame: Frame, drawing: bytes) -> Iterator[_Made]:
    now = frame.now
    yield WAY_IN, "", now.job, job_page(frame, drawing=bool(drawing))
    yield WAY_IN, names.FIND, now.job, find_page(frame)
    yield "lists", names.SPARES, now.job, spares_page(frame)
    yield "lists", names.RESULTS, now.job, results_page(frame)
    for box in now.boxes:
        yield "boxes", names.box_folder(box.id), box.id, box_page(frame, box)
    for controller in now.controllers:
        folder = names.box_folder(controller.id)
        yield "controllers", folder, controller.id, controller_page(frame, controller)
    for station in now.stations:
        yield "stations", names.station_folder(station), station, station_page(frame, station)
    if drawing:
        yield "drawing", names.DRAWING, now.job, drawing


def _gone(frame: Frame) -> Iterator[_Made]:
    """Each folder that only earlier revisions have, by the last of them that has it."""
    told = set(_folders(frame.now))
    for last in reversed(frame.all[:-1]):
        for box in last.boxes:
            folder = names.box_folder(box.id)
            if folder not in told:
                told.add(folder)
                yield "boxes", folder, box.id, gone_page(frame, box, last)
        for folder, thing in _things(last):
            if folder not in told:
                told.add(folder)
                yield "boxes", folder, thing, gone_thing_page(frame, folder, thing, last)


def _folders(revision: AsBuilt) -> Iterator[str]:
    yield from (names.box_folder(box.id) for box in revision.boxes)
    yield from (folder for folder, _ in _things(revision))


def _things(revision: AsBuilt) -> Iterator[tuple[str, str]]:
    """Folders of controllers and stations, with their names."""
    yield from ((names.box_folder(c.id), c.id) for c in revision.controllers)
    yield from ((names.station_folder(station), station) for station in revision.stations)
