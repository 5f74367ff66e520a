"""What stages 1 to 5 found out of a job, in the trade's words: plain values, kept as JSON.

```
AsBuilt -- controllers -- terminals -- what is landed on each
        |- conductors --- stretches: from where to where it is what
        |- boxes -------- joints, what passes, what is capped, spares
        |  `- valves ---- circuit, colours at both ends, what a meter must show
        |- spares ------- stretches that metal leaves free, how far they reach
        `- cables, sensors, connectors, changes
```
No sentence, no language and no geometry is in it.  All that is printed, drawn, published or
compared is taken from here.  A field added later has a default: files that are published lack it.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property

from cardgen.address import record_spelling
from cardgen.wiring.uses import Role, Use

__all__ = ["AsBuilt", "Role", "Use"]


@dataclass(frozen=True, slots=True, kw_only=True)
class ConductorMark:
    """How one conductor is shown: in words, as an IEC 60757 code, and as a swatch.

    Attributes:
        cable: id of the cable, `A-K1`.
        word: the colour in words as the job writes it, `light-blue`, `white/black`.
        code: IEC 60757 letter code, `GN`; combined codes in the standard's order; empty for a
            colour which the standard does not list (tan).
        base: colour name of the insulation, one of `cardgen.trade.colours.COLOURS`.
        stripe: colour name of the tracer stripe, empty without one.
        band: what tells this cable from a like one, `yellow tape`; empty without.
        flag: text on the conductor's own flag, for singles of one colour; empty without.
        gauge: `18 AWG` or `1.5 mm2`.
    """

    cable: str
    word: str
    code: str
    base: str
    stripe: str = ""
    band: str = ""
    flag: str = ""
    gauge: str = ""

    @property
    def look(self) -> tuple[str, str]:
        """What the eye tells apart: ground and tracer."""
        return self.base, self.stripe


@dataclass(frozen=True, slots=True, kw_only=True)
class Band:
    """What is expected, and between what an honest meter reads."""

    expected: float
    low: float
    high: float


# ---- valves --------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class BuiltDecoder:
    id: str
    address: int
    serial: str
    leads: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Elsewhere:
    """Another valve of the same terminal."""

    id: str
    box: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One leg of a way from the controller outward: a conductor, a sensor's contact, a pigtail."""

    conductor: ConductorMark | None
    contact: str
    start: str
    end: str
    length: str
    name: str = ""  # of the conductor, as the job names it; of the pigtail


