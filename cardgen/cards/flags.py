"""Turn each stretch of each conductor into wire flags, one for each of its two ends."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence

from cardgen.asbuilt import AsBuilt, ConductorMark, Role, Use
from cardgen.asbuilt.model.built_conductors import BuiltConductor, BuiltStretch
from cardgen.asbuilt.model.named_metal import flag_name
from cardgen.cards.card import Card, CardKind, FieldValue, on_paper
from cardgen.cards.printable import Printable
from cardgen.light_dataclass import dataclass, replace
from cardgen.problems import Span
from cardgen.words import Said, Words

ORDER = tuple(Role)  # after hots and returns, owner by owner
OWNED = (Role.HOT, Role.RETURN)


@dataclass(frozen=True, slots=True, kw_only=True)
class FlagEnd:
    """One end of a stretch; `uses` in the order of the flags, `toward` the place beyond it."""

    conductor: BuiltConductor
    stretch: BuiltStretch
    uses: tuple[Use, ...]
    at: str

    @property
    def toward(self) -> str:
        places = self.stretch.places
        return places[1] if self.at == places[0] else places[-2]

    @property
    def id(self) -> str:
        return f"{' + '.join(map(_named, self.uses))} {self.conductor.name} at {self.at}"


def flags(printable: Printable) -> Iterator[Card]:
    """Flags for hots and returns by owner, then all else: commons, paths, sensors, spares, dead."""
    ranks = _Ranks(printable)
    ends = sorted(_ends(printable, ranks), key=lambda end: ranks.of(end.uses[0]))
    counts = Counter(end.id for end in ends)
    for end in ends:
        twice = counts[end.id] > 1  # one conductor, cut here, is the same on both sides
        fields = _fields(printable, end)
        yield Card(
            kind=CardKind.FLAG,
            id=f"{end.id} toward {end.toward}" if twice else end.id,
            at=end.at,
            owner=_owner(end.uses[0]),
            names=_names(printable, end.uses),
            controllers=printable.asbuilt.controllers_of(end.uses, end.conductor.mark.cable),
            series=_series(fields),
            span=_place(printable, end),
            fields=on_paper(fields),
        )


class _Ranks:
    """In what order uses are told."""

    def __init__(self, printable: Printable) -> None:
        names = (*printable.asbuilt.stations, *printable.asbuilt.controller)
        self._rank = {name: rank for rank, name in enumerate(names)}

    def of(self, use: Use) -> tuple[int, int, int, str]:
        role, rank = ORDER.index(use.role), self._rank.get(use.of, 0)
        return (0, rank, role, "") if use.role in OWNED else (1, role, rank, use.side)


def _ends(printable: Printable, ranks: _Ranks) -> Iterator[FlagEnd]:
    for conductor, stretch in _flagged(printable.asbuilt):
        uses = tuple(sorted(stretch.uses, key=ranks.of))
        for at in _flagged_at(stretch):
            yield FlagEnd(conductor=conductor, stretch=stretch, uses=uses, at=at)


def _flagged(asbuilt: AsBuilt) -> Iterator[tuple[BuiltConductor, BuiltStretch]]:
    """What has a flag at either end; of what may be a hot it is made when somebody knows that."""
    for conductor in asbuilt.conductors:
        for stretch in conductor.stretches:
            if not any(use.role is Role.MAYBE_HOT for use in stretch.uses):
                yield conductor, stretch


def flag_count(asbuilt: AsBuilt) -> int:
    """How many `flags` are."""
    return sum(1 for _, stretch in _flagged(asbuilt) for _ in _flagged_at(stretch))


def _flagged_at(stretch: BuiltStretch) -> Iterator[str]:
    """Its ends, but not one where nobody knows whether it is cut."""
    return (at for at in _outward(stretch) if at not in stretch.open_at)


def _outward(stretch: BuiltStretch) -> tuple[str, str]:
    """From where to where it leads, seen from the controller."""
    one, two = stretch.first, stretch.last
    return (two, one) if stretch.fed_from_last else (one, two)


def _fields(printable: Printable, end: FlagEnd) -> dict[str, FieldValue]:
    stretch, mark = end.stretch, end.conductor.mark
    fields: dict[str, FieldValue] = {
        "headline": headline(printable.words, end.uses),
        "conductor": _shown(mark, end),
        "stamp": printable.stamp,
    }
    places = (stretch.fed_at, end.at) if stretch.fed_at else _outward(stretch)
    unknown = printable.words("terms.not known")
    shown = [unknown if at in stretch.open_at else _in_route(printable, at) for at in places]
    way = printable.words.joined(shown, " → ")
    onward = stretch.onward_first if end.at == stretch.first else stretch.onward_last
    other = next((each for each in onward if each.look != mark.look), None)
    if other is None:
        return fields | {"from_to": way}
    both = {"conductor": _shown(mark, end), "conductor_2": _shown(other, end)}
    if len(printable.words.catalogues) > 1:  # two colors in two languages take the room of what
        # the splice card of the box says, too
        both = {name: replace(shown, code="", band="") for name, shown in both.items()}
    return fields | both | {"way": way}


def _series(fields: Mapping[str, FieldValue]) -> str:
    """A long name, and a second conductor, have letters of their own."""
    is_long = len(str(fields["headline"])) > len("COM-A")
    parts = ("change" if "conductor_2" in fields else "", "long name" if is_long else "")
    return " ".join(filter(None, parts))


def _in_route(printable: Printable, place: str) -> Said:
    """`contr. A` and `VB-1`: a controller is told apart from boxes."""
    if place in printable.asbuilt.controller:
        return printable.words("terms.controller in a route", controller=place)
    return place


def _shown(mark: ConductorMark, end: FlagEnd) -> ConductorMark:
    """What is on its own flag is not said again where it is the head of this one."""
    is_head = mark.flag in map(flag_name, end.uses)
    return replace(mark, flag="") if is_head else mark


def headline(words: Words, uses: Sequence[Use]) -> str | tuple[str, ...]:
    """`A7`, `A7-RTN`, `COM-A`, `SP-1`; of terminals tied on purpose all: `A1 + A2`.

    What is dead is nothing else; each language says it on a line of its own: a flag is narrow.
    """
    if uses[0].role is not Role.DEAD:
        return " + ".join(map(flag_name, uses))
    dead = words("roles.dead flag")
    return dead.lines if len(dead.lines) > 1 else dead.printed


def _named(use: Use) -> str:
    """In the name of its card, which is the same in all languages."""
    match use.role:
        case Role.RETURN:
            return f"{use.of} return"
        case Role.SPARE | Role.DEAD:
            return str(use.role)
    return flag_name(use)


def _owner(use: Use) -> str:
    return use.of if use.role is Role.RETURN else flag_name(use)


def _names(printable: Printable, uses: Iterable[Use]) -> tuple[str, ...]:
    """The stations of hots and returns, and their valves: the hot of a twin serves both."""
    stations = {use.of: printable.asbuilt.stations[use.of] for use in uses if use.role in OWNED}
    valves = (valve.id for found in stations.values() for valve in found)
    return tuple(dict.fromkeys((*stations, *valves)))


def _place(printable: Printable, end: FlagEnd) -> Span:
    """Where the job says what it is; of all but hots, returns and sensors its cable."""
    use, spans = end.uses[0], printable.spans
    if use.role in OWNED:
        return spans.valves[printable.asbuilt.stations[use.of][0].id]
    return spans.sensors.get(use.of) or spans.cables[end.conductor.mark.cable]
