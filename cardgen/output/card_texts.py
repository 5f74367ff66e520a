"""Turn a job into what each of its cards says in words, and whose it is: what prints compare.

```
job as built -> cards -> Said: at VB-3, of A7, of controller A; "hot": "A-K1 red RD, 18 AWG", ...
```
Always in the usual language, without stock, layout and stamp: those change no fact.  What was
printed once is said anew from the job as it was built then.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from cardgen.asbuilt import AsBuilt, nowhere
from cardgen.asbuilt.model import ConductorMark
from cardgen.cards import Card, CardKind, Printable, cards_of
from cardgen.cards.model import Code, Splice, Table, Wire
from cardgen.drawing import HomeRun, home_runs, outline
from cardgen.drawing.model import CableRun
from cardgen.memory.prints import PrintLog
from cardgen.words import english

DRAWING = "wiring drawing"
BEHIND = "drawing behind it"  # of a legend
CELL = "; "  # between the cells of a row
Words = str | tuple[str, ...]
Cards = Mapping[CardKind, Sequence[Card]]
BY_CONTROLLER = (CardKind.LEGEND, CardKind.TEST_SHEET)


@dataclass(frozen=True, slots=True, kw_only=True)
class CardText:
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


def all_said(printable: Printable, cards: Cards, homes: Sequence[HomeRun]) -> dict[str, CardText]:
    """By kind and id, in the order of the cards; then the home runs."""
    whose = _Whose(printable, homes)
    found = [whose.card(card) for group in cards.values() for card in group]
    found += [whose.home(home) for home in homes]
    return {said.key: said for said in found}


def said_once(asbuilt: AsBuilt) -> dict[str, CardText]:
    """The same of a job as it was built once."""
    printable = Printable(asbuilt=asbuilt, spans=nowhere(), words=english())
    return all_said(printable, cards_of(printable), home_runs(printable))


def standing(log: PrintLog, revision: int) -> dict[str, CardText]:
    """What hangs when that revision has been printed: each card as it was last before."""
    made: dict[int, dict[str, CardText]] = {}
    found: dict[str, CardText] = {}
    for key, printed in log.hanging(revision).items():
        number = id(printed)
        if number not in made:
            made[number] = said_once(printed.asbuilt)
        if key in made[number]:
            found[key] = made[number][key]
    return found


def contradicted(log: PrintLog, asbuilt: AsBuilt, now: Mapping[str, CardText]) -> list[str]:
    """Cards of which this very revision said something else; `now` is what it says today."""
    printed = log.revisions.get(asbuilt.revision)
    if printed is None:
        return []
    then = now if printed.asbuilt == asbuilt else said_once(printed.asbuilt)
    changed = [
        key
        for key, said in then.items()
        if key in printed.cards and (key not in now or now[key].words != said.words)
    ]
    new = [
        key for key in now if key in printed.gone or (printed.whole and key not in printed.cards)
    ]
    return [*changed, *new]


class _Whose:
    """Which names and controllers each card belongs to."""

    def __init__(self, printable: Printable, homes: Sequence[HomeRun]) -> None:
        self.printable, self.homes = printable, homes
        self.start = {home.run.cable: _start(printable, home) for home in homes}
        self.of_cable = {
            cable: self.start[home.run.cable] for home in homes for cable in _cables(home.run)
        }
        self.spare = {spare.id: spare.mark.cable for spare in printable.asbuilt.spares}

    def card(self, card: Card) -> CardText:
        return CardText(
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

    def home(self, home: HomeRun) -> CardText:
        start = self.start[home.run.cable]
        controllers = (start,) if start in self.printable.asbuilt.controller else ()
        words: Mapping[str, Words] = {"drawing": _lines(home)}
        return CardText(kind=DRAWING, id=home.run.cable, controllers=controllers, words=words)

    def _names(self, card: Card) -> tuple[str, ...]:
        stations = self.printable.asbuilt.stations
        of_all = card.kind is CardKind.FLAG  # the hot of a twin serves both valves
        owners = [name for name in (card.owner, *card.others) if name in stations]
        valves = (valve for name in owners for valve in stations[name])
        names = (valve.id for valve in valves if of_all or valve.id == card.id)
        return tuple(dict.fromkeys((*owners, *names)))

    def _controllers(self, card: Card) -> tuple[str, ...]:
        """Those of its owner; of a box all that have a valve or a cable in it."""
        if card.kind in BY_CONTROLLER:
            return (card.id,)
        found = [name for owner in (card.owner, *card.others) for name in self._of_owner(owner)]
        if card.at and not card.owner:
            box = self.printable.asbuilt.box.get(card.at)
            for valve in box.valves if box else ():
                found += self._of_owner(valve.station)
            cables = self.printable.asbuilt.cables
            found += [self.of_cable[cable.id] for cable in cables if card.at in cable.places]
        return tuple(name for name in self.printable.asbuilt.controller if name in found)

    def _of_owner(self, owner: str) -> Iterator[str]:
        for valve in self.printable.asbuilt.stations.get(owner, ())[:1]:
            yield from valve.isolators or (valve.controller,)
        for controller in self.printable.asbuilt.controller:
            if owner in (f"COM-{controller}", f"PATH-{controller}1", f"PATH-{controller}2"):
                yield controller
        for sensor in self.printable.asbuilt.sensors:
            if sensor.id == owner:
                yield from sensor.controllers
        for known in self.printable.asbuilt.controllers:  # `A 7`, a terminal on which nothing hangs
            if owner in (f"{known.id} {terminal.name}" for terminal in known.terminals):
                yield known.id
        if owner in self.spare:
            yield self.of_cable[self.spare[owner]]


def _start(printable: Printable, home: HomeRun) -> str:
    return printable.asbuilt.cable[home.run.cable].run[0].at


def _lines(home: HomeRun) -> tuple[str, ...]:
    return tuple(outline(home).splitlines())


def _cables(run: CableRun) -> Iterator[str]:
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