@dataclass(frozen=True, slots=True, kw_only=True)
class BuiltValve:
    """One coil; None and empty text where the job does not say it.

    Attributes:
        station: what it belongs to; a twin has two valves of one station.
        kind: `valve`, `master valve`, `relay`.
        isolators: the controllers that share it through isolators.
        hot, back: as they look at the valve.
        ohms: at the controller (at the isolators where it has them), of all coils that run; None
            behind a device, where they mean nothing.
        coil: by itself, its leads off, also behind a device; None where it is not known.
        volts: lowest and highest at the coil while it holds.
        milliamperes: out of the controller, with `beside` and all valves of the terminal.
        tied: what else hangs on its terminal or on one linked with it: it runs with this one.
        polarity: which lead goes to the hot and which to the common.
        coil_id: the kind of coil, as the job names it; leads: their gauge.
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
    decoder: BuiltDecoder | None
    device: str
    notes: tuple[str, ...]
    hot_way: tuple[Step, ...]
    back_way: tuple[Step, ...]
    ring: bool
    coil_id: str = ""
    leads: str = ""
    tied: tuple[str, ...] = ()

    @property
    def back_at_controller(self) -> ConductorMark | None:
        return next((step.conductor for step in self.back_way if step.conductor), None)

    @property
    def changes_colour(self) -> bool:
        """Its hot looks otherwise at the controller than at the valve."""
        here, there = self.hot, self.hot_at_controller
        return here is not None and there is not None and here.look != there.look


# ---- conductors ----------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class BuiltStretch:
    """One piece of metal of a conductor that serves one thing from end to end.

    Attributes:
        first, last: in the order of the cable's run; `through` what lies between.
        uses: what it is there, by metal; of a free one SPARE with its name, or DEAD.
        fed_from_last: what it is comes to it from its last place.
        fed_at: the place between them at which it comes to it; empty where it is one of the two.
        onward_first, onward_last: the conductors by which the same comes there, at the end where it
            is fed, and in which it goes on at the other.
    """

    first: str
    last: str
    through: tuple[str, ...]
    metres: float
    uses: tuple[Use, ...]
    fed_from_last: bool = False
    fed_at: str = ""
    onward_first: tuple[ConductorMark, ...] = ()
    onward_last: tuple[ConductorMark, ...] = ()

    @property
    def places(self) -> tuple[str, ...]:
        return self.first, *self.through, self.last

    def serves(self, role: Role, of: str = "") -> bool:
        """Whether it is that of something, or of just this one."""
        return any(use.role is role and of in ("", use.of) for use in self.uses)


@dataclass(frozen=True, slots=True, kw_only=True)
class BuiltConductor:
    """One conductor of a cable, with the places it passes and the metres before each but the first.

    Attributes:
        name: as the job names it, `A-K1 red`; no two have one name.
    """

    name: str
    mark: ConductorMark
    places: tuple[str, ...]
    legs: tuple[float, ...]
    stretches: tuple[BuiltStretch, ...]

    def at(self, place: str, *, onward: bool) -> BuiltStretch | None:
        """The stretch that leaves a place onward, or comes to it; None where there is none."""
        index = self.places.index(place) if place in self.places else -1
        for stretch in self.stretches:
            first, last = self.places.index(stretch.first), self.places.index(stretch.last)
            if index >= 0 and (first <= index < last if onward else first < index <= last):
                return stretch
        return None

    def touching(self, place: str) -> tuple[BuiltStretch, ...]:
        """What it is on both sides of a place."""
        return tuple(stretch for stretch in self.stretches if place in stretch.places)


@dataclass(frozen=True, slots=True, kw_only=True)
class BuiltStop:
    """A place on a run and the leg that leads to it (nothing for the first)."""

    at: str
    length: str
    metres: float


@dataclass(frozen=True, slots=True, kw_only=True)
class BuiltCable:
    """A cable, or a bundle of singles; its run is written from the controller outward."""

    id: str
    band: str
    shielded: bool
    bundle: bool
    run: tuple[BuiltStop, ...]

    @property
    def places(self) -> tuple[str, ...]:
        return tuple(stop.at for stop in self.run)


# ---- boxes ---------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class BuiltPigtail:
    """A short wire from one connector of a place to another, or to a terminal.

    Attributes:
        mark: its colour, with its name as that of a cable; None where the job does not say it.
        length: as the job writes it; empty where it does not.
    """

    id: str
    gauge: str
    mark: ConductorMark | None
    length: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Member:
    """One end in a joint: of a conductor, a lead (`mark` is None), or of a pigtail.

    Attributes:
        lead: the valve, decoder, sensor or pigtail; side: where its leads differ, which one.
        toward: the next place along the conductor.
        arrives: it comes from the start of its cable's run; of a pigtail the same as `feeds`.
        feeds: what is joined comes to the joint by it, wherever its run is written from.
        gauge: empty where nothing tells it.
        pigtail: it is one; length: if the job says it.
        joint: of a pigtail the number of the joint to which it leads, from 1 as they lie in a box;
            0 if that is a terminal.
    """

    mark: ConductorMark | None
    lead: str
    side: str
    toward: str
    arrives: bool
    gauge: str = ""
    conductor: str = ""
    feeds: bool = False
    pigtail: bool = False
    length: str = ""
    joint: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class BuiltJoint:
    """What is in one connector.

    Attributes:
        held: the connector, empty if not known; rating: for what it is made.
        counts: `2 × 18 AWG`; empty where the gauge of a lead is not known.
    """

    uses: tuple[Use, ...]
    members: tuple[Member, ...]
    held: str
    as_built: bool
    rating: str = ""
    counts: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Passing:
    """A conductor in use that goes through uncut."""

    mark: ConductorMark
    uses: tuple[Use, ...]
    conductor: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class BuiltSpare:
    """A stretch that nothing uses.

    Attributes:
        id: the name on its flag; first, last: how far it goes; through: what lies between.
        passes: whether it goes through one box uncut; of the list of all spares it means nothing.
        loop: ohms at `first`, tied to the common at `last`; None where no common is at both.
        joined: places where an end of it is in a joint.
        listed: the job lists it as a spare; promised: the box to which.
        dead: a left-over of a conductor that is used elsewhere, and that no controller reaches.
    """

    id: str
    mark: ConductorMark
    first: str
    last: str
    passes: bool
    reserved_for: str
    loop: Band | None = None
    joined: tuple[str, ...] = ()
    conductor: str = ""
    through: tuple[str, ...] = ()
    promised: str = ""
    listed: bool = False
    dead: bool = False

    @property
    def places(self) -> tuple[str, ...]:
        return self.first, *self.through, self.last


@dataclass(frozen=True, slots=True, kw_only=True)
class Capped:
    """An end in no joint.

    Attributes:
        toward: the next place along the conductor.
        uses: of the stretch that ends here.
        stops: the conductor itself ends here: nothing of it goes on.
    """

    mark: ConductorMark
    toward: str
    uses: tuple[Use, ...] = ()
    stops: bool = False
    conductor: str = ""
    reserved_for: str = ""

    @property
    def is_spare(self) -> bool:
        return any(use.role is Role.SPARE for use in self.uses)


@dataclass(frozen=True, slots=True, kw_only=True)
class Unpaired:
    """A sensor whose wires go on in a box, and nothing says which with which."""

    sensor: str
    marks: tuple[ConductorMark, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Neighbour:
    """The next place on a cable, toward the controller (`upstream`) or away from it."""

    cable: str
    band: str
    place: str
    length: str
    upstream: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class BuiltBox:
    """A box; `buried` where there is none around the splice.

    Attributes:
        commons: the controllers whose common is in it, by metal.
        controllers: all whose conductors are live in it: what must be locked off.
    """

    id: str
    where: str
    kind: str
    size: str
    ties: tuple[str, ...]
    coordinates: str
    buried: bool
    valves: tuple[BuiltValve, ...]
    joints: tuple[BuiltJoint, ...]
    passing: tuple[Passing, ...]
    capped: tuple[Capped, ...]
    spares: tuple[BuiltSpare, ...]
    commons: tuple[str, ...]
    neighbours: tuple[Neighbour, ...]
    unpaired: tuple[Unpaired, ...] = ()
    controllers: tuple[str, ...] = ()
    surge_unit: bool = False
    pigtails: tuple[BuiltPigtail, ...] = ()

    @property
    def linked(self) -> tuple[tuple[BuiltJoint, ...], ...]:
        """Its joints in their order; those that pigtails link stand together, for they are one."""
        found: list[tuple[BuiltJoint, ...]] = []
        left = dict(enumerate(self.joints, 1))
        while left:
            group, further = {}, {min(left)}
            while further:
                number = further.pop()
                group[number] = left.pop(number)
                further |= {m.joint for m in group[number].members if m.joint in left}
            found.append(tuple(group[number] for number in sorted(group)))
        return tuple(found)

    @property
    def as_built(self) -> bool:
        """Its joints are written out."""
        return any(joint.as_built for joint in self.joints)

    @property
    def all_pass(self) -> bool:
        """Every conductor that comes into it leaves it uncut."""
        return not (self.joints or self.capped or self.unpaired)


# ---- controllers ---------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class Landed:
    """An end of a conductor on a terminal; one that passes a controller may have both there.

    Attributes:
        toward: the next place along the conductor.
        serves: of a common the stations that return on it; empty where it is part of a ring.
        ring: whether another wire of the terminal leads to the same valves.
        by: the pigtails that bring it to the terminal, from there outward; those of one connector
            have the same.
    """

    mark: ConductorMark
    uses: tuple[Use, ...]
    conductor: str = ""
    toward: str = ""
    serves: tuple[str, ...] = ()
    ring: bool = False
    by: tuple[str, ...] = ()


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
            with a pigtail; held, rating: the connector that takes them, as of a joint.
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

    def beside(self, wire: Landed) -> int:
        """How many wires are in the connector of one, with it."""
        return sum(other.by == wire.by for other in self.wires)


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
        connectors: what is in each connector that only pigtails bring to the terminals.
    """

    id: str
    where: str
    supply: str
    box: str
    terminals: tuple[Terminal, ...]
    sensors: tuple[BuiltSensor, ...]
    neighbours: tuple[Neighbour, ...]
    supply_kind: str = ""
    volts: float | None = None
    polarity: tuple[str, ...] = ()
    between: tuple[Between, ...] = ()
    pigtails: tuple[BuiltPigtail, ...] = ()
    connectors: tuple[BuiltJoint, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class BuiltConnector:
    """A kind of connector and all that it is rated for."""

    id: str
    rating: str


@dataclass(frozen=True, slots=True, kw_only=True)
class BuiltChange:
    revision: int
    date: str
    text: str


@dataclass(frozen=True, kw_only=True)
class AsBuilt:
    """Everything that is known of one revision of a job.

    Attributes:
        job: its code.
        address: with the key, as the tags hold it; the name of a box follows.
        water: `reclaimed`, or empty where the job says nothing that must be warned of.
        unit: of most of its lengths, `ft` or `m`.
        order: the valves in the order of the file.
        spares: free stretches, dead ones last.
    """

    job: str
    site: str
    key: str
    address: str
    revision: int
    date: str
    boxes: tuple[BuiltBox, ...]
    controllers: tuple[BuiltController, ...]
    spares: tuple[BuiltSpare, ...]
    changes: tuple[BuiltChange, ...]
    water: str = ""
    unit: str = "ft"
    order: tuple[str, ...] = ()
    conductors: tuple[BuiltConductor, ...] = ()
    cables: tuple[BuiltCable, ...] = ()
    sensors: tuple[BuiltSensor, ...] = ()
    connectors: tuple[BuiltConnector, ...] = ()
    decoders: int = 0
    surge_units: tuple[str, ...] = ()

    @property
    def valves(self) -> Iterator[BuiltValve]:
        """Box by box."""
        for box in self.boxes:
            yield from box.valves

    @property
    def in_order(self) -> Iterator[BuiltValve]:
        """The valves in the order of the file."""
        yield from (self.valve[name] for name in self.order)

    @cached_property
    def box(self) -> Mapping[str, BuiltBox]:
        return {box.id: box for box in self.boxes}

    @cached_property
    def controller(self) -> Mapping[str, BuiltController]:
        return {controller.id: controller for controller in self.controllers}

    @cached_property
    def cable(self) -> Mapping[str, BuiltCable]:
        return {cable.id: cable for cable in self.cables}

    @cached_property
    def conductor(self) -> Mapping[str, BuiltConductor]:
        return {conductor.name: conductor for conductor in self.conductors}

    @cached_property
    def valve(self) -> Mapping[str, BuiltValve]:
        return {valve.id: valve for valve in self.valves}

    @cached_property
    def stations(self) -> Mapping[str, tuple[BuiltValve, ...]]:
        """Valves by what has the terminal (station, master valve, relay), in the file's order."""
        found: dict[str, list[BuiltValve]] = {}
        for valve in self.in_order if self.order else self.valves:
            found.setdefault(valve.station, []).append(valve)
        return {name: tuple(valves) for name, valves in found.items()}

    def code(self, place: str) -> str:
        """What follows the host and path in the address of a box or controller."""
        return f"{self.key}/{record_spelling(place)}"
