"""Everything that the checks look at, gathered once: wiring, circuits, readings and claims."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property

from cardgen.electrics import Reading, Running
from cardgen.job.model import ConductorWords, Job, Station
from cardgen.problems import Place
from cardgen.wiring.model import (
    COMMON_TERMINAL,
    Circuit,
    Conductor,
    End,
    Joint,
    Load,
    Route,
    Wiring,
)
from cardgen.wiring.network import Network
from cardgen.wiring.uses import Uses


@dataclass(frozen=True, slots=True, kw_only=True)
class Claim:
    """`owner` uses one leg of a conductor, and the file says so at `place`."""

    conductor: str
    leg: int
    owner: str
    role: str
    place: Place


@dataclass(frozen=True, kw_only=True)
class Facts:
    """What all earlier stages found out."""

    job: Job
    wiring: Wiring
    network: Network
    circuits: Mapping[str, Circuit]
    readings: Mapping[str, Reading]
    running: Mapping[str, Running]

    @cached_property
    def uses(self) -> Uses:
        """What every leg of every conductor is, by metal."""
        return Uses(self.wiring, self.network, self.circuits)

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
    def joint_of(self) -> dict[End, Joint]:
        return {end: joint for joint in self.wiring.joints for end in joint.ends}

    @cached_property
    def claims(self) -> tuple[Claim, ...]:
        return tuple(_claims(self))

    @cached_property
    def claimed(self) -> dict[tuple[str, int], list[Claim]]:
        """Claims by conductor and leg."""
        found: dict[tuple[str, int], list[Claim]] = defaultdict(list)
        for claim in self.claims:
            found[claim.conductor, claim.leg].append(claim)
        return dict(found)

    @cached_property
    def users(self) -> dict[str, set[str]]:
        """By conductor, all that is said to use it."""
        found: dict[str, set[str]] = defaultdict(set)
        for claim in self.claims:
            found[claim.conductor].add(claim.owner)
        return dict(found)

    @cached_property
    def owners_on(self) -> dict[End, list[str]]:
        """By terminal (or isolator output), the owners of what hangs on it."""
        found: dict[End, list[str]] = defaultdict(list)
        for load in self.wiring.loads.values():
            if load.hot is not None and load.owner.id not in found[load.hot_end]:
                found[load.hot_end].append(load.owner.id)
        return dict(found)

    def owners_of(self, end: End) -> set[str]:
        """Whose this end is, by what is written: of stations, commons (`COM-A`), spares."""
        load = self.wiring.loads.get(end.of)
        if load:
            return {load.owner.id}
        if end.of in self.job.controllers:
            common = end.side == COMMON_TERMINAL
            return {f"COM-{end.of}"} if common else set(self.owners_on.get(end, ()))
        return self.users.get(end.of, set())

    def meeting(self, owners: Iterable[str]) -> Joint | None:
        """The joint in which two of these owners come together; as built if there is one."""
        wanted = set(owners)
        for joint in sorted(self.wiring.joints, key=lambda j: not j.as_built):
            found: set[str] = set()
            for end in joint.ends:
                found |= self.owners_of(end) & wanted
            if len(found) > 1:
                return joint
        return None

    @cached_property
    def used_conductors(self) -> frozenset[str]:
        return frozenset(c.conductor for c in self.claims if c.role != "spare")

    @cached_property
    def conductors_of(self) -> dict[str, list[Conductor]]:
        """Conductors by cable."""
        found: dict[str, list[Conductor]] = defaultdict(list)
        for conductor in self.wiring.conductors.values():
            found[conductor.cable.id].append(conductor)
        return dict(found)

    @cached_property
    def joints_at(self) -> dict[str, list[Joint]]:
        """Joints by box or controller."""
        found: dict[str, list[Joint]] = defaultdict(list)
        for joint in self.wiring.joints:
            found[joint.at].append(joint)
        return dict(found)

    def spares_of(self, cable: str) -> list[Conductor]:
        """Conductors of a cable that nothing uses."""
        return [c for c in self.conductors_of.get(cable, ()) if c.name not in self.used_conductors]

    @cached_property
    def blamed(self) -> frozenset[str]:
        """Owners about whose conductors something has been said: their circuits are not judged."""
        blamed: set[str] = set()
        for claims in self.claimed.values():
            owners = {claim.owner for claim in claims if claim.role != "spare"}
            if len(owners) > 1:
                blamed |= owners
        for load in self.wiring.loads.values():
            if self._is_broken(load) or self._is_on_shared_common(load):
                blamed.add(load.owner.id)
        return frozenset(blamed)

    def _is_on_shared_common(self, load: Load) -> bool:
        return load.back is None and load.controller in self._sharing_a_common

    @cached_property
    def _sharing_a_common(self) -> set[str]:
        """Controllers to which one conductor is given as a common."""
        by_name: dict[str, set[str]] = defaultdict(set)
        for controller, landings in self.wiring.commons.items():
            for la in landings:
                by_name[la.conductor.name].add(controller)
        return {c for found in by_name.values() if len(found) > 1 for c in found}

    def _is_broken(self, load: Load) -> bool:
        broken = self.wiring.broken
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
            owner = f"COM-{controller}"
            yield from _of_run(la.conductor, la.begins, None, owner, "common", la.place)
    for controller, sides in facts.wiring.paths.items():
        for number, landings in enumerate(sides, 1):
            for la in landings:
                owner = f"path {number} of {controller}"
                yield from _of_run(la.conductor, la.begins, None, owner, "path", la.place)
    for spare in facts.job.spares.values():
        to = spare.to.value if spare.to else None
        for conductor, place in named(facts, spare.conductor):
            yield from _of_run(conductor, 0, to, spare.id, "spare", place)
    for sensor in facts.job.sensors.values():
        for conductor, place in named(facts, sensor.conductors):
            yield from _of_run(conductor, 0, None, sensor.id, "sensor", place)


def _of_loads(facts: Facts) -> Iterator[Claim]:
    for owner, loads in facts.loads_of.items():
        load = loads[0]  # the valves of a twin share their hot
        yield from _of_route(owner, "hot", load.hot, load.owner.hot, load.place)
        if not isinstance(load.owner, Station):
            back = load.owner.return_path
            yield from _of_route(owner, "return", load.back, back, load.place)


def _of_route(
    owner: str, role: str, way: Route | None, words: Iterable[ConductorWords], place: Place
) -> Iterator[Claim]:
    places = [said.place for said in words]
    for number, hop in enumerate(way.hops if way else ()):
        for leg in range(min(hop.start, hop.end), max(hop.start, hop.end)):
            said = places[number] if number < len(places) else place
            yield Claim(conductor=hop.conductor.name, leg=leg, owner=owner, role=role, place=said)


def _of_run(
    conductor: Conductor, begins: int, to: str | None, owner: str, role: str, place: Place
) -> Iterator[Claim]:
    last = len(conductor.legs)
    if to in conductor.places:
        last = conductor.places.index(to)
    for leg in range(begins, last):
        yield Claim(conductor=conductor.name, leg=leg, owner=owner, role=role, place=place)


def named(facts: Facts, words: Iterable[ConductorWords]) -> Iterator[tuple[Conductor, Place]]:
    """The conductors that words name; what names none has been reported."""
    for said in words:
        conductor = facts.wiring.by_words.get(said.value)
        if conductor is not None:
            yield facts.wiring.conductors[conductor], said.place
