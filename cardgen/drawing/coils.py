"""Say of one coil what the drawing shows: its hot, where that lands, what it is, its own return."""

from __future__ import annotations

from collections.abc import Container, Iterator

from cardgen.cards import Printable
from cardgen.cards.printable import mark
from cardgen.drawing.model import Line, LineKind
from cardgen.job.model import MasterValve, Relay, Station
from cardgen.wiring.model import COMMON_TERMINAL, Circuit, Conductor, Load, LoadKind
from cardgen.words import Text


def lines_of(job: Printable, load: Load, start: str, cables: Container[str]) -> Iterator[Line]:
    """The line of the coil and, where it has a way back of its own, that of its return.

    `start` is the controller of the drawing, which need not be named again; `cables` are those
    in the drawing: a return on another cable is told.
    """
    circuit, words = job.circuits.get(load.id), job.words
    decoder = "" if circuit or load.decoder is None else load.decoder.id
    yield Line(
        place=load.place,
        kind=LineKind.VALVE,
        marks=(mark(circuit.hot_at_valve),) if circuit else (),
        source=f"{words('drawing.decoder')} {decoder}" if decoder else "",
        lands=_lands(job, load, start),
        name=f"{words(f'drawing.{_what(load)}')} {load.id}",
        text=" · ".join((*_words(job, load), *_return_elsewhere(job, circuit, cables))),
        what=_what(load),
    )
    if circuit is not None and load.back is not None:
        isolated = load.back_end.of != load.controller
        yield Line(
            place=load.place,
            kind=LineKind.RETURN,
            marks=(mark(circuit.back_at_valve),),
            lands=words("drawing.isolators") if isolated else terminal(job, COMMON_TERMINAL),
            name=words("drawing.return", valve=load.id),
        )


def _return_elsewhere(
    job: Printable, circuit: Circuit | None, cables: Container[str]
) -> Iterator[str]:
    if circuit is not None and circuit.back_at_valve.cable.id not in cables:
        yield job.words("drawing.returns on", conductor=_colour(job, circuit.back_at_valve))


def _what(load: Load) -> str:
    return {LoadKind.VALVE: "valve", LoadKind.MASTER_VALVE: "master valve"}.get(load.kind, "relay")


def _colour(job: Printable, conductor: Conductor) -> Text:
    """`A-K1 red`"""
    colour = job.words.colour(conductor.insulation.word)
    return job.words.joined([conductor.cable.id, colour], " ")


def _lands(job: Printable, load: Load, start: str) -> str:
    """The terminal or address, as the controller's strip or screen names it."""
    words = job.words
    if load.decoder is not None:
        return f"{words('drawing.address')} {load.decoder.address.value}"
    if isinstance(load.owner, MasterValve) and load.hot_end.of != load.controller:
        names = words.listed(said.value for said in load.owner.controllers)
        return words("drawing.shared", terminal=load.terminal, controllers=names)
    return terminal(job, load.terminal, "" if load.controller == start else load.controller)


def terminal(job: Printable, name: str, of: str = "") -> str:
    """`terminal 7`; of a controller that is not that of the drawing."""
    if of:
        return job.words("drawing.terminal of", terminal=name, controller=of)
    return f"{job.words('drawing.terminal')} {name}"


def _words(job: Printable, load: Load) -> Iterator[str]:
    owner, words = load.owner, job.words
    if isinstance(owner, Station):
        yield owner.area.value
    if isinstance(owner, MasterValve) and owner.normally_open:
        yield words("terms.normally open")
    if isinstance(owner, Relay):
        yield words("drawing.starts the pump")
    twins = job.owners[owner.id]
    if len(twins) > 1:
        others = [
            words("drawing.other", valve=twin.id, box=twin.box)
            for twin in twins
            if twin is not load
        ]
        yield words("drawing.twin", others=words.listed(others))
    circuit = job.circuits.get(load.id)
    if circuit and circuit.hot_at_controller.insulation != circuit.hot_at_valve.insulation:
        yield words("drawing.at controller", conductor=_colour(job, circuit.hot_at_controller))
    if load.decoder is not None and load.decoder.serial:
        yield words("drawing.serial", serial=load.decoder.serial)
    if isinstance(owner, Station) and owner.device:
        yield words("terms.behind", device=owner.device.value)
