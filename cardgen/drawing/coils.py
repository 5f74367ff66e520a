"""Say of one coil what the drawing shows: its hot, where that lands, what it is, its own return."""

from __future__ import annotations

from collections.abc import Container, Iterator

from cardgen.cards import Printable
from cardgen.cards.facts import mark
from cardgen.cards.valve_tags import area_of
from cardgen.checks.facts import listed
from cardgen.drawing.model import Line, LineKind
from cardgen.job.model import MasterValve, Relay, Station
from cardgen.wiring.model import Circuit, Load, LoadKind


def lines_of(job: Printable, load: Load, start: str, cables: Container[str]) -> Iterator[Line]:
    """The line of the coil and, where it has a way back of its own, that of its return.

    `start` is the controller of the drawing, which need not be named again; `cables` are those
    in the drawing: a return on another cable is told.
    """
    circuit = job.circuits.get(load.id)
    yield Line(
        place=load.place,
        kind=LineKind.VALVE,
        marks=(mark(circuit.hot_at_valve),) if circuit else (),
        source="" if circuit or load.decoder is None else f"decoder {load.decoder.id}",
        lands=_lands(load, start),
        name=f"{_what(load)} {load.id}",
        text=" · ".join((*_words(job, load), *_return_elsewhere(circuit, cables))),
    )
    if circuit is not None and load.back is not None:
        isolated = load.back_end.of != load.controller
        yield Line(
            place=load.place,
            kind=LineKind.RETURN,
            marks=(mark(circuit.back_at_valve),),
            lands="isolators" if isolated else "terminal C",
            name=f"return of {load.id}",
        )


def _return_elsewhere(circuit: Circuit | None, cables: Container[str]) -> Iterator[str]:
    if circuit is not None and circuit.back_at_valve.cable.id not in cables:
        back = mark(circuit.back_at_valve)
        yield f"returns on {back.cable} {back.word}"


def _what(load: Load) -> str:
    return {LoadKind.VALVE: "valve", LoadKind.MASTER_VALVE: "master valve"}.get(load.kind, "relay")


def _lands(load: Load, start: str) -> str:
    """The terminal or address, as the controller's strip or screen names it."""
    if load.decoder is not None:
        return f"address {load.decoder.address.value}"
    if isinstance(load.owner, MasterValve) and load.hot_end.of != load.controller:
        names = [said.value for said in load.owner.controllers]
        return f"{load.terminal} of {listed(names)}, isolators"
    other = "" if load.controller == start else f" of {load.controller}"
    return f"terminal {load.terminal}{other}"


def _words(job: Printable, load: Load) -> Iterator[str]:
    owner = load.owner
    if isinstance(owner, Station):
        yield area_of(job, load)
    if isinstance(owner, MasterValve) and owner.normally_open:
        yield "normally open: power closes"
    if isinstance(owner, Relay):
        yield "starts the pump"
    twins = job.owners[owner.id]
    if len(twins) > 1:
        others = [f"{twin.id} in {twin.box}" for twin in twins if twin is not load]
        yield f"twin, with {listed(others)}"
    circuit = job.circuits.get(load.id)
    if circuit and circuit.hot_at_controller.insulation != circuit.hot_at_valve.insulation:
        first = mark(circuit.hot_at_controller)
        yield f"at controller {first.cable} {first.word}"
    if load.decoder is not None and load.decoder.serial:
        yield f"serial {load.decoder.serial}"
    if isinstance(owner, Station) and owner.device:
        yield f"behind a {owner.device.value}"
