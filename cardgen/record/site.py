"""Turn all that was published of a job into the files of its folder, by their names in it."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import partial

from cardgen.asbuilt import AsBuilt, BuiltValve
from cardgen.light_dataclass import replace
from cardgen.memory.revisions import RevisionLog, to_json
from cardgen.record import names, offline
from cardgen.record.box_page import box_page
from cardgen.record.changes_since import gone_page, gone_thing_page
from cardgen.record.controller_page import controller_page
from cardgen.record.find_page import find_page
from cardgen.record.judging import judged_results
from cardgen.record.list_pages import job_page, spares_page, station_page
from cardgen.record.offline import WAY_IN, RecordPage, chosen
from cardgen.record.page_frame import PageFrame
from cardgen.record.page_words import PageWords
from cardgen.record.results_page import results_page
from cardgen.record.slots import EMPTY, Slots

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
    choice = chosen(made, offline.LIMIT)
    copy = choice.copy(frames[0].now.revision, languages)
    if copy.notes:
        frames = [replace(frame, saved=copy.note(frame.words.language)) for frame in frames]
        made = [page for frame in frames for page in _pages(frame, drawings)]
    return {
        **{page.name: page.data for page in made},
        names.WORKER: copy.worker(),
        names.OFFLINE: copy.to_json(),
        names.HISTORY: to_json(history),
    }


def frame_of(history: RevisionLog, words: PageWords, languages: Sequence[PageWords]) -> PageFrame:
    """What the pages in that language share."""
    revisions = history.revisions
    return PageFrame(
        now=revisions[-1],
        all=revisions,
        words=words,
        languages=tuple(languages),
        results=judged_results(revisions, history.results),
    )


def _pages(frame: PageFrame, drawings: Mapping[str, bytes]) -> Iterator[RecordPage]:
    """All pages in one language."""
    language = frame.words.language
    drawing = drawings.get(language, b"")
    told: set[str] = set()
    made = [(p.kind, p.folder, p.thing, p.html(EMPTY)) for p in slotted_pages(frame, bool(drawing))]
    if drawing:
        made.append(("drawing", names.DRAWING, frame.now.job_code, drawing))
    for kind, folder, thing, data in made:
        if folder in told:
            raise SharedFolder(thing, folder)
        told.add(folder)
        name = names.page(frame.within(folder))
        yield RecordPage(name=name, language=language, kind=kind, data=data)


# ---- pages to which a server adds ----------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class SlottedPage:
    """A page to be made with what is put into its slots.

    Attributes:
        kind: one of `offline.KINDS`.
        thing: whose it is.
        place: the box or controller; empty where it is of neither.
        valves: those that have slots on it.
    """

    kind: str
    folder: str
    thing: str
    place: str
    valves: tuple[BuiltValve, ...]
    html: Callable[[Slots], bytes]


def slotted_pages(frame: PageFrame, drawing: bool) -> Iterator[SlottedPage]:
    """All pages but the drawing; `drawing` says whether there is one to lead to."""
    yield _slotted(frame, WAY_IN, "", partial(job_page, frame, drawing=drawing))
    for kind, folder, made in (
        (WAY_IN, names.FIND, find_page),
        ("lists", names.SPARES, spares_page),
        ("lists", names.RESULTS, results_page),
    ):
        yield _slotted(frame, kind, folder, _without_slots(partial(made, frame)))
    yield from _of_places(frame)
    for folder, thing, html in _gone(frame):
        yield replace(_slotted(frame, "boxes", folder, _without_slots(html)), thing=thing)


def _slotted(
    frame: PageFrame, kind: str, folder: str, html: Callable[[Slots], bytes]
) -> SlottedPage:
    code = frame.now.job_code
    return SlottedPage(kind=kind, folder=folder, thing=code, place="", valves=(), html=html)


def _without_slots(html: Callable[[], bytes]) -> Callable[[Slots], bytes]:
    return lambda _: html()


def _of_places(frame: PageFrame) -> Iterator[SlottedPage]:
    """Those of the boxes, controllers and stations of the newest revision."""
    for box in frame.now.boxes:
        yield SlottedPage(
            kind="boxes",
            folder=names.box_folder(box.id),
            thing=box.id,
            place=box.id,
            valves=box.valves,
            html=partial(box_page, frame, box),
        )
    for controller in frame.now.controllers:
        yield SlottedPage(
            kind="controllers",
            folder=names.box_folder(controller.id),
            thing=controller.id,
            place=controller.id,
            valves=(),
            html=partial(controller_page, frame, controller),
        )
    for station, valves in frame.now.stations.items():
        yield SlottedPage(
            kind="stations",
            folder=names.station_folder(station),
            thing=station,
            place="",
            valves=valves,
            html=partial(station_page, frame, station),
        )


# ---- pages of what is gone -----------------------------------------------------------------


def _gone(frame: PageFrame) -> Iterator[tuple[str, str, Callable[[], bytes]]]:
    """Each folder that only earlier revisions have, by the last of them that has it."""
    told = set(_folders(frame.now))
    for last in reversed(frame.all[:-1]):
        for box in last.boxes:
            folder = names.box_folder(box.id)
            if folder not in told:
                told.add(folder)
                yield folder, box.id, partial(gone_page, frame, box, last)
        for folder, thing in _things(last):
            if folder not in told:
                told.add(folder)
                yield folder, thing, partial(gone_thing_page, frame, folder, thing, last)


def _folders(revision: AsBuilt) -> Iterator[str]:
    yield from (names.box_folder(box.id) for box in revision.boxes)
    yield from (folder for folder, _ in _things(revision))


def _things(revision: AsBuilt) -> Iterator[tuple[str, str]]:
    """Folders of controllers and stations, with their names."""
    yield from ((names.box_folder(c.id), c.id) for c in revision.controllers)
    yield from ((names.station_folder(station), station) for station in revision.stations)
