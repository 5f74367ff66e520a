"""Turn all published revisions of a job into the files of its folder, by their names in it."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Sequence

from cardgen.draw import svg
from cardgen.drawing import HomeRun, Sheet, outline
from cardgen.record import names
from cardgen.record.box_page import box_page
from cardgen.record.find_page import find_page
from cardgen.record.frame import Frame, document, heading, section
from cardgen.record.history import to_json
from cardgen.record.html import Markup, element
from cardgen.record.list_pages import controller_page, job_page, spares_page, station_page
from cardgen.record.model import Revision
from cardgen.record.scripts import worker
from cardgen.record.tags import gone_page, gone_thing_page
from cardgen.record.words import ENGLISH_WORDS, Words

HISTORY = names.HISTORY
DRAWING = names.page(names.DRAWING)


class SharedFolder(Exception):
    """Two things of the job would have one page."""

    def __init__(self, name: str, folder: str) -> None:
        super().__init__(name)
        self.name, self.folder = name, folder


def site(
    revisions: Sequence[Revision], drawing: bytes, words: Words = ENGLISH_WORDS
) -> dict[str, bytes]:
    """The same files whatever order the revisions were published in.

    Args:
        revisions: oldest first; the newest is what the pages say.
        drawing: the page of the wiring drawing of the newest; empty if there is none.

    Raises:
        SharedFolder: if two things would have one page.
    """
    frame = Frame(now=revisions[-1], all=tuple(revisions), words=words)
    pages: dict[str, bytes] = {}
    for folder, thing, page in _pages(frame, drawing=bool(drawing)):
        if names.page(folder) in pages:
            raise SharedFolder(thing, folder)
        pages[names.page(folder)] = page
    if drawing:
        pages[DRAWING] = drawing
    digests = {name: hashlib.sha256(page).hexdigest() for name, page in pages.items()}
    whole = hashlib.sha256(repr(sorted(digests.items())).encode()).hexdigest()[:16]
    offline = worker(digests, frame.now.revision, whole).encode()
    return {**pages, names.WORKER: offline, names.HISTORY: to_json(revisions)}


def _pages(frame: Frame, *, drawing: bool) -> Iterator[tuple[str, str, bytes]]:
    """Folder, whose it is, and its page; first what is, then what was."""
    now = frame.now
    yield "", now.job, job_page(frame, drawing=drawing)
    yield names.FIND, now.job, find_page(frame)
    yield names.SPARES, now.job, spares_page(frame)
    for box in now.boxes:
        yield names.box_folder(box.id), box.id, box_page(frame, box)
    for controller in now.controllers:
        yield names.box_folder(controller.id), controller.id, controller_page(frame, controller)
    for station in now.stations:
        yield names.station_folder(station), station, station_page(frame, station)
    yield from _gone(frame)


def _gone(frame: Frame) -> Iterator[tuple[str, str, bytes]]:
    """Each folder that only earlier revisions have, by the last of them that has it."""
    now = frame.now
    told = {names.box_folder(box.id) for box in now.boxes}
    told |= {names.box_folder(controller.id) for controller in now.controllers}
    told |= {names.station_folder(station) for station in now.stations}
    for last in reversed(frame.all[:-1]):
        for box in last.boxes:
            folder = names.box_folder(box.id)
            if folder not in told:
                told.add(folder)
                yield folder, box.id, gone_page(frame, box, last)
        things = [(names.box_folder(c.id), c.id) for c in last.controllers]
        things += [(names.station_folder(station), station) for station in last.stations]
        for folder, thing in things:
            if folder not in told:
                told.add(folder)
                yield folder, thing, gone_thing_page(frame, folder, thing, last)


def drawing_page(
    now: Revision,
    homes: Sequence[HomeRun],
    sheets: Sequence[Sheet],
    words: Words = ENGLISH_WORDS,
) -> bytes:
    """The sheets as pictures, then all of it in words for those who cannot read them."""
    frame = Frame(now=now, all=(now,), words=words)
    title = words("drawing title", site=now.site)
    pictures = [
        element(
            "div",
            Markup(svg(sheet.page, sheet.groups, title=f"{title} {number}")),
            class_="sheet",
            tabindex="0",
            role="region",
            aria_label=f"{title} {number}",
        )
        for number, sheet in enumerate(sheets, 1)
    ]
    texts = [element("p", outline(home), class_="text item") for home in homes]
    return document(
        frame,
        names.DRAWING,
        title,
        heading(frame, words("drawing")),
        element("p", words("drawing hint"), class_="small screen"),
        *pictures,
        section(words("as text"), *texts),
    )
