"""Turn a job into what each of its cards says in words, and whose it is: what prints compare.

```
card -> Said: at VB-3, of A7, of controller A; "hot": "A-K1 red RD, 18 AWG", ...
```
Always in the usual language, without stock, layout and stamp: those change no fact.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import asdict, dataclass
from typing import Any

from cardgen.asbuilt.model import ConductorMark
from cardgen.cards import Card, CardKind, Printable
from cardgen.cards.model import Code, Splice, Table, Wire
from cardgen.drawing import HomeRun, outline
from cardgen.drawing.model import Run
from cardgen.job.model import MasterValve

DRAWING = "wiring drawing"
BEHIND = "drawing behind it"  # of a legend
CELL = "; "  # between the cells of a row
Words = str | tuple[str, ...]
Cards = Mapping[CardKind, Sequence[Card]]
BY_CONTROLLER = (CardKind.LEGEND, CardKind.TEST_SHEET)


@dataclass(frozen=True, slots=True, kw_only=True)
class Said:
    """What one card says, or the drawing of one home run.

    Attributes:
        kind: of the card; DRAWING for a home run, whose id is its cable.
        at, owner: as of the card.
        names: what a person asks for it by: the station and, of a twin, the valve.
        controllers: whose it is.
        words: by field; a field of several lines or rows has them one by one.
    """

    kind: str
    id: str
    at: str = ""
    owner: str = ""
    names: tuple[str, ...] = ()
    controllers: tuple[str, ...] = ()
    words: Mapping[str, Words]

    @property
    def key(self) -> str:
        return f"{self.kind} {self.id}"

    @property
    def digest(self) -> str:
        """The same as long as the card says the same."""
        text = json.dumps(asdict(self), sort_keys=True, ensure_ascii=False)
        return hashlib.sha256(text.encode()).hexdigest()[:16]


def all_said(job: Printable, cards: Cards, homes: Sequence[HomeRun]) -> dict[str, Said]:
    """By kind and id, in the order of the cards; then the home runs."""
    whose = _Whose(job, homes)
    found = [whose.card(card) for group in cards.values() for card in group]
    found += [whose.home(home) for home in homes]
    return {said.key: said for said in found}


class _Whose:
    """Which names and controllers each card belongs to."""

    def __init__(self, job: Printable, homes: Sequence[HomeRun]) -> None:
        self.job, self.homes = job, homes
        self.start = {home.run.cable: _start(job, home) for home in homes}
        self.of_cable = {
            cable: self.start[home.run.cable] for home in homes for cable in _cables(home.run)
        }
        self.spare = {spare.id: spare.mark.cable for spare in job.asbuilt.spares}

    def card(self, card: Card) -> Said:
        return Said(
            kind=str(card.kind),
            id=card.id,
            at=card.at,
            owner=card.owner,
            names=self._names(card),
            controllers=self._controllers(card),
            words=self._words(card),
        )

    def _words(self, card: Card) -> dict[str, Words]:
        """Of a legend also the drawing that is printed behind it."""
        words = {name: _words(value) for name, value in card.fields.items() if name != "stamp"}
        if card.kind is CardKind.LEGEND:
            behind = [home for home in self.homes if self.start[home.run.cable] == card.id]
            words[BEHIND] = tuple(line for home in behind for line in _lines(home))
        return words

    def home(self, home: HomeRun) -> Said:
        start = self.start[home.run.cable]
        controllers = (start,) if start in self.job.job.controllers else ()
        words: Mapping[str, Words] = {"drawing": _lines(home)}
        return Said(kind=DRAWING, id=home.run.cable, controllers=controllers, words=words)

    def _names(self, card: Card) -> tuple[str, ...]:
        loads = self.job.owners.get(card.owner, ())
        of_all = card.kind is CardKind.FLAG  # the hot of a twin serves both valves
        valves = (load.id for load in loads if of_all or load.id == card.id)
        return tuple(dict.fromkeys((card.owner, *valves))) if loads else ()

    def _controllers(self, card: Card) -> tuple[str, ...]:
        """Those of its owner; of a box all that have a valve or a cable in it."""
        if card.kind in BY_CONTROLLER:
            return (card.id,)
        found = list(self._of_owner(card.owner))
        if card.at and not card.owner:
            loads = self.job.facts.loads_in.get(card.at, ())
            found += [name for load in loads for name in self._of_owner(load.owner.id)]
            cables = self.job.job.cables.values()
            found += [self.of_cable[c.id] for c in cables if card.at in (s.at for s in c.run)]
        return tuple(name for name in self.job.job.controllers if name in found)

    def _of_owner(self, owner: str) -> Iterator[str]:
        for load in self.job.owners.get(owner, ())[:1]:
            if isinstance(load.owner, MasterValve):
                yield from (said.value for said in load.owner.controllers)
            else:
                yield load.controller
        for controller in self.job.job.controllers:
            if owner in (f"COM-{controller}", f"PATH-{controller}1", f"PATH-{controller}2"):
                yield controller
        for sensor in self.job.asbuilt.sensors:
            if sensor.id == owner:
                yield from sensor.controllers
        for known in self.job.asbuilt.controllers:  # `A 7`, a terminal on which nothing hangs
            if owner in (f"{known.id} {terminal.name}" for terminal in known.terminals):
                yield known.id
        if owner in self.spare:
            yield self.of_cable[self.spare[owner]]


def _start(job: Printable, home: HomeRun) -> str:
    return job.job.cables[home.run.cable].run[0].at


def _lines(home: HomeRun) -> tuple[str, ...]:
    return tuple(outline(home).splitlines())


def _cables(run: Run) -> Iterator[str]:
    yield run.cable
    for stop in run.stops:
        for branch in stop.branches:
            yield from _cables(branch)


# ---- values as words -----------------------------------------------------------------------


def _words(value: Any) -> Words:
    """All of a field; nothing that tells two values apart is left out."""
    match value:
        case str() | ConductorMark() | Code():
            return _line(value)
        case Table():
            return tuple(_row(value.columns, row) for row in value.rows)
        case _:
            return tuple(_line(each) for each in value)


def _row(columns: Sequence[str], row: Sequence[Any]) -> str:
    """`terminal 3; area front lawn`; cells without anything are left out."""
    cells = ((name, _line(cell)) for name, cell in zip(columns, row, strict=True))
    return CELL.join(f"{name} {cell}" for name, cell in cells if cell)


def _line(value: Any) -> str:
    match value:
        case str():
            return str(value)
        case ConductorMark():
            name = f"{value.cable} {value.word}"
            parts = (name, value.code, value.flag, value.band, value.gauge)
            return ", ".join(part for part in parts if part)
        case Code():
            return value.address
        case Wire():
            mark = _line(value.mark) if value.mark else ""
            return " ".join(part for part in (value.name, mark, value.about) if part)
        case Splice():
            sides = (value.arriving, value.leads, value.leaving)
            wires = " | ".join(", ".join(_line(wire) for wire in side) for side in sides)
            return f"{value.title} ({value.about}): {wires}"
        case _:
            raise AssertionError(f"a card holds a {type(value).__name__}")
