"""What one revision of a job says, box by box, in plain values that are kept as JSON.

No sentence is stored, only what sentences are made of, so that a later print may word it anew.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property

from cardgen.asbuilt.model import ConductorMark


@dataclass(frozen=True, slots=True, kw_only=True)
class Band:
    """What is expected, and between what an honest meter reads."""

    expected: float
    low: float
    high: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Decoder:
    id: str
    address: int
    serial: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Elsewhere:
    """Another valve of the same terminal."""

    id: str
    box: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One stretch of a way: a conductor between two places, or a sensor's contact."""

    conductor: ConductorMark | None
    contact: str
    start: str
    end: str
    length: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Valve:
    """One coil; None and empty text where the job does not say it.

    Attributes:
        station: what it belongs to; a twin has two valves of one station.
        kind: `valve`, `master valve`, `relay`.
        isolators: the controllers that share it through isolators.
        hot, back: as they look at the valve.
        volts: lowest and highest at the coil while it holds.
        milliamperes: out of the controller, with `beside` and all valves of the terminal.
        polarity: which lead goes to the hot and which to the common.
    """

    id: str
    station: str
    kind: str
    area: str
    box: str
    controller: str
    terminal: str
    isolators: tuple[str, ...]
    hot: ConductorMark | None
    hot_at_controller: ConductorMark | None
    back: ConductorMark | None
    own_return: bool
    ohms: Band | None
    coil: Band | None
    volts: tuple[float, ...]
    milliamperes: int | None
    beside: tuple[str, ...]
    others: tuple[Elsewhere, ...]
    latching: bool
    normally_open: bool
    polarity: tuple[str, ...]
    decoder: Decoder | None
    device: str
    notes: tuple[str, ...]
    hot_way: tuple[Step, ...]
    back_way: tuple[Step, ...]
    ring: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Member:
    """One end in a joint: of a conductor, or a lead (`mark` is None)."""

    mark: ConductorMark | None
    lead: str
    side: str
    toward: str
    arrives: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Joint:
    """`uses` as `hot A7`, `common A`; `held` is the connector, empty if not known."""

    uses: tuple[str, ...]
    members: tuple[Member, ...]
    held: str
    as_built: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Passing:
    """A conductor that goes through uncut."""

    mark: ConductorMark
    uses: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Spare:
    """A conductor that nothing uses.

    Attributes:
        passes: whether it goes on, seen from one box; of the list of all spares it means nothing.
        loop: ohms at `first`, tied to the common of its cable at `last`; None where nothing tells.
        joined: places where an end of it is in a joint.
    """

    id: str
    mark: ConductorMark
    first: str
    last: str
    passes: bool
    reserved_for: str
    loop: Band | None = None
    joined: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Capped:
    """An end in no joint, of a conductor that is used elsewhere."""

    mark: ConductorMark
    toward: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Neighbour:
    """The next place on a cable, toward the controller (`upstream`) or away from it."""

    cable: str
    band: str
    place: str
    length: str
    upstream: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Box:
    """A box; `buried` where there is none around the splice."""

    id: str
    where: str
    kind: str
    size: str
    ties: tuple[str, ...]
    coordinates: str
    buried: bool
    valves: tuple[Valve, ...]
    joints: tuple[Joint, ...]
    passing: tuple[Passing, ...]
    capped: tuple[Capped, ...]
    spares: tuple[Spare, ...]
    commons: tuple[str, ...]
    neighbours: tuple[Neighbour, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Terminal:
    """What is on one terminal of a controller, or at one address of its path.

    Attributes:
        name: `1`, `C`, `MV`; the side of a path; the address of a decoder.
        use: `station`, `address`, `common`, `path`, `sensor` or `empty`.
        owners: the station; the sensors.
        wire: of a common or path as it looks at this end; that of a station is its valves'.
        linked: terminals that a jumper links it with.
    """

    name: str
    use: str
    owners: tuple[str, ...] = ()
    wire: ConductorMark | None = None
    linked: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Sensor:
    """`kind` and `contact` are words of the job file; `wires` the conductors on SEN, if said."""

    id: str
    kind: str
    where: str
    contact: str
    in_common: bool
    wires: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Controller:
    """A controller with its terminals in their physical order."""

    id: str
    where: str
    supply: str
    box: str
    terminals: tuple[Terminal, ...]
    sensors: tuple[Sensor, ...]
    neighbours: tuple[Neighbour, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    revision: int
    date: str
    text: str


@dataclass(frozen=True, kw_only=True)
class Revision:
    """Everything that the record says of one revision.

    Attributes:
        address: with the key, as the tags hold it; the name of a box follows.
        water: `reclaimed`, or empty where the job says nothing that must be warned of.
    """

    job: str
    site: str
    key: str
    address: str
    revision: int
    date: str
    boxes: tuple[Box, ...]
    controllers: tuple[Controller, ...]
    spares: tuple[Spare, ...]
    changes: tuple[Change, ...]
    water: str = ""

    @property
    def valves(self) -> Iterator[Valve]:
        for box in self.boxes:
            yield from box.valves

    @cached_property
    def box(self) -> Mapping[str, Box]:
        return {box.id: box for box in self.boxes}

    @cached_property
    def valve(self) -> Mapping[str, Valve]:
        return {valve.id: valve for valve in self.valves}

    @cached_property
    def stations(self) -> Mapping[str, tuple[Valve, ...]]:
        """Valves by what has the terminal: station, master valve or relay."""
        found: dict[str, list[Valve]] = {}
        for valve in self.valves:
            found.setdefault(valve.station, []).append(valve)
        return {name: tuple(valves) for name, valves in found.items()}
