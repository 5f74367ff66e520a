"""The network of conductors, joints and coils, and the circuits traced through it."""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum
from functools import cached_property
from typing import NamedTuple

from cardgen.job.job_parts import Cable, Coil, Decoder, Job, MasterValve, Pigtail, Relay, Station
from cardgen.light_dataclass import dataclass
from cardgen.problems import Problem, Span
from cardgen.trade.colors import Insulation
from cardgen.trade.copper import Construction
from cardgen.units import Gauge, Length, Ohms, OhmsPerKilometer


class End(NamedTuple):
    """One end of something that conducts, in one place.

    `of` is a conductor's name, a valve, a controller, ...; `at` a box or controller; `side` tells
    the ends of one thing apart: `in` (toward the start of the run), `out`, a terminal, a lead.
    """

    of: str
    at: str
    side: str


IN, OUT = "in", "out"
COMMON_TERMINAL = "C"


@dataclass(frozen=True, kw_only=True)
class Conductor:
    """One conductor of a cable with the places it passes and the leg before each but the first.

    Attributes:
        legs: their lengths; None where one is not known.
        flag: text on its own flag; empty for conductors told apart by color.
        gauge: None where it is not known.
        resistance: at 20 C, where the job gives it instead of the tables.
        number: 0, or its count among like conductors without flags (1, 2, ...).
    """

    cable: Cable
    insulation: Insulation
    flag: str
    number: int
    gauge: Gauge | None
    places: tuple[str, ...]
    legs: tuple[Length | None, ...]
    construction: Construction = Construction.SOLID
    resistance: OhmsPerKilometer | None = None

    @cached_property
    def name(self) -> str:
        tail = f" {self.flag}" if self.flag else f" #{self.number}" if self.number else ""
        return f"{self.cable.id} {self.insulation.word}{tail}"

    def between(self, begins: str, ends: str) -> tuple[int, int]:
        """First and last index of the stretch between two places; "" is its own end."""
        one = self.places.index(begins) if begins in self.places else 0
        two = self.places.index(ends) if ends in self.places else len(self.places) - 1
        return min(one, two), max(one, two)

    def leg_of(self, end: End) -> int:
        """The index of the leg that one of its ends belongs to."""
        return self.places.index(end.at) - (end.side == IN)

    def ends_at(self, place: str) -> tuple[End, ...]:
        """Its ends in a place: one where it begins or stops, two where it passes."""
        return self.ends[self.places.index(place)]

    @cached_property
    def ends(self) -> tuple[tuple[End, ...], ...]:
        """Its ends place by place, the one toward the start of the run first."""
        name, last = self.name, len(self.places) - 1
        if last < 1:
            return ((),) * len(self.places)
        inner = [(End(name, at, IN), End(name, at, OUT)) for at in self.places[1:-1]]
        first, final = End(name, self.places[0], OUT), End(name, self.places[last], IN)
        return ((first,), *inner, (final,))


class Named(NamedTuple):
    """A conductor that the file names at `place`, and the indices after `from` and `to`."""

    conductor: Conductor
    span: Span
    begins: int | None = None
    ends: int | None = None


class Hop(NamedTuple):
    """A stretch along one conductor from index `start` of its places to index `end`."""

    conductor: Conductor
    start: int
    end: int

    @property
    def departure(self) -> End:
        return self.conductor.ends[self.start][-1 if self.end > self.start else 0]

    def arrival(self, index: int) -> End:
        return self.conductor.ends[index][0 if self.end > self.start else -1]

    @property
    def indices(self) -> range:
        """The places after the start, in the order of travel."""
        step = 1 if self.end > self.start else -1
        return range(self.start + step, self.end + step, step)


@dataclass(frozen=True, slots=True, kw_only=True)
class Route:
    """The way that the file says: conductor by conductor from `begin` outward.

    `fault` says where and why it does not get to all of its boxes; None if it does.
    """

    begin: End
    hops: tuple[Hop, ...]
    fault: Problem | None = None


class LoadKind(StrEnum):
    VALVE = "valve"
    MASTER_VALVE = "master valve"
    RELAY = "relay"


