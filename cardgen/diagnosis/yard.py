"""The as-built network made ready for questions: its edges, ports, and what a meter would read.

A *port* is two points between which current may go: the ends of a conductor's leg, a point along
it, a meter's leads.  A *change* puts ohms across a port (two wires touch) or into an edge (a bad
splice); what a meter then reads follows from the sound network without solving that again:

    reading = ohms(meter) - v' (T + 1/g)^-1 v     v: volts at the changed ports for the meter's 1 A
                                                  T: volts at one port for 1 A through another
                                                  g: siemens that the change adds there

(Woodbury's identity for a change of low rank; Golub and Van Loan, Matrix Computations, 2.1.4).
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from typing import NamedTuple

from cardgen.asbuilt import AsBuilt
from cardgen.asbuilt.model.built_network import BuiltNetwork, NetworkCoil
from cardgen.diagnosis.green import Amperes, Current, Green
from cardgen.diagnosis.solved_changes import SolvedChanges
from cardgen.results import OL

LEAST_OHMS = 0.01  # of a closed contact or a pigtail of no known length: less than a meter shows
OPEN_OHMS = 1e7  # in an edge that carries nothing
_OL_FROM = 1e6  # ohms; what the network has beyond that, a meter shows as OL
_NO_CURRENT = 1e-7  # volts, for 1 A
_MOST_KEPT = 1000  # sets of changes
LEAST_SHARE = 1e-6  # of the meter's current; less is what rounding leaves


class NetworkEdge(NamedTuple):
    """A leg of a conductor, a link (contact or pigtail), or a coil: what it is not is empty.

    Attributes:
        number: its own, the index among the edges.
        leg: of its conductor.
    """

    number: int
    one: int
    two: int
    ohms: float
    start: str
    end: str
    conductor: str = ""
    leg: int = 0
    link: str = ""
    valve: str = ""


class Port(NamedTuple):
    """Nodes with the part of 1 A that goes in (or, below zero, comes out) at each.

    Attributes:
        inside: ohms between the point along a leg and its two nodes side by side.
    """

    shares: tuple[tuple[int, float], ...]
    inside: float = 0.0


class NetworkChange(NamedTuple):
    """Attributes:
    inverse: ohms, 1 / (siemens added across the port); none for a dead short.
    edge: number of the edge that has other ohms; below zero where two points touch.
    lead: number of the coil that is joined otherwise; with its leads off that is not there.
    """

    port: Port
    inverse: float
    edge: int = -1
    lead: int = -1


@dataclass(frozen=True, slots=True)
class Probe:
    """Between which nodes a meter is.

    Attributes:
        key: the valve, or both; how it is told, not what it is.
        parted: numbers of edges that are taken off before it measures.
        coil: number of the coil that it measures by itself, its leads off; below zero for none.
        loaded: what runs is measured, and is told as the ohms of its loop.
        but: number of the coil at which volts are read, or which is off: nothing wrong with it
            shows.
    """

    key: str = field(compare=False)
    one: int
    two: int
    parted: tuple[int, ...] = ()
    coil: int = -1
    loaded: str = ""
    but: int = -1

    @property
    def port(self) -> Port:
        return Port(((self.one, 1.0), (self.two, -1.0)))


def across(edge: NetworkEdge) -> Port:
    return Port(((edge.one, 1.0), (edge.two, -1.0)))


def in_series(edge: NetworkEdge, ohms: float) -> NetworkChange:
    """The edge has as many ohms more; fewer where below zero, but never none."""
    return NetworkChange(across(edge), -edge.ohms - edge.ohms**2 / ohms, edge.number)


def opened(edge: NetworkEdge) -> NetworkChange:
    return in_series(edge, OPEN_OHMS)


def unjoined(coil: NetworkEdge) -> NetworkChange:
    """It hangs elsewhere: good by itself, and not between its wires."""
    return opened(coil)._replace(edge=-1, lead=coil.number)


def between(one: Port, other: Port, ohms: float) -> NetworkChange:
    """Two points touch, with ohms between them; each port is a point, its shares make 1."""
    shares: dict[int, float] = defaultdict(float)
    for node, share in one.shares:
        shares[node] += share
    for node, share in other.shares:
        shares[node] -= share
    inside = one.inside + other.inside
    return NetworkChange(Port(tuple(shares.items()), inside), ohms)


def point(node: int) -> Port:
    return Port(((node, 1.0),))


def along(edge: NetworkEdge, part: float) -> Port:
    """The point that lies as far along an edge, 0 to 1."""
    if part in (0.0, 1.0):
        return point(edge.two if part else edge.one)
    shares = ((edge.one, 1 - part), (edge.two, part))
    return Port(shares, part * (1 - part) * edge.ohms)


class Yard:
    """One job's network."""

    def __init__(self, asbuilt: AsBuilt, network: BuiltNetwork) -> None:
        self.asbuilt, self.network = asbuilt, network
        self.edges: tuple[NetworkEdge, ...] = tuple(self._all_edges())
        self.green = Green((edge.one, edge.two, edge.ohms) for edge in self.edges)
        self.coil: dict[str, NetworkCoil] = {coil.valve: coil for coil in network.coils}
        self.coil_edge = {edge.valve: edge for edge in self.edges if edge.valve}
        self._currents: dict[Amperes, Current] = {}
        self._kept: dict[tuple[NetworkChange, ...], SolvedChanges] = {}

    def _all_edges(self) -> Iterator[NetworkEdge]:
        number = 0
        for conductor in self.network.conductors:
            places = self.asbuilt.conductor[conductor.name].places
            for leg, ohms in enumerate(conductor.ohms):
                one, two = conductor.nodes[2 * leg : 2 * leg + 2]
                if one != two and ohms is not None:
                    ends = places[leg], places[leg + 1]
                    least = max(ohms, LEAST_OHMS)
                    yield NetworkEdge(
                        number, one, two, least, *ends, conductor=conductor.name, leg=leg
                    )
                    number += 1
        for link in self.network.links:
            if link.one != link.two:
                ohms, name = max(link.ohms, LEAST_OHMS), link.sensor or link.name
                yield NetworkEdge(number, link.one, link.two, ohms, link.at, link.at, link=name)
                number += 1
        for coil in self.network.coils:
            if coil.ohms and coil.hot != coil.back:
                at = self.asbuilt.valve[coil.valve].box
                yield NetworkEdge(number, coil.hot, coil.back, coil.ohms, at, at, valve=coil.valve)
                number += 1

    # -- metal -----------------------------------------------------------------------------------

    @cached_property
    def group(self) -> dict[int, int]:
        """By node a number that nodes share if metal connects them, coils left out."""
        parent: dict[int, int] = {}

        def find(node: int) -> int:
            parent.setdefault(node, node)
            while parent[node] != node:
                parent[node] = parent[parent[node]]
                node = parent[node]
            return node

        for edge in self.edges:
            one, two = find(edge.one), find(edge.two)
            if not edge.valve:
                parent[one] = two
        return {node: find(node) for node in parent}

    @cached_property
    def in_group(self) -> dict[int, list[NetworkEdge]]:
        """The edges of metal by group."""
        found: dict[int, list[NetworkEdge]] = defaultdict(list)
        for edge in self.edges:
            if not edge.valve:
                found[self.group[edge.one]].append(edge)
        return found

    @cached_property
    def coils_on(self) -> dict[int, list[NetworkEdge]]:
        """The coils that hang on a group, by either lead."""
        found: dict[int, list[NetworkEdge]] = defaultdict(list)
        for edge in self.coil_edge.values():
            for group in dict.fromkeys((self.group[edge.one], self.group[edge.two])):
                found[group].append(edge)
        return found

    @cached_property
    def in_cable_leg(self) -> dict[tuple[str, str, str], list[NetworkEdge]]:
        """The legs that lie side by side, by cable and the two places as they follow on its run."""
        found: dict[tuple[str, str, str], list[NetworkEdge]] = defaultdict(list)
        for edge in self.edges:
            if edge.conductor:
                found[self.cable_leg(edge)].append(edge)
        return found

    def cable_leg(self, edge: NetworkEdge) -> tuple[str, str, str]:
        return self.asbuilt.conductor[edge.conductor].mark.cable, edge.start, edge.end

    @cached_property
    def spliced(self) -> frozenset[tuple[str, str]]:
        """Each conductor with a place where it is in a joint; on a terminal, too."""
        boxes = ((box.id, joint.members) for box in self.asbuilt.boxes for joint in box.joints)
        found = {(member.conductor, at) for at, members in boxes for member in members}
        ends = ((c.name, place) for c in self.asbuilt.conductors for place in c.places)
        return frozenset(found | {end for end in ends if end[1] in self.asbuilt.controller})

    def meters(self, edge: NetworkEdge) -> float:
        meters = self.asbuilt.conductor[edge.conductor].legs[edge.leg]
        assert meters is not None  # else its ohms would not be known, and it would be no edge
        return meters

    # -- what a meter reads ----------------------------------------------------------------------

    def _current(self, port: Port) -> Current:
        """1 A through it."""
        if port.shares not in self._currents:
            self._currents[port.shares] = Current(self.green, port.shares)
        return self._currents[port.shares]

    def sound(self, probe: Probe) -> float:
        """Ohms as built."""
        if probe.coil >= 0:
            return self.edges[probe.coil].ohms
        if probe.parted:
            return self.reading(probe, ())
        if not self.green.are_connected(probe.one, probe.two):
            return OL
        return self._current(probe.port).ohms

    def reading(self, probe: Probe, changes: Sequence[NetworkChange], before: int = 0) -> float:
        """Ohms with the changes made; OL where nothing connects the leads any more.

        Args:
            before: how many of them, the first, are asked for with others, too.
        """
        if probe.coil >= 0:
            return _by_itself(self.edges[probe.coil], changes)
        if probe.but >= 0:
            shows = [c for c in changes if probe.but not in (c.edge, c.lead)]
            before = before if len(shows) == len(changes) else 0
            changes = shows
        if probe.parted:
            before = len(changes)
            changes = [*changes, *(opened(self.edges[number]) for number in probe.parted)]
        if not self.green.are_connected(probe.one, probe.two):
            return OL
        meter = self._current(probe.port)
        return self._read(meter.ohms, meter.across, changes, before)

    def reading_between_hots(
        self, one: Probe, other: Probe, changes: Sequence[NetworkChange]
    ) -> float:
        """From where the first lead of two meters is, whose second leads are at one C.

        Its current is that of one meter less that of the other.
        """
        if not self.green.are_connected(one.one, other.one):
            return OL
        meter, less = self._current(one.port), self._current(other.port)
        sound = meter.ohms - 2 * meter.across(less) + less.ohms
        return self._read(sound, lambda port: meter.across(port) - less.across(port), changes)

    def _read(
        self,
        sound: float,
        across: Callable[[Current], float],
        changes: Sequence[NetworkChange],
        before: int = 0,
    ) -> float:
        """Args:
        sound: ohms in the network as built.
        across: volts that the meter makes where another current goes in and out.
        """
        if not changes:
            return sound
        changed = self._changed(tuple(changes), before)
        volts = [across(current) for current in changed.currents]
        if all(abs(v) < _NO_CURRENT for v in volts):
            return sound
        less = changed.less(volts)
        ohms = OL if less is None else sound - less
        return ohms if 0.0 <= ohms < _OL_FROM else (0.0 if ohms < 0 else OL)

    def _changed(self, changes: tuple[NetworkChange, ...], before: int) -> SolvedChanges:
        """Kept: many meters of one hypothesis are asked for, and many hypotheses of one meter."""
        found = self._kept.get(changes)
        if found is None:
            known = self._changed(changes[:before], 0) if before else None
            if known and not known.are_possible:
                known, before = None, 0
            rest = [each for each in changes[before:] if self._is_within_a_part(each)]
            currents = [self._current(each.port) for each in rest]
            ohms = [each.port.inside + each.inverse for each in rest]
            found = SolvedChanges(currents, ohms, known)
            if len(self._kept) >= _MOST_KEPT:
                self._kept.clear()
            self._kept[changes] = found
        return found

    def _is_within_a_part(self, change: NetworkChange) -> bool:
        """A tie by itself between parts that nothing else connects carries no current."""
        if change.edge >= 0:
            return True
        (first, _), *others = change.port.shares
        return all(self.green.are_connected(first, node) for node, _ in others)

    def carrying(self, probe: Probe) -> dict[int, float]:
        """By number of each edge that carries anything the part of the meter's 1 A, one to two.

        In the order of the edges.
        """
        found: dict[int, float] = defaultdict(float)
        for star, volts in self._current(probe.port).volts.items():
            for number, amperes in self._edges_at.get(star, ()):
                found[number] += volts * amperes
        amperes_in = ((number, found[number] / self.edges[number].ohms) for number in sorted(found))
        return {number: amperes for number, amperes in amperes_in if abs(amperes) > LEAST_SHARE}

    @cached_property
    def _edges_at(self) -> dict[int, list[tuple[int, float]]]:
        """By star the edges whose own current comes through it, with its amperes there."""
        found: dict[int, list[tuple[int, float]]] = defaultdict(list)
        for edge in self.edges:
            for star, amperes in self._current(across(edge)).amperes.items():
                found[star].append((edge.number, amperes))
        return found


def _by_itself(edge: NetworkEdge, changes: Sequence[NetworkChange]) -> float:
    """Ohms of an edge that is taken out, with what is changed in itself."""
    ohms = edge.ohms
    for change in changes:
        if change.edge == edge.number:
            ohms -= edge.ohms**2 / (edge.ohms + change.inverse)
    return ohms if ohms < _OL_FROM else OL
