"""Say of one coil what the drawing shows: its hot, where that lands, what it is, its own return."""

from __future__ import annotations

from collections.abc import Container, Iterator

from cardgen.asbuilt import BuiltValve, ConductorMark
from cardgen.cards import Printable
from cardgen.drawing.drawing_parts import BoxLine, LineKind, as_text
from cardgen.words import Said, Text

COMMON_TERMINAL = "C"


def lines_of(
    printable: Printable, valve: BuiltValve, start: str, cables: Container[str]
) -> Iterator[BoxLine]:
    """The line of the coil and, where it has a way back of its own, that of its return.

    `start` is the controller of the drawing, which need not be named again; `cables` are those
    in the drawing: a return on another cable is told.
    """
    words, place = printable.words, printable.spans.valves[valve.id]
    unknown = valve.hot_unknown and not valve.hot
    source = words("terms.wire not known").printed if unknown else ""
    if valve.decoder is not None and not valve.hot:
        source = words.labeled("drawing.decoder", valve.decoder.id).printed
    yield BoxLine(
        span=place,
        kind=LineKind.VALVE,
        marks=(valve.hot,) if valve.hot else (),
        source=source,
        lands=_lands(printable, valve, start).printed,
        name=words.labeled(f"drawing.{valve.kind}", valve.id).printed,
        text=as_text(*_words(printable, valve), *_return_elsewhere(printable, valve, cables)),
        what=valve.kind,
    )
    if valve.back is not None and valve.own_return:
        yield BoxLine(
            span=place,
            kind=LineKind.RETURN,
            marks=(valve.back,),
            lands=_return_lands(printable, valve).printed,
            name=words("drawing.return", valve=valve.id).printed,
        )


def _return_lands(printable: Printable, valve: BuiltValve) -> Text:
    if valve.isolators:
        return printable.words("drawing.isolators")
    return terminal(printable, COMMON_TERMINAL)


def _return_elsewhere(
    printable: Printable, valve: BuiltValve, cables: Container[str]
) -> Iterator[Text]:
    if valve.back is not None and valve.back.cable not in cables:
        yield printable.words("drawing.returns on", conductor=_color(printable, valve.back))


def _color(printable: Printable, mark: ConductorMark) -> Text:
    """`A-K1 red`"""
    return printable.words.joined([mark.cable, printable.words.color(mark.word)], " ")


def _lands(printable: Printable, valve: BuiltValve, start: str) -> Text:
    """The terminal or address, as the controller's strip or screen names it."""
    words = printable.words
    if valve.decoder is not None:
        return words.labeled("drawing.address", str(valve.decoder.address))
    if valve.isolators:
        names = words.list_of(valve.isolators)
        return words("drawing.shared", terminal=valve.terminal, controllers=names)
    return terminal(
        printable, valve.terminal, "" if valve.controller == start else valve.controller
    )


def terminal(printable: Printable, name: str, of: str = "") -> Text:
    """`terminal 7`; of a controller that is not that of the drawing."""
    if of:
        return printable.words("drawing.terminal of", terminal=name, controller=of)
    return printable.words.labeled("drawing.terminal", name)


def _words(printable: Printable, valve: BuiltValve) -> Iterator[Said]:
    words = printable.words
    if valve.area:
        yield valve.area
    if valve.normally_open:
        yield words("terms.normally open")
    if valve.kind == "relay":
        yield words("drawing.starts the pump")
    if valve.others:
        others = [words("drawing.other", valve=twin.id, box=twin.box) for twin in valve.others]
        yield words("drawing.twin", others=words.list_of(others))
    if valve.hot_changes and valve.hot_at_controller:
        yield words("drawing.at controller", conductor=_color(printable, valve.hot_at_controller))
    if valve.decoder is not None and valve.decoder.serial:
        yield words("drawing.serial", serial=valve.decoder.serial)
    if valve.device:
        yield words("terms.behind", device=valve.device)
