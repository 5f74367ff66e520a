"""Controllers as built: their strips with what is landed on each terminal, their sensors."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from cardgen.asbuilt.model.built_boxes import BuiltJoint, BuiltPigtail, Capped, Neighbor
from cardgen.asbuilt.model.built_conductors import Band, ConductorMark
from cardgen.light_dataclass import dataclass
from cardgen.units import SupplyKind
from cardgen.wiring.uses import Role, Use


@dataclass(frozen=True, slots=True, kw_only=True)
class Landed:
    """An end of a conductor on a terminal; one that passes a controller may have both there.

    Attributes:
        toward: the next place along the conductor.
        serves: of a common the stations that return on it; empty where it is part of a ring.
        ring: whether another wire of the terminal leads to the same valves.
        by: the pigtails that bring it to the terminal, from there outward; those of one connector
            have the same.
        behind: the sensor whose contact lies between it and the terminal; empty mostly.
    """

    mark: ConductorMark
    uses: tuple[Use, ...]
    conductor: str = ""
    toward: str = ""
    serves: tuple[str, ...] = ()
    ring: bool = False
    by: tuple[str, ...] = ()
    behind: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Terminal:
    """One terminal of a controller in its physical place, or one address of its path.

    Attributes:
        name: `1`, `C`, `MV`; the side of a path; the address of a decoder.
        use: `station`, `address`, `common`, `path`, `sensor` or `empty`.
        owners: the station (two, where terminals are one piece of metal); the sensors.
        wires: what is on it, each conductor of a strip once.
        linked: terminals that a jumper links it with.
        counts: `4 × 14 AWG`, of C on which several conductors land, for they go into one connector
            with a pigtail; held, rating: the connector that takes them, as of a joint, empty where
            a sensor's lead is among them.
        pigtail_gauge: of the pigtail that is assumed there; empty where nothing tells it.
        pigtails: those that the job says are on it; then none is assumed.
    """

    name: str
    use: str
    owners: tuple[str, ...] = ()
    wires: tuple[Landed, ...] = ()
    linked: tuple[str, ...] = ()
    counts: tuple[str, ...] = ()
    held: str = ""
    rating: str = ""
    pigtails: tuple[str, ...] = ()
    pigtail_gauge: str = ""

    def beside(self, wire: Landed) -> int:
        """How many wires are in the connector of one, with it."""
        return sum(other.by == wire.by for other in self.wires)

    @property
    def contacts(self) -> tuple[str, ...]:
        """The sensors of which a lead is on it: their contacts lie between it and a common."""
        return tuple(dict.fromkeys(wire.behind for wire in self.wires if wire.behind))

    @property
    def on_it(self) -> int:
        """How many wires come to it: what is behind a contact comes by the sensor's lead."""
        return sum(not wire.behind for wire in self.wires) + len(self.contacts)

    @property
    def takes_pigtail(self) -> bool:
        """Its wires go into one connector, with a pigtail that the job does not say."""
        return self.use == "common" and self.on_it > 1 and not self.pigtails


@dataclass(frozen=True, slots=True, kw_only=True)
class BuiltSensor:
    """`kind` and `contact` are words of the job file.

    Attributes:
        wires: the conductors on SEN by name, if said; marks: how they look.
        behind: the conductors of a common behind its contact, by name.
    """

    id: str
    kind: str
    where: str
    contact: str
    in_common: bool
    wires: tuple[str, ...] = ()
    marks: tuple[ConductorMark, ...] = ()
    behind: tuple[str, ...] = ()
    controllers: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Between:
    """Two valves of a box, measured from hot to hot."""

    box: str
    valves: tuple[str, ...]
    ohms: Band


@dataclass(frozen=True, slots=True, kw_only=True)
class BuiltController:
    """A controller with its terminals in their physical order.

    Attributes:
        supply: as the job writes it; supply_kind: `AC`, ...; volts: None where not said.
        polarity: which lead of a latching coil goes to the hot and which to the common.
        connectors: what is in each connector that is on no terminal: pigtails, or the contact of a
            sensor, bring it there.
        capped: every end in no joint and on no terminal.
        stations: how many it can run, as the job says; 0 where not known.
        transformer: what it gives, in VA; fuse, station_limit, total_limit: amperes; each None
            where the job does not say it.
        controllers: it and all others that something at its strip is live from; empty in what
            was published before that was known.
    """

    id: str
    where: str
    supply: str
    box: str
    terminals: tuple[Terminal, ...]
    sensors: tuple[BuiltSensor, ...]
    neighbors: tuple[Neighbor, ...]
    supply_kind: str = ""
    volts: float | None = None
    polarity: tuple[str, ...] = ()
    between: tuple[Between, ...] = ()
    pigtails: tuple[BuiltPigtail, ...] = ()
    connectors: tuple[BuiltJoint, ...] = ()
    capped: tuple[Capped, ...] = ()
    stations: int = 0
    transformer: float | None = None
    fuse: float | None = None
    station_limit: float | None = None
    total_limit: float | None = None
    controllers: tuple[str, ...] = ()

    @property
    def jumpers(self) -> tuple[tuple[str, ...], ...]:
        """Terminals that jumpers link, all of one piece of metal together, as on the strip."""
        found: list[tuple[str, ...]] = []
        for terminal in self.terminals:
            names = {terminal.name, *terminal.linked}
            if terminal.linked and not any(names & set(known) for known in found):
                while (
                    more := {n for t in self.terminals if t.name in names for n in t.linked} - names
                ):
                    names |= more
                found.append(
                    tuple(dict.fromkeys(t.name for t in self.terminals if t.name in names))
                )
        return tuple(found)

    @property
    def station_count(self) -> int:
        """How many it can run: a path has no terminals to count."""
        return max(self.stations, sum(1 for _ in self._for_stations))

    @property
    def used_stations(self) -> tuple[Terminal, ...]:
        """The station terminals, or addresses of its path, that something is on."""
        return tuple(terminal for terminal in self._for_stations if terminal.owners)

    @property
    def free_stations(self) -> tuple[Terminal, ...]:
        """Station terminals with no station, no wire and no jumper."""
        unused = (terminal for terminal in self._for_stations if not terminal.owners)
        return tuple(terminal for terminal in unused if not (terminal.wires or terminal.linked))

    @property
    def _for_stations(self) -> Iterator[Terminal]:
        """A station terminal has a number as its name."""
        numbered = (terminal for terminal in self.terminals if terminal.name.isdecimal())
        return (terminal for terminal in numbered if terminal.use != "path")

    @property
    def battery(self) -> bool:
        """A battery drives it: no line voltage comes to it."""
        return self.supply_kind == SupplyKind.LATCHING

    @property
    def common(self) -> Use:
        return Use(role=Role.COMMON, of=self.id)

    @property
    def paths(self) -> tuple[Use, ...]:
        """Both sides of its two-wire path."""
        return tuple(Use(role=Role.PATH, of=self.id, side=side) for side in ("1", "2"))

    @property
    def numbered(self) -> Iterator[tuple[int, Terminal]]:
        """Its terminals, each with which of its name it is along the strip: there may be two C."""
        seen: Counter[str] = Counter()
        for terminal in self.terminals:
            seen[terminal.name] += 1
            yield seen[terminal.name], terminal