@dataclass(frozen=True, slots=True, kw_only=True)
class Load:
    """A coil with its two leads: one on the hot of its terminal, one on the way back.

    Attributes:
        owner: the entry of the job it comes from.
        terminal: name of the terminal on `controller`.
        back_end: where its way back lands: C of its controller, or an isolator's return.
        decoder: the decoder that drives it; then neither hot nor back leads to the controller.
        hot_lead, back_lead: for coils whose leads differ, which is meant for which.
        hot_unknown: the file says that its hot, or a part of it, is not known.
        known_out: of such a hot what is known from the terminal outward.
        known_in: what is known from the valve inward, from the lead of a valve to where it ends.
    """

    id: str
    span: Span
    kind: LoadKind
    owner: Station | MasterValve | Relay
    controller: str
    terminal: str
    box: str
    coil: Coil | None
    hot: Route | None
    back: Route | None
    hot_end: End
    back_end: End
    hot_lead: End
    back_lead: End
    decoder: Decoder | None = None
    hot_unknown: bool = False
    known_out: Route | None = None
    known_in: Route | None = None

    @property
    def known_parts(self) -> tuple[Route, ...]:
        return tuple(part for part in (self.known_out, self.known_in) if part)

    @property
    def coil_ohms(self) -> Ohms | None:
        """At 20 C; None where they are not known."""
        return self.coil.resistance if self.coil else None

    @property
    def runs_beside_stations(self) -> bool:
        """On whenever a station is, and fed by the same controller: master valve and pump relay.

        A normally open master valve is not: power closes it.
        """
        if self.kind is LoadKind.VALVE or self.hot_end.of != self.controller:
            return False
        return not (isinstance(self.owner, MasterValve) and self.owner.normally_open)


@dataclass(frozen=True, slots=True, kw_only=True)
class Joint:
    """Ends in one connector (or on one terminal).  `as_built`: written out in the job.

    `which` counts along the strip where a controller has several C and the job says which one
    holds it; else 0.  To the metal they are one.
    """

    at: str
    ends: tuple[End, ...]
    span: Span
    as_built: bool
    which: int = 0


class Leg(NamedTuple):
    """One conductor between two neighboring places, traveled from `start` to `end`.

    `number` says which leg of its conductor it is; `length` is None where it is not known.
    """

    conductor: Conductor
    start: str
    end: str
    length: Length | None
    number: int

    @property
    def turned(self) -> Leg:
        return Leg(self.conductor, self.end, self.start, self.length, self.number)


class ThroughContact(NamedTuple):
    """A sensor's contact in series."""

    sensor: str
    at: str


class ThroughPigtail(NamedTuple):
    """A short wire from one connector to another of the same place."""

    pigtail: Pigtail
    at: str


Step = Leg | ThroughContact | ThroughPigtail


@dataclass(frozen=True, slots=True, kw_only=True)
class Circuit:
    """One coil's way as traced: both from the controller to the coil.

    `ring`: some part of it is fed both ways, so the way shown is only the one of least ohms.
    `hot` is empty where the job says that it is not known; such a one is no way for a current.
    """

    load: Load
    hot: tuple[Step, ...]
    back: tuple[Step, ...]
    ring: bool

    @property
    def hot_at_controller(self) -> Conductor:
        return _legs(self.hot)[0].conductor

    @property
    def hot_at_valve(self) -> Conductor:
        return _legs(self.hot)[-1].conductor

    @property
    def back_at_controller(self) -> Conductor:
        return _legs(self.back)[0].conductor

    @property
    def back_at_valve(self) -> Conductor:
        return _legs(self.back)[-1].conductor


def _legs(steps: tuple[Step, ...]) -> tuple[Leg, ...]:
    return tuple(step for step in steps if isinstance(step, Leg))


@dataclass(frozen=True, slots=True, kw_only=True)
class Landing:
    """A conductor of a common (or of one side of a path) between two indices of its places.

    `source` is the place said after `from`, where the others feed it, and `target` the one after
    `to`; empty where they are not said.
    """

    conductor: Conductor
    begins: int
    ends: int
    span: Span
    source: str = ""
    target: str = ""

    @property
    def key(self) -> tuple[str, int]:
        """One conductor may be given to a common twice, on two stretches."""
        return self.conductor.name, self.begins

    @property
    def places(self) -> tuple[str, ...]:
        """The places of the stretch."""
        return self.conductor.places[self.begins : self.ends + 1]

    def ends_at(self, place: str) -> tuple[End, ...]:
        """The ends in a place that lead along the stretch, not beyond it."""
        if place not in self.places:
            return ()
        index = self.conductor.places.index(place)
        toward = {IN: index > self.begins, OUT: index < self.ends}
        return tuple(end for end in self.conductor.ends_at(place) if toward[end.side])


@dataclass(frozen=True, slots=True, kw_only=True)
class Wiring:
    """Everything that the job says about conductors, resolved; joints usual or as built.

    `reported` holds ids (of cables, loads, places) about which something has been reported;
    `by_words` gives the conductor's name for what a person wrote; `asked` holds the controllers
    whose common could be made up in more than one way, which the file is to say; `spares` gives
    those of several conductors, as far as each follows the one before; `open_ends` are those at
    which the file says that nobody knows how a hot goes on.
    """

    job: Job
    conductors: Mapping[str, Conductor]
    loads: Mapping[str, Load]
    commons: Mapping[str, tuple[Landing, ...]]
    paths: Mapping[str, tuple[tuple[Landing, ...], tuple[Landing, ...]]]
    spares: Mapping[str, tuple[Hop, ...]]
    joints: tuple[Joint, ...]
    reported: frozenset[str]
    by_words: Mapping[str, str]
    asked: frozenset[str]
    open_ends: frozenset[End] = frozenset()
