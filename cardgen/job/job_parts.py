"""What a job file says, each thing with its place; nothing here is derived."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field
from enum import StrEnum
from typing import NamedTuple

from cardgen.light_dataclass import dataclass
from cardgen.problems import Span
from cardgen.reading.shapes import Written
from cardgen.trade.colors import Insulation
from cardgen.trade.copper import Construction
from cardgen.trade.slack import Slack
from cardgen.units import (
    NOT_KNOWN,
    Amperes,
    Celsius,
    Gauge,
    Length,
    Megohms,
    Ohms,
    OhmsPerKilometer,
    Supply,
    Tolerance,
    VoltAmperes,
    Volts,
)


class ConductorWords(NamedTuple):
    """A conductor as a person names it, `A-K1 red` or `A-S1 red A3`, and where it serves.

    `begins` and `ends` are the places after `from` and `to`; empty where they are not said.
    Between or beside those of a hot `not known` may stand, for what nobody can name.
    """

    span: Span
    value: str
    begins: str = ""
    ends: str = ""

    @property
    def is_gap(self) -> bool:
        return self.value == NOT_KNOWN


class Water(StrEnum):
    """What runs in the pipes of a job."""

    POTABLE = "potable"
    RECLAIMED = "reclaimed"


class BoxKind(StrEnum):
    VALVE = "valve box"
    SPLICE = "splice box"
    PULL = "pull box"
    WALL = "wall box"
    BURIED = "buried splice"


class Contact(StrEnum):
    CLOSED = "normally closed"
    OPEN = "normally open"


class Jumper(StrEnum):
    FITTED = "fitted"
    REMOVED = "removed"


class SensorKind(StrEnum):
    RAIN = "rain"
    FLOW = "flow"
    OTHER = "other"


@dataclass(frozen=True, slots=True, kw_only=True)
class JobInfo:
    """What concerns the whole job; None where it does not say it.

    Attributes:
        warm: temperature of the conductors for the voltage drop.
        insulation_test: volts of the insulation tester; least_insulation: from any conductor to
            ground.
        ground_limit: most ohms of a ground rod.
        owner, contractor, license_number: on the closeout packet; empty where not said.
    """

    span: Span
    code: Written[str]
    site: Written[str]
    revision: int
    date: str
    warm: Celsius
    water: Water | None
    insulation_test: Volts | None
    least_insulation: Megohms | None
    ground_limit: Ohms | None
    owner: str
    contractor: str
    license_number: str


@dataclass(frozen=True, slots=True, kw_only=True)
class RecordInfo:
    """Where the job record lies: `address` with host and path, and the unguessable key."""

    span: Span
    address: Written[str]
    key: Written[str]


@dataclass(frozen=True, slots=True, kw_only=True)
class Coil:
    """A solenoid or relay coil; `resistance` at 20 C; None where the file does not know it.

    `leads` is the gauge of the two leads, which counts in a connector.
    """

    id: str
    span: Span
    supply: Written[Supply]
    resistance: Ohms | None
    inrush: Amperes | None
    holding: Amperes | None
    minimum: Volts | None
    leads: Gauge | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Combination:
    """What one connector takes: for each gauge the least and most conductors, all together."""

    parts: tuple[tuple[Gauge, int, int], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Connector:
    id: str
    span: Span
    takes: tuple[Combination, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Polarity:
    """Which solenoid lead, by its color, goes to the hot and which to the common."""

    span: Span
    hot: str
    common: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Controller:
    """Attributes:
    terminals: in physical order, every terminal once or, for pairs like SEN, as often as it is
        there.
    valves_per_station: most solenoids the maker allows on one terminal; None if not said.
    box: the valve box in which a battery controller hangs; empty elsewhere.
    """

    id: str
    span: Span
    where: str | None
    supply: Written[Supply]
    supply_tolerance: Written[Tolerance] | None
    stations: Written[int]
    terminals: tuple[str, ...]
    coil: Written[str | None] | None
    common: tuple[ConductorWords, ...]
    path_1: tuple[ConductorWords, ...]
    path_2: tuple[ConductorWords, ...]
    path_polarity: bool
    station_limit: Amperes | None
    total_limit: Amperes | None
    transformer: VoltAmperes | None
    fuse: Amperes | None
    stations_at_once: int
    valves_per_station: int | None
    sensor_contact: Contact | None
    sensor_jumper: Written[Jumper] | None
    jumpers: tuple[Written[tuple[Written[str], ...]], ...]
    polarity: Polarity | None
    wire_limit: Length | None
    decoder_limit: Length | None
    surge_interval: Length | None
    surge_decoders: int | None
    box: Written[str] | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Single:
    """Single conductors of one color in a bundle, one for each flag.

    `gauge` holds None where it is not known.
    `to` is the last box they reach; empty for the end of the run or of their use.
    `resistance` is that of one conductor at 20 C, where the job gives it instead of the tables.
    """

    span: Span
    color: Written[Insulation]
    gauge: Written[Gauge | None]
    flags: tuple[Written[tuple[str, ...]], ...]
    count: int
    to: Written[str] | None
    construction: Construction
    resistance: OhmsPerKilometer | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Stop:
    """A place on a run and the leg that leads to it: its length, None where it is not known.

    The first has no leg.
    """

    span: Span
    at: str
    leg: Written[Length | None] | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Cable:
    """A cable or a bundle of singles; the run is written from the controller outward.

    `gauge` is None where the file does not say it, and holds None where it says `not known`.
    `reels` are the lengths on which it is sold; empty where those of the job, or none, are said.
    """

    id: str
    span: Span
    gauge: Written[Gauge | None] | None
    palette: Written[str] | None
    colors: tuple[Insulation, ...]
    singles: tuple[Single, ...]
    band: str
    shielded: bool
    construction: Construction
    resistance: OhmsPerKilometer | None
    run: tuple[Stop, ...]
    reels: tuple[Length, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Box:
    """`spares` is how many free conductors must reach it; None where nothing is asked.

    `where`, `size` and `ties` are None where the file says that they are not known.
    """

    id: str
    span: Span
    where: str | None
    kind: BoxKind | None
    size: str | None
    ties: tuple[str, ...] | None
    coordinates: str
    spares: Written[int] | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Valve:
    """One of several valves of a station."""

    id: str
    span: Span
    box: Written[str]


@dataclass(frozen=True, slots=True, kw_only=True)
class Station:
    """`hot` and `common` name conductors from the controller outward.

    `hot` is None where the file says that it is not known, and has a gap where a part of it is not;
    so it is of a master valve and a relay.  `area` is None where it is not known.
    `common` is written only where it is not the controller's common in that box.
    `extra` is what a list of the user says beside that, by its headings; it is never printed.
    """

    id: str
    span: Span
    area: Written[str] | None
    box: Written[str] | None
    hot: tuple[ConductorWords, ...] | None
    common: tuple[ConductorWords, ...]
    controller: Written[str] | None
    terminal: Written[int] | None
    coil: Written[str | None] | None
    valves: Mapping[str, Valve]
    device: Written[str] | None
    decoder: Written[str] | None
    notes: tuple[Written[str], ...]
    extra: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class MasterValve:
    """A valve before all others.

    Attributes:
        return_path: its own way back; empty where it uses the controller's common.
        live_only_to_close: of a normally open one, that its terminal is not live beside stations.
    """

    id: str
    span: Span
    controllers: tuple[Written[str], ...]
    isolators: tuple[Written[str], ...]
    terminal: Written[str] | None
    box: Written[str]
    hot: tuple[ConductorWords, ...] | None
    return_path: tuple[ConductorWords, ...]
    normally_open: bool
    live_only_to_close: bool
    coil: Written[str | None] | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Relay:
    """A pump start relay: a coil on the controller; the pump itself is never on a terminal."""

    id: str
    span: Span
    controller: Written[str]
    terminal: Written[str] | None
    box: Written[str]
    hot: tuple[ConductorWords, ...] | None
    return_path: tuple[ConductorWords, ...]
    coil: Written[str | None] | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Decoder:
    id: str
    span: Span
    controller: Written[str] | None
    box: Written[str]
    address: Written[int]
    serial: str
    to_valve: Written[Length] | None
    leads: Gauge


@dataclass(frozen=True, slots=True, kw_only=True)
class Sensor:
    """`in_common` lists the common conductors behind its contact; empty if it is on SEN."""

    id: str
    span: Span
    kind: SensorKind
    controllers: tuple[Written[str], ...]
    contact: Written[Contact] | None
    in_common: tuple[ConductorWords, ...]
    conductors: tuple[ConductorWords, ...]
    where: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Spare:
    """`begins` and `to` are the first and the last place in which it is promised."""

    id: str
    span: Span
    conductor: tuple[ConductorWords, ...]
    begins: Written[str] | None
    to: Written[str] | None
    reserved_for: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Pigtail:
    """A short wire from one connector to another, or to a terminal, in one box or controller.

    `color` and `length` are None where the file does not say them.
    """

    id: str
    span: Span
    at: Written[str]
    gauge: Gauge
    color: Insulation | None
    length: Length | None


@dataclass(frozen=True, slots=True, kw_only=True)
class WrittenJoints:
    """The joints of one place as built; each joint lists what is in one connector."""

    id: str
    span: Span
    joints: tuple[Written[tuple[Written[str], ...]], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    span: Span
    revision: int
    date: str
    text: Written[str]


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """`reported` holds the ids of entries that could not be read; later stages skip them.

    `info` is None where it could not be read; then nothing is printed.  `record` is None where the
    file has none, too: then nothing has a code.
    `slack` and `reels` are for ordering wire; without reels its lengths are not rounded.
    `known` are notes that are not told again, each by code and owner.
    `texts` are all that are printed or published as they stand, in the order of the file.
    """

    file: str
    info: JobInfo | None
    record: RecordInfo | None
    palettes: Mapping[str, tuple[Insulation, ...]]
    coils: Mapping[str, Coil]
    connectors: Mapping[str, Connector]
    controllers: Mapping[str, Controller]
    cables: Mapping[str, Cable]
    boxes: Mapping[str, Box]
    stations: Mapping[str, Station]
    master_valves: Mapping[str, MasterValve]
    relays: Mapping[str, Relay]
    decoders: Mapping[str, Decoder]
    sensors: Mapping[str, Sensor]
    spares: Mapping[str, Spare]
    pigtails: Mapping[str, Pigtail]
    joints: Mapping[str, WrittenJoints]
    surge_units: tuple[Written[str], ...]
    changes: tuple[Change, ...]
    slack: Slack = field(default_factory=Slack)
    reels: tuple[Length, ...] = ()
    known: tuple[Written[str], ...] = ()
    texts: tuple[Written[str], ...] = ()
    reported: frozenset[str] = field(default_factory=frozenset)

    @property
    def unread(self) -> frozenset[str]:
        """Ids of entries that could not be read at all: a cable, a sensor ... that is there."""
        sections: tuple[Mapping[str, object], ...] = (
            self.palettes, self.coils, self.connectors, self.controllers, self.cables, self.boxes,
            self.stations, self.master_valves, self.relays, self.decoders, self.sensors,
            self.spares, self.pigtails, self.joints,
        )  # fmt: skip
        return self.reported.difference(*sections)
