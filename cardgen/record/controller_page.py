"""Set the page of a controller: its terminals in their physical order, as in the door."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from cardgen.asbuilt import BuiltController, BuiltValve, ConductorMark, Role, Use
from cardgen.asbuilt.model.built_controllers import Landed, Terminal
from cardgen.asbuilt.spans import nowhere
from cardgen.cards import beside_strip
from cardgen.cards.cautions import PAGE_OF_CONTROLLER, at_controller
from cardgen.cards.printable import Printable
from cardgen.record import names
from cardgen.record.box_page import neighbor_link
from cardgen.record.cautions_part import cautions, cautions_first
from cardgen.record.html import Markup, element
from cardgen.record.page_frame import PageFrame, document, heading, link, plain_list, section, ul
from cardgen.record.page_parts import area, band_text, how_to_read, musts, ohms_text, pair, wire
from cardgen.record.page_words import PageWords
from cardgen.record.slots import Slots


def controller_page(frame: PageFrame, controller: BuiltController, slots: Slots) -> bytes:
    """One thing under the other: a telephone is narrower than a door."""
    words, at = frame.words, at_controller(frame.now, controller)
    about = " · ".join(part for part in (controller.where, words.supply(controller.supply)) if part)
    in_door = Printable(asbuilt=frame.now, spans=nowhere(), words=words.words)
    limits = [text.printed for text in beside_strip.about(in_door, controller)]
    sensors = [text.printed for text in beside_strip.sensors(in_door, controller)]
    title = words("controller", controller=controller.id)
    return document(
        frame,
        names.box_folder(controller.id),
        words("controller title", controller=controller.id, site=frame.now.site),
        heading(frame, title, about),
        cautions_first(words, PAGE_OF_CONTROLLER, at),
        _home(words, controller),
        section(
            words("terminals"), *(_terminal(frame, controller, t) for t in controller.terminals)
        ),
        slots.at_place,
        section(words("this controller"), plain_list(limits)) if limits else None,
        section(words("sensors"), plain_list(sensors)) if sensors else None,
        section(words("neighbors"), ul(neighbor_link(frame, n) for n in controller.neighbors)),
        how_to_read(words, frame.now.valves_of(controller.id)),
        cautions(words, at),
        marks=_marks(frame, controller),
    )


def _home(words: PageWords, controller: BuiltController) -> Markup | None:
    if not controller.box:
        return None
    target = f"../{names.page(names.box_folder(controller.box))}"
    return link(words("box", box=controller.box), target)


def _marks(frame: PageFrame, controller: BuiltController) -> Iterator[ConductorMark]:
    for terminal in controller.terminals:
        yield from (landed.mark for landed in terminal.wires)
        for valve in (v for owner in frame.now.valves_on(terminal).values() for v in owner):
            shown = (valve.hot_at_controller, valve.hot, valve.return_on_strip)
            yield from (mark for mark in shown if mark)


def _terminal(frame: PageFrame, controller: BuiltController, terminal: Terminal) -> Markup:
    """Of stations that are one terminal each by itself, below the wires that they share."""
    words = frame.words
    stations = frame.now.valves_on(terminal)
    wires = [*_landed(words, controller, terminal)]
    if len(stations) == 1:
        (valves,) = stations.values()
        parts = [*_station(frame, valves), _row(*_of_valves(words, valves, wires))]
    else:
        parts = [_row(*_sensors(words, terminal), *wires)]
        for valves in stations.values():
            parts += [*_station(frame, valves), _row(*_of_valves(words, valves, []))]
    if terminal.linked:
        parts.append(_row(pair(words("linked"), words.list_of(terminal.linked))))
    if terminal.use == "empty":
        parts.append(element("p", words("empty")))
    return element("div", element("h3", _name(words, terminal)), *parts, class_="item")


def _row(*facts: Markup) -> Markup | None:
    return element("dl", *facts, class_="row") if facts else None


def _name(words: PageWords, terminal: Terminal) -> str:
    if terminal.use == "path":
        return words(f"terminal {terminal.name}")
    key = "terminal address" if terminal.use == "address" else "terminal name"
    return words(key, terminal=terminal.name)


def _station(frame: PageFrame, valves: tuple[BuiltValve, ...]) -> Iterator[Markup]:
    words, first = frame.words, valves[0]
    target = f"../{names.page(names.station_folder(first.station))}"
    boxes = " ".join(dict.fromkeys(valve.box for valve in valves))
    yield link(f"{first.station} {area(words, first)}", target, boxes)
    yield from (element("p", line, class_="must") for line in musts(words, first))
    yield from (element("p", note, class_="must") for note in first.notes)


def _sensors(words: PageWords, terminal: Terminal) -> Iterator[Markup]:
    if terminal.use == "sensor":
        yield pair(words("sensor other").capitalize(), ", ".join(terminal.owners))


def _landed(words: PageWords, controller: BuiltController, terminal: Terminal) -> Iterator[Markup]:
    """Every wire on a terminal; what it is, where that is not what the terminal is for."""
    for each in terminal.wires:
        name = words("at this end")
        if not all(_goes_without(use, controller, terminal) for use in each.uses):
            said = words.uses(each.uses)
            name = said[:1].upper() + said[1:]
        twice = sum(other.conductor == each.conductor for other in terminal.wires) > 1
        about = [words("to", place=each.toward)] if twice and each.toward else []
        about += [_by_pigtail(words, each)] if each.by else []
        yield pair(name, wire(words, each.mark, " · ".join(about), small=True))
        if each.ring:
            yield pair(words("serves"), words("round a ring"))
        elif each.serves:
            yield pair(words("serves"), words.list_of(each.serves))
    if terminal.pigtails:
        yield from _by_pigtails(words, terminal)
    elif terminal.takes_pigtail:
        alike = all(controller.common in each.uses for each in terminal.wires)
        key = "pigtail" if alike else "pigtail of all"
        yield pair(words("together"), words(key, number=terminal.on_it))


def _by_pigtails(words: PageWords, terminal: Terminal) -> Iterator[Markup]:
    """Each connector in which several wires are."""
    for by in dict.fromkeys(each.by for each in terminal.wires if each.by):
        found = [each for each in terminal.wires if each.by == by]
        if len(found) > 1:
            said = f"{words('conductors', number=len(found))}, {_by_pigtail(words, found[0])}"
            yield pair(words("together"), said)


def _by_pigtail(words: PageWords, landed: Landed) -> str:
    return words("by pigtail", pigtails=words.list_of(landed.by))


def _goes_without(use: Use, controller: BuiltController, terminal: Terminal) -> bool:
    """The name of the terminal says it."""
    match use.role:
        case Role.COMMON:
            return terminal.use == "common" and use.of == controller.id
        case Role.TERMINAL:
            return use.of == controller.id and use.side == terminal.name
    return use.role is Role.PATH or use.of in terminal.owners


def _of_valves(
    words: PageWords, valves: tuple[BuiltValve, ...], wires: Sequence[Markup]
) -> Iterator[Markup]:
    first = valves[0]
    if len(valves) > 1:
        yield pair(words("several valves"), words.list_of(valve.id for valve in valves))
    if first.isolators:
        yield pair(words("at this end"), words("to the isolator"))
    elif wires:
        yield from wires
    elif first.hot_unknown:
        yield pair(words("at this end"), words.of("terms", "wire not known"))
    elif first.hot_at_controller:  # at an address no wire of its own lands
        yield pair(words("at this end"), wire(words, first.hot_at_controller, small=True))
    if first.hot and first.hot_changes:
        yield pair(words("at the valve"), wire(words, first.hot, small=True))
    if first.return_on_strip:
        yield pair(words("own return"), wire(words, first.return_on_strip, small=True))
    if first.ohms and not first.isolators:
        band = band_text(words, first.ohms)
        yield pair(words("expected"), f"{ohms_text(first.ohms)} ({band})")
