"""Everything that the checks look at, gathered once: wiring, circuits, readings and claims."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from functools import cached_property
from itertools import pairwise
from typing import NamedTuple

from cardgen.electrics import ExpectedReading, Running
from cardgen.electrics.together import loads_together
from cardgen.job.job_parts import Cable, ConductorWords, Job, MasterValve, Station
from cardgen.light_dataclass import dataclass
from cardgen.owners import Owner, OwnerKind, common, station
from cardgen.problems import Span
from cardgen.wiring.network import Network
from cardgen.wiring.trace import ways_back
from cardgen.wiring.uses import Role, Stretch, Use, Uses
from cardgen.wiring.usual import merged
from cardgen.wiring.wiring_parts import (
    COMMON_TERMINAL,
    Circuit,
    Conductor,
    End,
    Joint,
    Load,
    Route,
    Wiring,
)
from cardgen.wiring.written import terminals_of

# What coils show to work; of the rest the file tells.
_PROVABLE = (Role.HOT, Role.RETURN, Role.COMMON)


class Claim(NamedTuple):
    """`owner` uses one leg of a conductor, and the file says so at `place`.

    What works by the joints claims no leg on which they show that it is not.
    """

    conductor: str
    leg: int
    owner: Owner
    role: Role
    span: Span


@dataclass(frozen=True, kw_only=True)
class Facts:
    """What all earlier stages found out."""

    job: Job
    wiring: Wiring
    network: Network
    circuits: Mapping[str, Circuit]
    readings: Mapping[str, ExpectedReading]
    running: Mapping[str, Running]

    @cached_property
    def uses(self) -> Uses:
        """What every leg of every conductor is, by metal."""
        known = (*self.circuits.values(), *self.half_circuits.values())
        return Uses(self.wiring, self.network, known)

    @cached_property
    def half_circuits(self) -> Mapping[str, Circuit]:
        """By load what is known of one of which the job does not know the hot: its way back."""
        return ways_back(self.wiring, self.network)

    @cached_property
    def together(self) -> dict[str, tuple[Load, ...]]:
        """By owner, every coil that runs when it does: on its terminal or linked with it."""
        return {
            load.owner.id: loads
            for loads in loads_together(self.network).values()
            for load in loads
        }

    @cached_property
    def members(self) -> dict[int, list[End]]:
        return self.network.members()

    @cached_property
    def loads_of(self) -> dict[str, list[Load]]:
        """Loads by the id of their owner."""
        found: dict[str, list[Load]] = defaultdict(list)
        for load in self.wiring.loads.values():
            found[load.owner.id].append(load)
        return dict(found)

    @cached_property
    def loads_in(self) -> dict[str, list[Load]]:
        """Loads by box."""
        found: dict[str, list[Load]] = defaultdict(list)
        for load in self.wiring.loads.values():
            found[load.box].append(load)
        return dict(found)

    @cached_property
    def loads_on(self) -> dict[str, list[Load]]:
        """Loads by controller."""
        found: dict[str, list[Load]] = defaultdict(list)
        for load in self.wiring.loads.values():
            found[load.controller].append(load)
        return dict(found)

    @cached_property
    def beside_stations(self) -> dict[str, list[str]]:
        """By controller the master valves and relays that run beside its stations."""
        return {
            controller: [load.owner.id for load in loads if load.runs_beside_stations]
            for controller, loads in self.loads_on.items()
        }

    @cached_property
    def owners_landed(self) -> dict[tuple[str, str], list[str]]:
        """By controller and terminal whose coils are on it.

        A master valve behind isolators is on a terminal of each of its controllers.
        """
        found: dict[tuple[str, str], list[str]] = defaultdict(list)
        for owner, (load, *_) in self.loads_of.items():
            homes = [load.controller]
            if isinstance(load.owner, MasterValve):
                homes = [name.value for name in load.owner.controllers]
            for controller in homes:
                found[controller, load.terminal].append(owner)
        return dict(found)

    @cached_property
    def circuits_of(self) -> dict[str, list[Circuit]]:
        """Circuits by controller."""
        found: dict[str, list[Circuit]] = defaultdict(list)
        for circuit in self.circuits.values():
            found[circuit.load.controller].append(circuit)
        return dict(found)

    @cached_property
    def returning_to(self) -> dict[str, list[Circuit]]:
        """By controller the same and those of which only the way back is known, in their order."""
        found: dict[str, list[Circuit]] = defaultdict(list)
        for load in self.wiring.loads.values():
            circuit = self.circuits.get(load.id) or self.half_circuits.get(load.id)
            if circuit is not None and circuit.back:
                found[load.controller].append(circuit)
        return dict(found)

    @cached_property
    def joint_of(self) -> dict[End, Joint]:
        return {end: joint for joint in self.wiring.joints for end in joint.ends}

    @cached_property
    def written(self) -> tuple[Claim, ...]:
        """All that the file says of who uses what."""
        return tuple(_claims(self))

    @cached_property
    def claims(self) -> tuple[Claim, ...]:
        """What is written, but for legs that serve another by metal and that nobody misses."""
        return tuple(
            claim
            for claim in self.written
            if self.is_needed(claim) or not self.uses.of_leg(claim.conductor, claim.leg)
        )

    def is_needed(self, claim: Claim) -> bool:
        """Its owner runs on that leg; or it, or what runs there, does not work yet."""
        if claim.role not in _PROVABLE:
            return True
        if claim.owner not in self._working and not self._is_between_joints(claim):
            return True
        owners = self._owners_by_leg[claim.conductor][claim.leg]
        return claim.owner in owners or not self._working.issuperset(owners)

    def _is_between_joints(self, claim: Claim) -> bool:
        """A hot or return where both ends of its leg are written: the joints say whose it is."""
        places = self.wiring.conductors[claim.conductor].places[claim.leg : claim.leg + 2]
        return self.job.joints.keys() >= set(places)

    @cached_property
    def _owners_by_leg(self) -> dict[str, list[tuple[Owner, ...]]]:
        """By conductor and leg, whom each serves by metal."""
        found: dict[str, list[tuple[Owner, ...]]] = {}
        for name, stretches in self.uses.stretches.items():
            found[name] = []
            for stretch in stretches:
                owners = tuple(use.owner for use in stretch.uses)
                found[name] += [owners] * (stretch.end - stretch.start)
        return found

    @cached_property
    def _working(self) -> set[Owner]:
        """Owners all of whose coils have a circuit."""
        served: dict[Owner, bool] = {}
        for load in self.wiring.loads.values():
            if load.id in self.half_circuits:
                continue
            own = [station(load.owner.id)]
            for owner in own if load.back else (*own, common(load.controller)):
                served[owner] = served.get(owner, True) and load.id in self.circuits
        return {owner for owner, works in served.items() if works}

    @cached_property
    def claimed(self) -> dict[tuple[str, int], list[Claim]]:
        """Claims by conductor and leg."""
        found: dict[tuple[str, int], list[Claim]] = defaultdict(list)
        for claim in self.claims:
            found[claim.conductor, claim.leg].append(claim)
        return dict(found)

    @cached_property
    def users(self) -> dict[str, set[Owner]]:
        """By conductor, all that is said to use it."""
        found: dict[str, set[Owner]] = defaultdict(set)
        for claim in self.claims:
            found[claim.conductor].add(claim.owner)
        return dict(found)

    @cached_property
    def owners_on(self) -> dict[End, list[str]]:
        """By terminal (or isolator output), the stations on it."""
        found: dict[End, list[str]] = defaultdict(list)
        for load in self.wiring.loads.values():
            if load.hot is not None and load.owner.id not in found[load.hot_end]:
                found[load.hot_end].append(load.owner.id)
        return dict(found)

    def owners_of(self, end: End) -> set[Owner]:
        """Whose this end is, by what is written."""
        load = self.wiring.loads.get(end.of)
        if load:
            return {station(load.owner.id)}
        if end.of in self.job.controllers:
            if end.side == COMMON_TERMINAL:
                return {common(end.of)}
            return {station(name) for name in self.owners_on.get(end, ())}
        return self.claimants(end) or self.users.get(end.of, set())

    def claimants(self, end: End) -> set[Owner]:
        """Who claims the leg that an end of a conductor belongs to."""
        return {claim.owner for claim in self.claims_on(end)}

    def claims_on(self, end: End) -> Iterable[Claim]:
        """The claims to the leg that an end of a conductor belongs to."""
        conductor = self.wiring.conductors.get(end.of)
        if conductor is None or end.at not in conductor.places:
            return ()
        return self.claimed.get((end.of, conductor.leg_of(end)), ())

    def meeting(self, owners: Iterable[Owner]) -> Joint | None:
        """The joint in which two of these owners come together; as built if there is one."""
        wanted = set(owners)
        for joint in sorted(self.wiring.joints, key=lambda j: not j.as_built):
            found: set[Owner] = set()
            for end in joint.ends:
                found |= self.owners_of(end) & wanted
            if len(found) > 1:
                return joint
        return None

    @cached_property
    def conductors_of(self) -> dict[str, list[Conductor]]:
        """Conductors by cable."""
        found: dict[str, list[Conductor]] = defaultdict(list)
        for conductor in self.wiring.conductors.values():
            found[conductor.cable.id].append(conductor)
        return dict(found)

    @cached_property
    def conductors_at(self) -> dict[str, list[Conductor]]:
        """Conductors by place."""
        found: dict[str, list[Conductor]] = defaultdict(list)
        for conductor in self.wiring.conductors.values():
            for place in conductor.places:
                found[place].append(conductor)
        return dict(found)

    @cached_property
    def cables_at(self) -> dict[str, list[Cable]]:
        """Cables by place."""
        found: dict[str, list[Cable]] = defaultdict(list)
        for cable in self.job.cables.values():
            for place in dict.fromkeys(stop.at for stop in cable.run):
                found[place].append(cable)
        return dict(found)

    @cached_property
    def order(self) -> dict[str, int]:
        """Where each station stands in the file."""
        return {name: number for number, name in enumerate(self.job.stations)}

    @cached_property
    def strips(self) -> dict[str, tuple[str, ...]]:
        """Each controller's terminals in physical order."""
        return {name: terminals_of(self.job, name) for name in self.job.controllers}

    @cached_property
    def joints_at(self) -> dict[str, list[Joint]]:
        """Joints by box or controller."""
        found: dict[str, list[Joint]] = defaultdict(list)
        for joint in self.wiring.joints:
            found[joint.at].append(joint)
        return dict(found)

    @cached_property
    def takeovers(self) -> frozenset[tuple[str, str]]:
        """Conductors that carry a common on from some place of theirs, with that place."""
        return frozenset(
            (la.conductor.name, la.places[0])
            for controller, landings in self.wiring.commons.items()
            for la in landings
            if la.begins and la.places[0] != controller
        )

    @cached_property
    def unproved(self) -> frozenset[tuple[str, int]]:
        """Legs that the file gives to what metal does not complete: no use yet, and not free."""
        known = self.circuits.keys() | self.half_circuits.keys()
        loads = [load for load in self.wiring.loads.values() if load.id not in known]
        dead = {station(load.owner.id) for load in loads}
        dead |= {
            common(load.controller) for load in loads if load.back is None and load.decoder is None
        }
        return frozenset(
            (claim.conductor, claim.leg)
            for claim in self.claims
            if claim.role is Role.PATH or (claim.role is not Role.SPARE and claim.owner in dead)
        )

    @cached_property
    def free(self) -> tuple[Stretch, ...]:
        """Every stretch that serves nothing; listed spares among them, dead ends too."""
        return tuple(
            stretch
            for stretches in self.uses.stretches.values()
            for stretch in stretches
            if not stretch.uses
            and self.unproved.isdisjoint(
                (stretch.conductor.name, leg) for leg in range(stretch.start, stretch.end)
            )
        )

    @cached_property
    def maybe_hots(self) -> tuple[Stretch, ...]:
        """Every stretch that may be the hot of a station of which the job does not know it."""
        return tuple(
            stretch
            for stretches in self.uses.stretches.values()
            for stretch in stretches
            if any(use.role is Role.MAYBE_HOT for use in stretch.uses)
        )

    @cached_property
    def free_throughout(self) -> frozenset[str]:
        """Conductors that serve nothing on any leg."""
        used = {
            name for name, found in self.uses.stretches.items() if any(s.uses for s in found)
        } | {name for name, _ in self.unproved}
        return frozenset(self.wiring.conductors.keys() - used)

    def linked_joints(self, at: str) -> list[Joint]:
        """The joints of a place; those that pigtails link are one, as what is in them is."""
        joints = self.joints_at.get(at, [])
        first = {end: joint for joint in reversed(joints) for end in joint.ends}
        return [
            joint if (joint := first[own[0]]).ends == own else replace(joint, ends=own)
            for group in self.linked_ends(at)
            if (own := tuple(end for end in group if end.of not in self.job.pigtails))
        ]

    def linked_ends(self, at: str) -> list[tuple[End, ...]]:
        """What is in the joints of a place; a pigtail stands once, with all that it links."""
        joints = [joint for joint in self.joints_at.get(at, ()) if joint.ends]
        return merged(tuple(map(self.as_linked, joint.ends)) for joint in joints)

    def as_linked(self, end: End) -> End:
        """Both ends of a pigtail are one."""
        return end._replace(side="") if end.of in self.job.pigtails else end

    @cached_property
    def reported(self) -> frozenset[str]:
        """Stations of whose conductors something has been said: their circuits are not judged."""
        blamed: set[str] = set()
        for claims in self.claimed.values():
            if len(claims) < 2:
                continue
            users = [c for c in claims if c.role is not Role.SPARE and self.is_needed(c)]
            owners = {claim.owner for claim in users}
            if len(owners) > 1:
                blamed |= {owner.id for owner in owners if owner.kind is OwnerKind.STATION}
        for load in self.wiring.loads.values():
            if self._is_broken(load) or self._is_on_shared_common(load):
                blamed.add(load.owner.id)
            back = () if isinstance(load.owner, Station) else load.owner.return_path
            if repeated(load.owner.hot or ()) or repeated(back):
                blamed.add(load.owner.id)
        return frozenset(blamed)

    def _is_on_shared_common(self, load: Load) -> bool:
        return load.back is None and load.controller in self._sharing_a_common

    @cached_property
    def _sharing_a_common(self) -> set[str]:
        """Controllers to which one stretch of a conductor is given as a common."""
        shared: set[str] = set()
        for claims in self.claimed.values():
            controllers = {claim.owner.id for claim in claims if claim.role is Role.COMMON}
            if len(controllers) > 1:
                shared |= controllers
        return shared

    def _is_broken(self, load: Load) -> bool:
        broken = self.wiring.reported
        controller = self.job.controllers[load.controller]
        touched = {load.owner.id, load.box, load.controller}
        for way in (load.hot, load.back):
            for hop in way.hops if way else ():
                touched.add(hop.conductor.cable.id)
                touched.update(hop.conductor.places)
        landed = self.wiring.commons[load.controller]
        if load.back is None and len(landed) < len(controller.common):
            return True
        for landing in landed if load.back is None else ():
            touched.update(landing.conductor.places)
        return bool(touched & broken)


