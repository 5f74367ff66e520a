"""Set one valve: which it is, its conductors and terminal, what it should read, its way."""

from __future__ import annotations

from collections.abc import Iterator

from cardgen.asbuilt import BuiltValve, ConductorMark
from cardgen.asbuilt.model.built_valves import BuiltStep
from cardgen.record import names
from cardgen.record.html import Child, Markup, element, joined
from cardgen.record.page_frame import PageFrame, link
from cardgen.record.page_parts import area, lands, leg_length, musts, pair, readings, wire
from cardgen.record.page_words import PageWords
from cardgen.record.results_page import last_read
from cardgen.record.slots import Slots


def marks_of(valve: BuiltValve, *, ways: bool = False) -> Iterator[ConductorMark]:
    """The conductors that are shown with it."""
    shown = [valve.hot, valve.hot_at_controller, valve.back]
    if ways:
        shown += [step.conductor for step in (*valve.hot_way, *valve.back_way)]
    yield from (mark for mark in shown if mark is not None)


def valve_part(
    frame: PageFrame, valve: BuiltValve, slots: Slots, *, on_station_page: bool = False
) -> Markup:
    """A valve as the hand in the box needs it."""
    words, number = frame.words, len(frame.now.stations[valve.station])
    level = "h2" if on_station_page else "h3"
    title = element(level, valve.id, element("span", area(words, valve)), class_="name")
    must = (element("p", line, class_="must") for line in musts(words, valve))
    facts = element("dl", *_conductors(words, valve), *_around(words, valve))
    more = None
    if not on_station_page:
        target = f"../{names.page(names.station_folder(valve.station))}"
        more = link(words("whole way", station=valve.station), target)
    ring = element("p", words("ring"), class_="small") if valve.ring else None
    return element(
        "article",
        *(title, *must, facts, readings(words, valve, number), *map(_note, valve.notes)),
        *(last_read(frame, valve.id), ring, more, slots.below_valve.get(valve.id)),
        class_="valve",
        id=f"V-{valve.id}",
    )


def _note(text: str) -> Markup:
    return element("p", text, class_="must")


def _conductors(words: PageWords, valve: BuiltValve) -> Iterator[Markup]:
    if valve.hot is not None:
        yield pair(words("hot"), wire(words, valve.hot))
    elif valve.hot_unknown:
        yield pair(words("hot"), words.of("terms", "wire not known"))
    yield pair(words("terminal"), lands(words, valve))
    if (valve.hot_changes or valve.hot_unknown) and valve.hot_at_controller:
        first = valve.hot_at_controller
        yield pair(words("at the controller"), wire(words, first, small=True))
    if valve.back is not None:
        name = words("common", controller=valve.controller)
        yield pair(words("return") if valve.own_return else name, wire(words, valve.back))


def _around(words: PageWords, valve: BuiltValve) -> Iterator[Markup]:
    if valve.others:
        others = (words("other", valve=other.id, box=other.box) for other in valve.others)
        yield pair(words("others"), ", ".join(others))


def ways(frame: PageFrame, valve: BuiltValve) -> Markup:
    """From the terminal to the coil and back, stretch by stretch."""
    words = frame.words
    return joined(
        element("h3", words("way", valve=valve.id)) if valve.hot_way else None,
        *(_step(words, step) for step in valve.hot_way),
        element("h3", words("way back")) if valve.back_way else None,
        *(_step(words, step) for step in reversed(valve.back_way)),
    )


def _step(words: PageWords, step: BuiltStep) -> Child:
    if step.conductor is None:
        said = words("contact", sensor=step.contact)
        if not step.contact:
            said = words("by way of pigtail", pigtail=step.name, place=step.start)
        return element("p", said, class_="item")
    said = words("leg", start=step.start, end=step.end, length=leg_length(words, step.length))
    return element("div", wire(words, step.conductor, said, small=True), class_="item")
