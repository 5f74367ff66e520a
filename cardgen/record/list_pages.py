"""Set the pages that lead to the boxes: the job, its stations, controllers and spares."""

from __future__ import annotations

from cardgen.cards.model import Cell, ConductorMark
from cardgen.record import names
from cardgen.record.box_page import cautions, neighbour_link, spare_row
from cardgen.record.frame import Frame, document, go, heading, listed, plain_list, section
from cardgen.record.html import Child, Markup, element
from cardgen.record.model import Box, Controller
from cardgen.record.pieces import area, pair, wire
from cardgen.record.valve_part import marks_of, valve_part, ways
from cardgen.record.words import Words


def job_page(frame: Frame, *, drawing: bool) -> bytes:
    """The way in: find, boxes, controllers, lists, change log."""
    words, now = frame.words, frame.now
    lists = [go(words("spare list"), names.page(names.SPARES))]
    if drawing:
        lists.append(go(words("drawing"), names.page(names.DRAWING)))
    log = [
        f"{words('change', revision=c.revision, date=c.date)}: {c.text}"
        for c in reversed(now.changes)
    ]
    return document(
        frame,
        "",
        words("job title", site=now.site),
        heading(frame, now.site),
        element("nav", go(words("find"), names.page(names.FIND)), class_="bar"),
        section(words("boxes"), listed(_box_link(words, box) for box in now.boxes)),
        section(words("controllers"), listed(_controller_link(words, c) for c in now.controllers)),
        section(words("stations"), _station_links(frame)),
        section(words("spares"), listed(lists)),
        cautions(words),
        section(words("changes"), plain_list(log)) if log else None,
    )


def _box_link(words: Words, box: Box) -> Markup:
    stations = " ".join(valve.id for valve in box.valves) or words("no valves")
    about = " · ".join(part for part in (stations, box.where) if part)
    return go(box.id, names.page(names.box_folder(box.id)), about)


def _controller_link(words: Words, controller: Controller) -> Markup:
    target = names.page(names.box_folder(controller.id))
    about = f"{controller.where} · {controller.supply}"
    return go(words("controller", controller=controller.id), target, about)


def _station_links(frame: Frame) -> Markup:
    links = (go(name, names.page(names.station_folder(name))) for name in frame.now.stations)
    return element("nav", *links, class_="jump", aria_label=frame.words("stations"))


def station_page(frame: Frame, station: str) -> bytes:
    """All valves of a station with the whole way of each."""
    words, valves = frame.words, frame.now.stations[station]
    parts: list[Child] = []
    for valve in valves:
        target = f"../{names.page(names.box_folder(valve.box))}"
        parts.append(go(f"{words('box')} {valve.box}", target, frame.now.box[valve.box].where))
        parts.append(valve_part(frame, valve, on_station_page=True))
        parts.append(ways(frame, valve))
    return document(
        frame,
        names.station_folder(station),
        words("station title", station=station, site=frame.now.site),
        heading(frame, station, area(words, valves[0])),
        *parts,
        element("p", words("how to read"), class_="small"),
        cautions(words),
        marks=(mark for valve in valves for mark in marks_of(valve, ways=True)),
    )


def controller_page(frame: Frame, controller: Controller) -> bytes:
    """The terminals in their physical order, as on the legend in the door."""
    words = frame.words
    table = controller.terminals
    rows = [_terminal(frame, table.columns, row) for row in table.rows]
    about = " · ".join(part for part in (controller.where, controller.supply) if part)
    onward = [neighbour_link(frame, each) for each in controller.neighbours]
    home = controller.box and go(
        f"{words('box')} {controller.box}", f"../{names.page(names.box_folder(controller.box))}"
    )
    return document(
        frame,
        names.box_folder(controller.id),
        words("controller title", controller=controller.id, site=frame.now.site),
        heading(frame, words("controller", controller=controller.id), about),
        home or None,
        section(words("terminals"), *rows),
        section(words("sensors"), plain_list(controller.sensors)) if controller.sensors else None,
        section(words("neighbours"), listed(onward)),
        cautions(words),
        marks=(cell for row in table.rows for cell in row if isinstance(cell, ConductorMark)),
    )


def _terminal(frame: Frame, columns: tuple[str, ...], row: tuple[Cell, ...]) -> Markup:
    """A row of the legend, one thing under the other: a telephone is narrow."""
    words = frame.words
    said = dict(zip(columns, row, strict=True))
    title = element("h3", f"{words('terminal')} {said.pop('terminal')}")
    link = None
    station = said.get("station")
    if isinstance(station, str) and station in frame.now.stations:
        name = f"{said.pop('station')} {said.pop('area', '')}"
        target = f"../{names.page(names.station_folder(station))}"
        link = go(name, target, str(said.pop("box", "")))
    facts = [
        pair(name, wire(words, cell, small=True) if isinstance(cell, ConductorMark) else cell)
        for name, cell in said.items()
        if cell not in ("", "–")
    ]
    return element("div", title, link, element("dl", *facts, class_="row"), class_="item")


def spares_page(frame: Frame) -> bytes:
    """Every conductor that nothing uses."""
    words, spares = frame.words, frame.now.spares
    rows = [element("div", spare_row(words, s, here=False), class_="item") for s in spares]
    return document(
        frame,
        names.SPARES,
        words("spares title", site=frame.now.site),
        heading(frame, words("spare list")),
        *(rows or [element("p", words("no spares in job"))]),
        marks=(spare.mark for spare in spares),
    )