def _claims(facts: Facts) -> Iterator[Claim]:
    yield from _of_loads(facts)
    for controller, landings in facts.wiring.commons.items():
        for la in landings:
            use = Use(role=Role.COMMON, of=controller)
            yield from _of_run(la.conductor, la.begins, la.ends, use, la.span)
    for controller, sides in facts.wiring.paths.items():
        for number, landings in enumerate(sides, 1):
            for la in landings:
                use = Use(role=Role.PATH, of=controller, side=str(number))
                yield from _of_run(la.conductor, la.begins, la.ends, use, la.span)
    for spare in facts.job.spares.values():
        begins = spare.begins.value if spare.begins else ""
        to = spare.to.value if spare.to else ""
        hops = {hop.conductor.name: hop for hop in facts.wiring.spares.get(spare.id, ())}
        for conductor, said in _named(facts, spare.conductor):
            first, last = conductor.between(said.begins or begins, said.ends or to)
            if conductor.name in hops:
                first, last = sorted(hops[conductor.name][1:])
            use = Use(role=Role.SPARE, of=spare.id)
            yield from _of_run(conductor, first, last, use, said.span)
    for sensor in facts.job.sensors.values():
        for conductor, said in _named(facts, sensor.conductors):
            first, last = conductor.between(said.begins, said.ends)
            use = Use(role=Role.SENSOR, of=sensor.id)
            yield from _of_run(conductor, first, last, use, said.span)


