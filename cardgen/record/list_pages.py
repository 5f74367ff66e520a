"""Set the pages that lead to the boxes: the job, its stations and spares."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from cardgen.asbuilt import BuiltBox, BuiltController, BuiltSpare
from cardgen.cards.cautions import PAGE_OF_BOX, SPARE_LIST, at_valves, in_job
from cardgen.record import names
from cardgen.record.box_page import loop_how, spare_row
from cardgen.record.cautions_part import cautions, cautions_first
from cardgen.record.html import Child, Markup, element
from cardgen.record.page_frame import PageFrame, document, heading, link, plain_list, section, ul
from cardgen.record.page_parts import area, how_to_read
from cardgen.record.page_words import PageWords
from cardgen.record.slots import Slots
from cardgen.record.valve_part import marks_of, valve_part, ways


def job_page(frame: PageFrame, slots: Slots, *, drawing: bool) -> bytes:
    """The way in: find, boxes, controllers, lists, change log."""
    words, now = frame.words, frame.now
    lists = [link(words("spare list"), names.page(names.SPARES))]
    lists.append(link(words("results"), names.page(names.RESULTS)))
    if drawing:
        lists.append(link(words("drawing"), names.page(names.DRAWING)))
    log = [
        words("change", revision=c.revision, date=c.date, text=c.text)
        for c in reversed(now.changes)
    ]
    return document(
        frame,
        "",
        words("job title", site=now.site),
        heading(frame, now.site),
        slots.at_place,
        section(words("boxes"), ul(_box_link(words, box) for box in now.boxes)),
        section(words("controllers"), ul(_controller_link(words, c) for c in now.controllers)),
        section(words("stations"), _station_links(frame)),
        section(words("lists"), ul(lists)),
        cautions(words, in_job(now)),
        section(words("changes"), plain_list(log)) if log else None,
    )


def _box_link(words: PageWords, box: BuiltBox) -> Markup:
    stations = " ".join(valve.id for valve in box.valves) or words("no valves")
    about = " · ".join(part for part in (stations, box.where) if part)
    return link(box.id, names.page(names.box_folder(box.id)), about)


def _controller_link(words: PageWords, controller: BuiltController) -> Markup:
    target = names.page(names.box_folder(controller.id))
    about = " · ".join(p for p in (controller.where, words.supply(controller.supply)) if p)
    return link(words("controller", controller=controller.id), target, about)


def _station_links(frame: PageFrame) -> Markup:
    links = (link(name, names.page(names.station_folder(name))) for name in frame.now.stations)
    return element("nav", *links, class_="jump", aria_label=frame.words("stations"))


def station_page(frame: PageFrame, station: str, slots: Slots) -> bytes:
    """All valves of a station with the whole way of each."""
    words, valves = frame.words, frame.now.stations[station]
    at = at_valves(frame.now, valves)
    parts: list[Child] = []
    for valve in valves:
        target = f"../{names.page(names.box_folder(valve.box))}"
        parts.append(link(words("box", box=valve.box), target, frame.now.box[valve.box].where))
        parts.append(valve_part(frame, valve, slots, on_station_page=True))
        parts.append(ways(frame, valve))
    return document(
        frame,
        names.station_folder(station),
        words("station title", station=station, site=frame.now.site),
        heading(frame, station, area(words, valves[0])),
        cautions_first(words, PAGE_OF_BOX, at),
        *parts,
        how_to_read(words, valves),
        link(words("results"), f"../{names.page(names.RESULTS)}"),
        cautions(words, at),
        marks=(mark for valve in valves for mark in marks_of(valve, ways=True)),
    )


def spares_page(frame: PageFrame) -> bytes:
    """Every stretch that nothing uses; what is dead by itself, for no controller reaches it."""
    words, now = frame.words, frame.now
    free = [spare for spare in now.spares if not spare.dead]
    left = [spare for spare in now.spares if spare.dead]
    return document(
        frame,
        names.SPARES,
        words("spares title", site=now.site),
        heading(frame, words("spare list")),
        cautions_first(words, SPARE_LIST, in_job(now)) if now.spares else None,
        element("p", loop_how(words)) if now.spares else None,
        *_rows(words, free),
        element("p", words("no spares in job")) if not free else None,
        section(words("dead list"), *_rows(words, left)) if left else None,
        marks=(spare.mark for spare in now.spares),
    )


def _rows(words: PageWords, spares: Iterable[BuiltSpare]) -> Iterator[Markup]:
    yield from (element("div", spare_row(words, each), class_="item") for each in spares)
