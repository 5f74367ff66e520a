"""Boxes as built: what is joined in them, passes uncut, is capped."""

from __future__ import annotations

from collections.abc import Container, Iterable

from cardgen.asbuilt.model.built_conductors import BuiltSpare, ConductorMark
from cardgen.asbuilt.model.built_valves import BuiltValve
from cardgen.light_dataclass import dataclass
from cardgen.wiring.uses import Role, Use


@dataclass(frozen=True, slots=True, kw_only=True)
class BuiltPigtail:
    """A short wire from one connector of a place to another, or to a terminal.

    Attributes:
        mark: its color, with its name as that of a cable; None where the job does not say it.
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

    @property
    def has_unknown_wire(self) -> bool:
        """The gauge of a conductor in it is not known."""
        return any(member.conductor and not member.gauge for member in self.members)


@dataclass(frozen=True, slots=True)
class JointGroup:
    """Joints that pigtails link, in their order: one piece of metal."""

    joints: tuple[BuiltJoint, ...]

    @property
    def members(self) -> tuple[Member, ...]:
        return tuple(member for joint in self.joints for member in joint.members)

    @property
    def uses(self) -> tuple[Use, ...]:
        return tuple(dict.fromkeys(use for joint in self.joints for use in joint.uses))

    @property
    def conductors(self) -> dict[str, ConductorMark]:
        """By name; without pigtails."""
        return {m.conductor: m.mark for m in self.members if m.mark and not m.pigtail}

    @property
    def cables(self) -> set[str]:
        return {mark.cable for mark in self.conductors.values()}

    @property
    def pigtails(self) -> tuple[str, ...]:
        return tuple(dict.fromkeys(m.lead for m in self.members if m.pigtail))


@dataclass(frozen=True, slots=True, kw_only=True)
class Passing:
    """A conductor in use that goes through uncut, or one of which that is not known."""

    mark: ConductorMark
    uses: tuple[Use, ...]
    conductor: str = ""


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
class Neighbor:
    """The next place on a cable, toward the controller (`upstream`) or away from it.

    `length` is empty where it is not known.
    """

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
        controllers: all whose conductors are live in it, or that hang in it: what must be locked
            off.
        maybe_hots: what is in no joint here and may be a hot that is not known.
        where_unknown: the job says that nobody knows where it is.
        rings: those of them whose common or path comes through it as a ring.
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
    neighbors: tuple[Neighbor, ...]
    unpaired: tuple[Unpaired, ...] = ()
    controllers: tuple[str, ...] = ()
    surge_unit: bool = False
    pigtails: tuple[BuiltPigtail, ...] = ()
    rings: tuple[str, ...] = ()
    maybe_hots: tuple[Passing, ...] = ()
    where_unknown: bool = False

    @property
    def relays(self) -> tuple[str, ...]:
        """Pump start relays in it: their pump side brings line voltage into it."""
        return tuple(valve.id for valve in self.valves if valve.kind == "relay")

    @property
    def linked(self) -> tuple[JointGroup, ...]:
        """Its joints in their order; those that pigtails link stand together, for they are one."""
        if not any(member.joint for joint in self.joints for member in joint.members):
            return tuple([JointGroup((joint,)) for joint in self.joints])
        found: list[JointGroup] = []
        left = dict(enumerate(self.joints, 1))
        while left:
            group, further = {}, {min(left)}
            while further:
                number = further.pop()
                group[number] = left.pop(number)
                further |= {m.joint for m in group[number].members if m.joint in left}
            found.append(JointGroup(tuple(group[number] for number in sorted(group))))
        return tuple(found)

    @property
    def as_built(self) -> bool:
        """Its joints are written out."""
        return any(joint.as_built for joint in self.joints)

    @property
    def all_pass(self) -> bool:
        """Every conductor that comes into it leaves it uncut."""
        return not (
            self.joints or self.capped or self.unpaired or self.maybe_hots or self.hots_unknown
        )

    @property
    def hots_unknown(self) -> tuple[str, ...]:
        """The valves whose wire here, and so one joint each, is not known."""
        return tuple(v.id for v in self.valves if v.hot_unknown and v.hot is None)

    @property
    def splices_unknown(self) -> bool:
        """Nobody knows how many there are: some may be of hots that are not known."""
        return bool(self.hots_unknown or self.maybe_hots)

    @property
    def commons_apart(self) -> tuple[str, ...]:
        """The commons that must not touch, where there are several."""
        return self.commons if len(self.commons) > 1 else ()

    def uncut(self, conductors: Iterable[str]) -> bool:
        """None of these is joined or capped here."""
        cut = {member.conductor for joint in self.joints for member in joint.members}
        cut |= {end.conductor for end in self.capped} | {c.conductor for c in self.maybe_hots}
        return cut.isdisjoint(conductors)

    def goes_on(self, conductor: str) -> bool:
        """It passes the box, uncut or joined with itself."""
        members = ([m.conductor for m in group.members] for group in self.linked)
        passing = (each.conductor for each in self.passing)
        return conductor in passing or any(found.count(conductor) > 1 for found in members)

    def is_spliced(self, conductor: str, use: Use) -> bool:
        """As that it is in a joint with a conductor of another name.

        Where it is cut, it may be something else on the other side of the box, joined or capped.
        """
        found = (group.conductors for group in self.linked if use in group.uses)
        return any(len(joined) > 1 and conductor in joined for joined in found)

    def returning(self, conductors: Container[str]) -> tuple[str, ...]:
        """The valves whose way back is the common and begins with one of these."""
        shared = (valve for valve in self.valves if not valve.own_return)
        return tuple(valve.id for valve in shared if valve.returns_by in conductors)