def _of_loads(facts: Facts) -> Iterator[Claim]:
    for owner, loads in facts.loads_of.items():
        load = loads[0]  # the valves of a twin share their hot
        hot = Use(role=Role.HOT, of=owner)
        for way in (load.hot, *load.known_parts):
            yield from _of_route(facts, hot, way, load.owner.hot or (), load.span)
        if not isinstance(load.owner, Station):
            back = Use(role=Role.RETURN, of=owner)
            yield from _of_route(facts, back, load.back, load.owner.return_path, load.span)


def _of_route(
    facts: Facts,
    use: Use,
    way: Route | None,
    words: Iterable[ConductorWords],
    span: Span,
) -> Iterator[Claim]:
    for hop in way.hops if way else ():
        name = hop.conductor.name
        said = next((w.span for w in words if facts.wiring.by_words.get(w.value) == name), span)
        first, last = sorted(hop[1:])
        yield from _of_run(hop.conductor, first, last, use, said)


def _of_run(conductor: Conductor, first: int, last: int, use: Use, span: Span) -> Iterator[Claim]:
    name, owner, role = conductor.name, use.owner, use.role
    for leg in range(first, last):
        yield Claim(name, leg, owner, role, span)


def repeated(words: Iterable[ConductorWords]) -> list[ConductorWords]:
    """Each conductor that stands behind itself in one way."""
    return [
        two
        for one, two in pairwise(words)
        if one.value.split() == two.value.split()
        and (one.begins, one.ends) == (two.begins, two.ends)
    ]


def named(facts: Facts, words: Iterable[ConductorWords]) -> Iterator[tuple[Conductor, Span]]:
    """The conductors that words name; what names none has been reported."""
    for conductor, said in _named(facts, words):
        yield conductor, said.span


def _named(
    facts: Facts, words: Iterable[ConductorWords]
) -> Iterator[tuple[Conductor, ConductorWords]]:
    for said in words:
        conductor = facts.wiring.by_words.get(said.value)
        if conductor is not None:
            yield facts.wiring.conductors[conductor], said
