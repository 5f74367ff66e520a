"""Turn each controller into the legend for its door: what lands on which terminal, at this end."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby

from cardgen.asbuilt import BuiltController, BuiltValve, Role
from cardgen.asbuilt.model.built_controllers import Landed, Terminal
from cardgen.cards import beside_strip, cautions
from cardgen.cards.card import Card, CardKind, Cell, FieldValue, Noted, on_paper
from cardgen.cards.color_codes import own_codes_line
from cardgen.cards.expected import (
    BOUND,
    NOTHING,
    TO_FILL_IN,
    at_controller,
    by_place,
    known,
    volts_at_valve,
)
from cardgen.cards.printable import Printable
from cardgen.cards.tables import filled_table
from cardgen.cards.use_words import uses_in_words
from cardgen.cards.valve_tags import area_of
from cardgen.light_dataclass import dataclass, replace
from cardgen.words import Said, Text, Words, apart, printed

# In a door room is scarce: the station stands beside its terminal, then what is in one's hand; the
# notes go under the area where they do not fit behind it.
COLUMNS = ("terminal", "color at this end", "area", "box", "reads, Ω", "V at the valve", "mA")
WHOLE = 8  # letters of terminal and station that stay on one line
Row = tuple[Cell, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Position:
    """What is on one terminal, or at one address of a path; empty where there is nothing."""

    terminal: Said
    station: Said = ""
    area: Said = ""
    box: str = ""
    color: Cell = ""
    ohms: str = ""
    volts: str = ""
    milliamperes: str = ""
    notes: tuple[Said, ...] = ()


def legends(printable: Printable) -> Iterator[Card]:
    """One legend for each controller."""
    for controller in printable.asbuilt.controllers:
        yield Card(
            kind=CardKind.LEGEND,
            id=controller.id,
            at=controller.id,
            controllers=(controller.id,),
            span=printable.spans.controllers[controller.id],
            fields=on_paper(_fields(printable, controller)),
        )


def _fields(printable: Printable, controller: BuiltController) -> dict[str, FieldValue]:
    supply = printable.supply(controller.id)
    small = replace(printable, words=printable.words.brief)
    fields: dict[str, FieldValue] = {
        "title": printable.words("terms.controller", controller=controller.id),
        "subtitle": apart((printable.asbuilt.site, printable.place_of(controller.id), supply)),
        **_as_long_as_the_words(printable, controller),
        **{f"{name}_short": v for name, v in _as_long_as_the_words(small, controller).items()},
        "boxes": tuple(beside_strip.boxes(printable, controller)),
        "spares": (),
        "blanks": (printable.words("blanks.call"),),
        "before": printable.words(f"cautions.{cautions.BEFORE}"),
        **printable.code_of(controller.id),
        "stamp": printable.stamp,
        **printable.warning,
    }
    codes = own_codes_line(printable)
    if codes:
        fields["codes"] = codes
    spares = tuple(_spares(printable, controller))
    if spares:
        columns = ("spare", "conductor", "last box", "for")
        fields["spares"] = filled_table(printable.words, columns, spares)
    return {name: value for name, value in fields.items() if value}


def _as_long_as_the_words(
    printable: Printable, controller: BuiltController
) -> dict[str, FieldValue]:
    """The strip and all sentences; where they are short nothing takes a line that can be spared."""
    words, strip = printable.words, _positions(printable, controller)
    brackets = beside_strip.brackets(printable, controller)
    readings = tuple(beside_strip.readings(printable, controller))
    if words.is_short:
        strip = _empty_together(words, strip)
        readings = (brackets, *readings) if isinstance(brackets, Text) else readings
        brackets = ""
    situation = cautions.at_controller(printable.asbuilt, controller)
    return {
        "brackets": brackets,
        "terminals": filled_table(words, COLUMNS, [_in_door(printable, at) for at in strip]),
        "readings": readings,
        "about": tuple(beside_strip.about(printable, controller)),
        "sensors": tuple(beside_strip.sensors(printable, controller)),
        "cautions": cautions.in_words(words, cautions.LEGEND, situation),
    }


def _empty_together(words: Words, strip: Iterable[Position]) -> Iterator[Position]:
    """Neighbors that say the same in one row, `7, 8, MV: empty`; a wire has a row of its own."""
    for _, same in groupby(strip, key=lambda at: at if at.color else replace(at, terminal="")):
        rows = tuple(same)
        yield replace(rows[0], terminal=words.joined(dict.fromkeys(at.terminal for at in rows)))


def _in_door(printable: Printable, at: Position) -> Row:
    named = apart((at.terminal, "" if at.station == NOTHING else at.station))
    if len(named) <= WHOLE:
        named = named.replace(" ", BOUND)
    return named, at.color, _noted(printable.words, at), at.box, at.ohms, at.volts, at.milliamperes


def _noted(words: Words, at: Position) -> Said:
    whole = words.joined((at.area, *at.notes), "; ")
    if not at.area or not at.notes:
        return whole
    return Noted(printed(whole), printed(at.area), printed(words.joined(at.notes, "; ")))


def _spares(printable: Printable, controller: BuiltController) -> Iterator[Row]:
    """Every free stretch that starts at this controller, by its name if the job gives it one."""
    for spare in printable.asbuilt.spares:
        if spare.first == controller.id and not spare.dead:
            name = spare.id if spare.listed else NOTHING
            yield name, spare.mark, spare.last, spare.reserved_for


# ---- terminal by terminal ------------------------------------------------------------------


def _positions(printable: Printable, controller: BuiltController) -> Iterator[Position]:
    """In their physical order, each wire once."""
    for number, terminal in controller.numbered:
        match terminal.use:
            case "path":
                path = Position(terminal=printable.words(f"legend.{terminal.name}"))
                yield from _wires(
                    printable, terminal, replace(path, station=printable.words("legend.path"))
                )
            case "address":
                yield _at_address(printable, terminal)
            case "common" if number > 1 and not terminal.wires:
                yield Position(terminal=terminal.name, area=printable.words("legend.same"))
            case "common":
                yield from _commons(printable, terminal)
            case "station":
                yield from _station(printable, terminal)
            case _:
                yield from _without_station(printable, terminal)


def _wires(printable: Printable, terminal: Terminal, row: Position) -> Iterator[Position]:
    for wire in terminal.wires:
        yield replace(
            row, color=wire.mark, notes=(*row.notes, *_by_pigtail(printable, terminal, wire))
        )


def _without_station(printable: Printable, terminal: Terminal) -> Iterator[Position]:
    """Of a sensor, or empty; a wire on an empty one is told, for nothing says what it is for."""
    name = " ".join(terminal.owners)
    state = "sensor" if name else "no use" if terminal.wires else "empty"
    row = Position(
        terminal=terminal.name,
        station=name or NOTHING,
        area=printable.words(f"legend.{state}"),
        notes=tuple(_jumper_notes(printable, terminal)),
    )
    yield from _wires(printable, terminal, row) if terminal.wires else (row,)


def _station(printable: Printable, terminal: Terminal) -> Iterator[Position]:
    """What hangs on it and the wire of its hot, then what else is on it."""
    words, owners = printable.words, printable.asbuilt.valves_on(terminal).values()
    coils = [valve for valves in owners for valve in valves]
    first, station = coils[0], " + ".join(terminal.owners)
    isolated = bool(first.isolators)
    marks = [wire.mark for wire in terminal.wires]
    hot = first.hot_at_controller if first.hot_at_controller in marks or not marks else marks[0]
    hots = [wire for wire in terminal.wires if wire.mark == hot]
    unknown = TO_FILL_IN if first.hot_unknown else NOTHING
    yield Position(
        terminal=terminal.name,
        station=station,
        area=words.joined((area_of(words, valves[0]) for valves in owners), "; "),
        box=" ".join(dict.fromkeys(valve.box for valve in coils)),
        color=words("legend.to the isolator") if isolated else hot or unknown,
        ohms=NOTHING if isolated else _ohms_in_cell(coils),
        volts=_in_cell(map(volts_at_valve, coils)),
        milliamperes=_in_cell(_current(printable, coil) for coil in coils),
        notes=(
            *_jumper_notes(printable, terminal),
            *_tied_notes(printable, terminal),
            *(note for valves in owners for note in _notes(printable, valves)),
            *(note for wire in hots for note in _by_pigtail(printable, terminal, wire)),
        ),
    )
    for wire in terminal.wires:
        if wire.mark != hot:
            also = words.joined(uses_in_words(words, wire.uses), " + ")
            also = words.joined((also, *_by_pigtail(printable, terminal, wire)), "; ")
            yield Position(terminal=terminal.name, station=station, area=also, color=wire.mark)


def _ohms_in_cell(coils: Sequence[BuiltValve]) -> str:
    """With room to write where they must be measured."""
    if any(valve.lacks_ohms for valve in coils):
        return TO_FILL_IN
    return _in_cell(map(at_controller, coils)).replace(BOUND, " ")


def _current(printable: Printable, valve: BuiltValve) -> str:
    """In its own hot, where one sentence says for all what C has more."""
    more = printable.asbuilt.more_at_c.get(valve.controller)
    if more and valve.beside and valve.has_two_currents:
        return str(valve.in_hot)
    return by_place(valve)


def _in_cell(readings: Iterable[str]) -> str:
    return "; ".join(known(readings)) or NOTHING


def _notes(printable: Printable, valves: Sequence[BuiltValve]) -> Iterator[Said]:
    words, valve = printable.words, valves[0]
    if len(valves) > 1:
        names = words.list_of(twin.id for twin in valves)
        yield words("legend.valves", number=len(valves), valves=names)
    if valve.normally_open:
        yield words("terms.normally open")
    if valve.kind == "relay":
        yield words("legend.relay only")
    if valve.return_on_strip:
        yield words("legend.own return", conductor=printable.named(valve.return_on_strip))
    if valve.hot_changes and valve.hot:
        yield words("legend.at the valve", conductor=printable.named(valve.hot))
    if valve.device:
        yield words("terms.no ohms", device=valve.device)
    yield from valve.notes


def _jumper_notes(printable: Printable, terminal: Terminal) -> Iterator[Text]:
    if terminal.linked:
        yield printable.words("legend.linked", terminals=printable.words.list_of(terminal.linked))


def _tied_notes(printable: Printable, terminal: Terminal) -> Iterator[Text]:
    """Whatever else is live with it, because the terminals are tied."""
    hots = [use.of for wire in terminal.wires for use in wire.uses if use.role is Role.HOT]
    others = [name for name in dict.fromkeys(hots) if name not in terminal.owners]
    if others:
        yield printable.words("legend.tied", stations=printable.words.list_of(others))


def _commons(printable: Printable, terminal: Terminal) -> Iterator[Position]:
    words = printable.words
    marks = [wire.mark for wire in terminal.wires]
    for wire in sorted(terminal.wires, key=lambda wire: not _is_common(wire)):
        twice = marks.count(wire.mark) > 1  # the conductor goes on both ways
        way = words("splice card.toward", place=wire.toward) if twice else ""
        notes = [note for note in (way, *_together(printable, terminal, wire)) if note]
        served = _on_common(printable, wire)
        yield Position(terminal=terminal.name, area=served, color=wire.mark, notes=tuple(notes))
    if not terminal.wires:
        yield Position(terminal=terminal.name, area=words("legend.empty"))


def _together(printable: Printable, terminal: Terminal, wire: Landed) -> Iterator[Text]:
    """How a wire comes to C: by the pigtail that the job says, else by one that is assumed."""
    yield from _by_pigtail(printable, terminal, wire)
    if terminal.takes_pigtail:
        yield printable.words("legend.pigtail", number=terminal.on_it)


def _by_pigtail(printable: Printable, terminal: Terminal, wire: Landed) -> Iterator[Text]:
    """`2 in one connector, by pigtail PT-1`."""
    if wire.by:
        pigtails, number = printable.words.list_of(wire.by), terminal.beside(wire)
        key = "legend.by pigtail" if number > 1 else "legend.by pigtail alone"
        yield printable.words(key, number=number, pigtails=pigtails)


def _on_common(printable: Printable, wire: Landed) -> Text:
    """`common for A1 to A4`, `return MV-1`; a ring has no stations of its own."""
    words = printable.words
    if not _is_common(wire):
        return words.joined(uses_in_words(words, wire.uses), " + ")
    if wire.ring:
        return words("legend.ring")
    served = words.list_of(wire.serves)
    return words("legend.for", stations=served) if served else words("legend.common")


def _is_common(wire: Landed) -> bool:
    return any(use.role is Role.COMMON for use in wire.uses)


def _at_address(printable: Printable, terminal: Terminal) -> Position:
    (owner,) = terminal.owners
    valve = printable.asbuilt.stations[owner][0]
    serial = valve.decoder.serial if valve.decoder else ""
    return Position(
        terminal=printable.words("legend.address", address=terminal.name),
        station=owner,
        area=area_of(printable.words, valve),
        box=valve.box,
        notes=(printable.words("legend.serial", serial=serial),) if serial else (),
    )
