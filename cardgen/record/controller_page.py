"""Set the page of a controller: its terminals in their physical order, as in the door."""

from __future__ import annotations

from collections.abc import Iterator

from cardgen.asbuilt.model import ConductorMark
from cardgen.record import names
from cardgen.record.box_page import cautions, neighbour_link
from cardgen.record.frame import Frame, document, go, heading, listed, plain_list, section
from cardgen.record.html import Child, Markup, element
from cardgen.record.model import Controller, Sensor, Terminal, Valve
from cardgen.record.pieces import area, band_text, musts, pair, wire
from cardgen.record.served import PLACE, room
from cardgen.record.words import PageWords


def controller_page(frame: Frame, controller: Controller) -> bytes:
    """One thing under the other: a telephone is narrower than a door."""
    words = frame.words
    about = " · ".join(part for part in (controller.where, words.supply(controller.supply)) if part)
    sensors = plain_list(_sensor(words, each) for each in controller.sensors)
    title = words("controller", controller=controller.id)
    return document(
        frame,
        names.box_folder(controller.id),
        words("controller title", controller=controller.id, site=frame.now.site),
        heading(frame, title, about),
        _home(words, controller),
        section(
            words("terminals"), *(_terminal(frame, controller, t) for t in controller.terminals)
        ),
        room(PLACE, controller.id),
        section(words("sensors"), sensors) if controller.sensors else None,
        section(
            words("neighbours"), listed(neighbour_link(frame, n) for n in controller.neighbours)
        ),
        element("p", words("how to read"), class_="small"),
        cautions(words),
        marks=_marks(frame, controller),
    )


def _home(words: PageWords, controller: Controller) -> Markup | None:
    if not controller.box:
        return None
    target = f"../{names.page(names.box_folder(controller.box))}"
    return go(words("box", box=controller.box), target)


def _marks(frame: Frame, controller: Controller) -> Iterator[ConductorMark]:
    for terminal in controller.terminals:
        if terminal.wire:
            yield terminal.wire
        for valve in _valves(frame, terminal):
            shown = (valve.hot_at_controller, valve.hot, _own_return(valve))
            yield from (mark for mark in shown if mark)


def _valves(frame: Frame, terminal: Terminal) -> tuple[Valve, ...]:
    if terminal.use not in ("station", "address"):
        return ()
    return tuple(v for owner in terminal.owners for v in frame.now.stations.get(owner, ()))


def _terminal(frame: Frame, controller: Controller, terminal: Terminal) -> Markup:
    words = frame.words
    valves = _valves(frame, terminal)
    parts: list[Child] = [element("h3", _name(words, terminal))]
    if valves:
        parts += _station(frame, valves)
    facts = [*_on_it(frame, controller, terminal), *_of_valves(words, valves)]
    if terminal.linked:
        facts.append(pair(words("linked"), words.listed(terminal.linked)))
    if facts:
        parts.append(element("dl", *facts, class_="row"))
    if terminal.use == "empty":
        parts.append(element("p", words("empty")))
    return element("div", *parts, class_="item")


def _name(words: PageWords, terminal: Terminal) -> str:
    if terminal.use == "path":
        return words(f"terminal {terminal.name}")
    key = "terminal address" if terminal.use == "address" else "terminal name"
    return words(key, terminal=terminal.name)


def _station(frame: Frame, valves: tuple[Valve, ...]) -> Iterator[Markup]:
    words, first = frame.words, valves[0]
    target = f"../{names.page(names.station_folder(first.station))}"
    boxes = " ".join(dict.fromkeys(valve.box for valve in valves))
    yield go(f"{first.station} {area(words, first)}", target, boxes)
    yield from (element("p", line, class_="must") for line in musts(words, first))
    yield from (element("p", note, class_="must") for note in first.notes)


def _on_it(frame: Frame, controller: Controller, terminal: Terminal) -> Iterator[Markup]:
    """What is on a terminal that is no station's."""
    words = frame.words
    if terminal.use == "sensor":
        yield pair(words("sensor other").capitalize(), ", ".join(terminal.owners))
    if terminal.wire is None:
        return
    yield pair(words("at this end"), wire(words, terminal.wire, small=True))
    if terminal.use == "common":
        served = [name for name, at in _returning(frame, controller) if at == terminal.wire]
        if served:
            yield pair(words("serves"), words.listed(served))
        commons = sum(each.use == "common" for each in controller.terminals)
        if commons > 1:
            yield pair(words("together"), words("pigtail", number=commons))


def _returning(frame: Frame, controller: Controller) -> Iterator[tuple[str, ConductorMark]]:
    """Each station with the common on which its way back comes to the controller."""
    for name, valves in frame.now.stations.items():
        for valve in valves:
            if valve.controller == controller.id and not valve.own_return:
                legs = (step.conductor for step in valve.back_way if step.conductor)
                yield from ((name, mark) for mark in [next(legs, None)] if mark)


def _own_return(valve: Valve) -> ConductorMark | None:
    """Where it lands on C beside the commons."""
    if not valve.own_return or valve.isolators:
        return None
    return next((step.conductor for step in valve.back_way if step.conductor), None)


def _of_valves(words: PageWords, valves: tuple[Valve, ...]) -> Iterator[Markup]:
    if not valves:
        return
    first = valves[0]
    if len(valves) > 1:
        yield pair(words("several valves"), words.listed(valve.id for valve in valves))
    if first.isolators:
        yield pair(words("at this end"), words("to the isolator"))
    elif first.hot_at_controller:
        yield pair(words("at this end"), wire(words, first.hot_at_controller, small=True))
    if first.hot and first.hot_at_controller and first.hot.word != first.hot_at_controller.word:
        yield pair(words("at the valve"), wire(words, first.hot, small=True))
    own = _own_return(first)
    if own:
        yield pair(words("own return"), wire(words, own, small=True))
    if first.ohms and not first.isolators:
        band = band_text(words, first.ohms)
        yield pair(words("expected"), f"{first.ohms.expected:.1f} Ω ({band})")


def _sensor(words: PageWords, sensor: Sensor) -> str:
    parts = [words(f"sensor {sensor.kind}"), sensor.where]
    if sensor.contact:
        parts.append(words(f"contact {sensor.contact}"))
    if not sensor.in_common:
        wires = ", ".join(sensor.wires)
        parts.append(words("on terminals by", wires=wires) if wires else words("on terminals"))
    said = f"{sensor.id}: {', '.join(part for part in parts if part)}."
    return f"{said} {words('in the common')}" if sensor.in_common else said
