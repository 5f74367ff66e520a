"""Say of one coil what the drawing shows: its hot, where that lands, what it is, its own return."""

from __future__ import annotations

from collections.abc import Container, Iterator

from cardgen.asbuilt import ConductorMark, Valve
from cardgen.cards import Printable
from cardgen.drawing.model import Line, LineKind
from cardgen.words import Text

COMMON_TERMINAL = "C"


def lines_of(job: Printable, valve: Valve, start: str, cables: Container[str]) -> Iterator[Line]:
    """The line of the coil and, where it has a way back of its own, that of its return.

    `start` is the controller of the drawing, which need not be named again; `cables` are those
    in the drawing: a return on another cable is told.
    """
    words, place = job.words, job.spans.valves[valve.id]
    decoder = "" if valve.hot or valve.decoder is None else valve.decoder.id
    yield Line(
        place=place,
        kind=LineKind.VALVE,
        marks=(valve.hot,) if valve.hot else (),
        source=f"{words('drawing.decoder')} {decoder}" if decoder else "",
        lands=_lands(job, valve, start),
        name=f"{words(f'drawing.{valve.kind}')} {valve.id}",
        text=" · ".join((*_words(job, valve), *_return_elsewhere(job, valve, cables))),
        what=valve.kind,
    )
    if valve.back is not None and valve.own_return:
        yield Line(
            place=place,
            kind=LineKind.RETURN,
            marks=(valve.back,),
            lands=words("drawing.isolators") if valve.isolators else terminal(job, COMMON_TERMINAL),
            name=words("drawing.return", valve=valve.id),
        )


def _return_elsewhere(job: Printable, valve: Valve, cables: Container[str]) -> Iterator[str]:
    if valve.back is not None and valve.back.cable not in cables:
        yield job.words("drawing.returns on", conductor=_colour(job, valve.back))


def _colour(job: Printable, mark: ConductorMark) -> Text:
    """`A-K1 red`"""
    return job.words.joined([mark.cable, job.words.colour(mark.word)], " ")


def _lands(job: Printable, valve: Valve, start: str) -> str:
    """The terminal or address, as the controller's strip or screen names it."""
    words = job.words
    if valve.decoder is not None:
        return f"{words('drawing.address')} {valve.decoder.address}"
    if valve.isolators:
        names = words.listed(valve.isolators)
        return words("drawing.shared", terminal=valve.terminal, controllers=names)
    return terminal(job, valve.terminal, "" if valve.controller == start else valve.controller)


def terminal(job: Printable, name: str, of: str = "") -> str:
    """`terminal 7`; of a controller that is not that of the drawing."""
    if of:
        return job.words("drawing.terminal of", terminal=name, controller=of)
    return f"{job.words('drawing.terminal')} {name}"


def _words(job: Printable, valve: Valve) -> Iterator[str]:
    words = job.words
    if valve.area:
        yield valve.area
    if valve.normally_open:
        yield words("terms.normally open")
    if valve.kind == "relay":
        yield words("drawing.starts the pump")
    if valve.others:
        others = [words("drawing.other", valve=twin.id, box=twin.box) for twin in valve.others]
        yield words("drawing.twin", others=words.listed(others))
    if valve.changes_colour and valve.hot_at_controller:
        yield words("drawing.at controller", conductor=_colour(job, valve.hot_at_controller))
    if valve.decoder is not None and valve.decoder.serial:
        yield words("drawing.serial", serial=valve.decoder.serial)
    if valve.device:
        yield words("terms.behind", device=valve.device)
