"""Trace a job file by its joints alone: what every leg of every conductor is joined with.

Written without the program: it reads the file as typed, makes a graph of conductor ends, and asks
networkx what hangs together.  It knows only jobs in which all joints are written out.

    A-K1 red at VB-1:   (in) --x-- (out)    in a joint: cut; its ends hang on what the joints say
    A-K1 tan at VB-1:   (in) ----- (out)    in no joint: it passes uncut
"""

from __future__ import annotations

import math
import re
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Any, NamedTuple

import networkx as nx
import numpy as np
import yaml

Label = tuple[str, ...]
Labels = frozenset[Label]
NOTHING: Labels = frozenset()
IN, OUT = "in", "out"
_METERS_PER_FOOT = 0.3048  # the international foot of 1959


class End(NamedTuple):
    """One end in one place: of a conductor (in, out), a terminal, a lead of a valve or contact."""

    of: str
    at: str
    side: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Conductor:
    """`legs` in meters."""

    cable: str
    word: str
    awg: int
    places: tuple[str, ...]
    legs: tuple[float, ...]

    @property
    def name(self) -> str:
        return f"{self.cable} {self.word}"

    def ends(self, index: int) -> tuple[End, ...]:
        arriving = (End(self.name, self.places[index], IN),) if index else ()
        if index == len(self.legs):
            return arriving
        return (*arriving, End(self.name, self.places[index], OUT))


class Stretch(NamedTuple):
    """Legs in a row that are one piece; free ones are `spare` or `dead`."""

    conductor: str
    first: str
    last: str
    labels: Labels
    kind: str


class Joined(NamedTuple):
    """One connector: the ends in it as a person names them, and what they are joined with."""

    ends: frozenset[End]
    labels: Labels


@dataclass(frozen=True, slots=True, kw_only=True)
class Box:
    """What is in one box: connectors, what passes uncut, single ends with a cap."""

    joints: tuple[Joined, ...]
    passing: frozenset[str]
    capped: frozenset[End]


@dataclass(frozen=True, slots=True, kw_only=True)
class Load:
    """A coil between a terminal and C.

    Attributes:
        valves: by valve, the box it is in.
        own_return: it has a way back of its own.
    """

    id: str
    controller: str
    terminal: str
    valves: Mapping[str, str]
    coil_ohms: float
    own_return: bool

    @property
    def hot_end(self) -> End:
        return End(self.controller, self.controller, self.terminal)

    @property
    def back_end(self) -> End:
        return End(self.controller, self.controller, "C")


class Circuit(NamedTuple):
    """The conductors at a valve and at its controller; more than one where they fork."""

    hot_at_valve: frozenset[str]
    hot_at_controller: frozenset[str]
    back_at_valve: frozenset[str]
    back_at_controller: frozenset[str]


def ohms_per_meter(awg: int) -> float:
    """At 20 C, solid: diameter 0.005 in x 92^((36-n)/39) (ASTM B258), copper of 1/58 ohm mm2/m.

    The resistivity is that of IEC 60028 (1925), 100 % IACS.
    """
    millimeters = 0.127 * math.pow(92, (36 - awg) / 39)
    return (1 / 58) / (math.pi / 4 * millimeters**2)


class Traced:
    """Everything that the joints of a file prove."""

    def __init__(self, text: str) -> None:
        # Every scalar as typed: YAML's own ideas of numbers, dates and `no` would spoil names.
        self.job: dict[str, Any] = yaml.load(text, Loader=yaml.CBaseLoader)  # noqa: S506
        self.controllers: dict[str, Any] = self.job["controllers"]
        self.conductors = {c.name: c for c in _conductors(self.job)}
        self.loads = {load.id: load for load in _loads(self.job)}
        self._valves = {v: load for load in self.loads.values() for v in load.valves}
        self.joints = {
            at: [list(self._ends_of(at, joint)) for joint in joints]
            for at, joints in self.job["joints"].items()
        }
        self._number_leads()
        self.graph: nx.Graph[End] = nx.Graph()
        self._uncut: set[tuple[str, int]] = set()
        self._build()
        self._mark()

    # -- reading a joint ---------------------------------------------------------------------------

    def _ends_of(self, at: str, words: Iterable[str]) -> Iterator[End]:
        for said in words:
            yield from self._named(at, said)

    def _named(self, at: str, said: str) -> Iterable[End]:
        if at in self.controllers and said in _strip(self.controllers[at]):
            return [End(at, at, said)]
        if said in self._valves:
            return [End(said, at, "lead")]
        first, _, side = said.partition(" ")
        if first in self.job.get("sensors", {}) or first in self.job.get("decoders", {}):
            return [End(first, at, side)]
        name, _, side = said.rpartition(" ")
        if side not in (IN, OUT):
            name, side = said, ""
        conductor = self.conductors[name]
        ends = conductor.ends(conductor.places.index(at))
        chosen = [end for end in ends if side in ("", end.side)]
        assert chosen, f"{said} at {at}: there is no such end"
        return chosen

    def _number_leads(self) -> None:
        """Each time that a valve is named is one of its two leads."""
        for joints in self.joints.values():
            seen: dict[str, int] = defaultdict(int)
            for joint in joints:
                for index, end in enumerate(joint):
                    if end.side == "lead":
                        seen[end.of] += 1
                        joint[index] = end._replace(side=f"lead {seen[end.of]}")

    # -- the graph ---------------------------------------------------------------------------------

    def _build(self) -> None:
        held: set[End] = set()
        for joints in self.joints.values():
            for joint in joints:
                self.graph.add_nodes_from(joint)
                self.graph.add_edges_from((joint[0], end, {"ohms": 0.0}) for end in joint[1:])
                held.update(joint)
        for conductor in self.conductors.values():
            for index in range(len(conductor.places)):
                ends = conductor.ends(index)
                self.graph.add_nodes_from(ends)
                if len(ends) == 2 and held.isdisjoint(ends):
                    self.graph.add_edge(*ends, ohms=0.0)
                    self._uncut.add((conductor.name, index))
            for leg, (one, two) in enumerate(_legs(conductor)):
                ohms = conductor.legs[leg] * ohms_per_meter(conductor.awg)
                self.graph.add_edge(one, two, ohms=ohms, leg=(conductor.name, leg))
        for sensor, entry in self.job.get("sensors", {}).items():
            sides = [End(sensor, _one(entry["controllers"]), f"{s} side") for s in ("C", "field")]
            if "in common" in entry and all(side in self.graph for side in sides):
                self.graph.add_edge(*sides, ohms=0.0)  # a closed contact
        self.held = held

    def _mark(self) -> None:
        """The labels of every piece of metal."""
        self._piece: dict[End, int] = {}
        self.pieces: list[set[End]] = list(nx.connected_components(self.graph))
        for number, ends in enumerate(self.pieces):
            self._piece |= dict.fromkeys(ends, number)
        marks: dict[int, set[Label]] = defaultdict(set)
        for end, label in self._anchors():
            if end in self._piece:
                marks[self._piece[end]].add(label)
        self._labels = [frozenset(marks[number]) for number in range(len(self.pieces))]

    def _anchors(self) -> Iterator[tuple[End, Label]]:
        busy = {load.hot_end for load in self.loads.values()}
        for load in self.loads.values():
            yield load.hot_end, ("hot", load.id)
        on_terminals = defaultdict(list)
        for sensor, entry in self.job.get("sensors", {}).items():
            if "in common" not in entry:
                on_terminals[_one(entry["controllers"])].append(sensor)
            for name in _listed(entry.get("conductors", ())):
                yield self.conductors[name].ends(0)[0], ("sensor", sensor)
        for controller, entry in self.controllers.items():
            for terminal in _strip(entry):
                end = End(controller, controller, terminal)
                if end in busy:
                    continue
                if terminal == "C":
                    yield end, ("common", controller)
                elif terminal.startswith("PATH "):
                    yield end, ("path", controller, terminal.removeprefix("PATH "))
                elif terminal == "SEN" and on_terminals[controller]:
                    yield from ((end, ("sensor", s)) for s in on_terminals[controller])
                else:
                    yield end, ("terminal", controller, terminal)

    # -- what it finds -----------------------------------------------------------------------------

    def labels_of(self, end: End) -> Labels:
        """What an end is joined with; of a conductor that of its leg."""
        conductor = self.conductors.get(end.of)
        if conductor is None:
            return self._labels[self._piece[end]]
        index = conductor.places.index(end.at)
        return self.legs[end.of, index - (end.side == IN)]

    @cached_property
    def legs(self) -> dict[tuple[str, int], Labels]:
        """By conductor and leg, what it is joined with."""
        found = {}
        for conductor in self.conductors.values():
            for leg, (one, _) in enumerate(_legs(conductor)):
                found[conductor.name, leg] = self._labels[self._piece[one]]
        for key, owners in self._own_returns().items():
            common = {label for label in found[key] if label[0] == "common"}
            found[key] = (found[key] - common) | {("return", owner) for owner in owners}
        return found

    def _own_returns(self) -> dict[tuple[str, int], set[str]]:
        """The legs that only coils with a return of their own use on their way to C."""
        if not any(load.own_return for load in self.loads.values()):
            return {}
        users: dict[tuple[str, int], set[str]] = defaultdict(set)
        for load in self.loads.values():
            for valve, box in load.valves.items():
                for lead in (End(valve, box, "lead 1"), End(valve, box, "lead 2")):
                    if self._piece.get(lead) == self._piece.get(load.back_end):
                        for leg in self._way(load.back_end, lead):
                            users[leg].add(load.id)
        own = {load.id for load in self.loads.values() if load.own_return}
        return {leg: found for leg, found in users.items() if found <= own}

    def _way(self, one: End, two: End) -> set[tuple[str, int]]:
        """Every leg on some simple way between two ends: the blocks strung between them."""
        tree, of_edge = self._blocks(self._piece[one])
        found: set[tuple[str, int]] = set()
        for node in nx.shortest_path(tree, one, two):
            if isinstance(node, int):
                found |= of_edge[node]
        return found

    def _blocks(self, piece: int) -> tuple[nx.Graph[Any], list[set[tuple[str, int]]]]:
        """A tree of ends and of the blocks (rings, single edges) that they belong to."""
        if piece not in self._block_trees:
            tree: nx.Graph[Any] = nx.Graph()
            legs: list[set[tuple[str, int]]] = []
            graph = self.graph.subgraph(self.pieces[piece])
            for number, edges in enumerate(nx.biconnected_component_edges(graph)):
                legs.append(set())
                for one, two in edges:
                    tree.add_edge(one, number)
                    tree.add_edge(two, number)
                    leg = graph.edges[one, two].get("leg")
                    if leg:
                        legs[number].add(leg)
            self._block_trees[piece] = tree, legs
        return self._block_trees[piece]

    @cached_property
    def _block_trees(self) -> dict[int, tuple[nx.Graph[Any], list[set[tuple[str, int]]]]]:
        return {}

    @cached_property
    def stretches(self) -> tuple[Stretch, ...]:
        """Every conductor in pieces, in the order of the file."""
        return tuple(s for c in self.conductors.values() for s in self._stretches(c))

    def _stretches(self, conductor: Conductor) -> Iterator[Stretch]:
        labels = [self.legs[conductor.name, leg] for leg in range(len(conductor.legs))]
        free = not any(labels)
        first = 0
        for index in range(1, len(labels) + 1):
            if (
                index < len(labels)
                and labels[index] == labels[first]
                and self._whole(conductor, index)
            ):
                continue
            found = labels[first]
            at_home = first == 0 and conductor.places[0] in self.controllers
            kind = "used" if found else "spare" if free or at_home else "dead"
            places = conductor.places
            yield Stretch(conductor.name, places[first], places[index], found, kind)
            first = index

    def _whole(self, conductor: Conductor, index: int) -> bool:
        """It passes a place uncut, or both its ends are in one connector."""
        if (conductor.name, index) in self._uncut:
            return True
        ends = set(conductor.ends(index))
        return any(ends <= joint for joint in self._joint_sets[conductor.places[index]])

    @cached_property
    def _joint_sets(self) -> dict[str, list[set[End]]]:
        """By place its connectors; what is on one terminal is one."""
        found: dict[str, list[set[End]]] = {}
        for at, joints in self.joints.items():
            graph: nx.Graph[End] = nx.Graph()
            for joint in joints:
                nx.add_star(graph, joint)
            found[at] = list(nx.connected_components(graph))
        return found

    @cached_property
    def boxes(self) -> dict[str, Box]:
        """Box by box, and controller by controller."""
        return {at: self._box(at) for at in self.joints}

    def _box(self, at: str) -> Box:
        joints = tuple(
            Joined(frozenset(ends), self._meaning(ends)) for ends in self._joint_sets[at]
        )
        passing, capped = set(), set()
        for conductor in self.conductors.values():
            if at not in conductor.places:
                continue
            index = conductor.places.index(at)
            if (conductor.name, index) in self._uncut:
                passing.add(conductor.name)
                continue
            for end in conductor.ends(index):
                alone = any(joint == {end} for joint in self._joint_sets[at])
                if end not in self.held or alone:
                    capped.add(end)
        return Box(
            joints=tuple(joint for joint in joints if len(joint.ends) > 1),
            passing=frozenset(passing),
            capped=frozenset(capped),
        )

    def _meaning(self, ends: set[End]) -> Labels:
        """What a connector is: what its conductors are, and the terminal if it is on one."""
        telling = [e for e in ends if e.of in self.conductors or e.of in self.controllers]
        return frozenset().union(*(self.labels_of(end) for end in telling or ends))

    @cached_property
    def circuits(self) -> dict[str, Circuit]:
        """By valve, which conductors bring its hot and take its common, at both ends."""
        return {
            valve: self._circuit(load, valve, box)
            for load in self.loads.values()
            for valve, box in load.valves.items()
        }

    def leads(self, load: Load, valve: str, box: str) -> tuple[End, End]:
        """The lead on its hot and the one on its way back."""
        leads = [End(valve, box, f"lead {n}") for n in (1, 2)]
        hot, back = self._piece[load.hot_end], self._piece[load.back_end]
        for one, two in (leads, reversed(leads)):
            if self._piece.get(one) == hot and self._piece.get(two) == back:
                return one, two
        raise AssertionError(f"{valve} is not between its hot and its common")

    def _circuit(self, load: Load, valve: str, box: str) -> Circuit:
        hot, back = self.leads(load, valve, box)
        hots, backs = self._way(load.hot_end, hot), self._way(load.back_end, back)
        return Circuit(
            hot_at_valve=self._touching(hot, hots),
            hot_at_controller=self._touching(load.hot_end, hots),
            back_at_valve=self._touching(back, backs),
            back_at_controller=self._touching(load.back_end, backs),
        )

    def _touching(self, end: End, way: set[tuple[str, int]]) -> frozenset[str]:
        """The conductors of a way that end in the connector (or behind the contact) of an end."""
        found = set()
        for other in self._at_hand(end):
            conductor = self.conductors.get(other.of)
            if conductor is None:
                continue
            leg = conductor.places.index(other.at) - (other.side == IN)
            if (other.of, leg) in way:
                found.add(other.of)
        return frozenset(found)

    def _at_hand(self, end: End) -> set[End]:
        """All ends that can be reached in the same place without traveling a leg."""
        seen, left = {end}, [end]
        while left:
            here = left.pop()
            for other, edge in self.graph.adj[here].items():
                if "leg" not in edge and other not in seen:
                    seen.add(other)
                    left.append(other)
        return seen

    @cached_property
    def terminals(self) -> dict[tuple[str, str], frozenset[str]]:
        """By controller and terminal, the conductors on it or behind a sensor's contact on it."""
        found = {}
        for controller, entry in self.controllers.items():
            for terminal in dict.fromkeys(_strip(entry)):
                end = End(controller, controller, terminal)
                if end in self.graph:
                    found[controller, terminal] = frozenset(
                        e.of for e in self._at_hand(end) if e.of in self.conductors
                    )
        return found

    # -- ohms --------------------------------------------------------------------------------------

    def ohms(self, load: str) -> float:
        """Between its terminal and C at 20 C, through all of its coils: a nodal solve.

        G v = i with one ampere put in at the terminal and C as ground; v there is the answer.
        """
        entry = self.loads[load]
        pieces = {self._piece[entry.hot_end], self._piece[entry.back_end]}
        node = self._nodes(pieces)
        size = max(node.values()) + 1
        siemens = np.zeros((size, size))

        def add(one: int, two: int, ohms: float) -> None:
            for a, b in ((one, two), (two, one)):
                siemens[a, a] += 1 / ohms
                siemens[a, b] -= 1 / ohms

        for number in pieces:
            for one, two, edge in self.graph.subgraph(self.pieces[number]).edges(data=True):
                if node[one] != node[two]:
                    add(node[one], node[two], edge["ohms"])
        for valve, box in entry.valves.items():
            hot, back = self.leads(entry, valve, box)
            add(node[hot], node[back], entry.coil_ohms)
        ground = node[entry.back_end]
        keep = [n for n in range(size) if n != ground]
        amperes = np.zeros(size)
        amperes[node[entry.hot_end]] = 1.0
        volts = np.linalg.solve(siemens[np.ix_(keep, keep)], amperes[keep])
        return float(volts[keep.index(node[entry.hot_end])])

    def _nodes(self, pieces: Iterable[int]) -> dict[End, int]:
        """A number for each end; ends in one connector share it."""
        found: dict[End, int] = {}
        for number in sorted(pieces):
            for end in self.pieces[number]:
                if end not in found:
                    found |= dict.fromkeys(self._at_hand(end), len(found))
        numbers = {first: n for n, first in enumerate(dict.fromkeys(found.values()))}
        return {end: numbers[first] for end, first in found.items()}


# -- reading the file ------------------------------------------------------------------------------


def _legs(conductor: Conductor) -> Iterator[tuple[End, End]]:
    for one, two in zip(conductor.places, conductor.places[1:], strict=False):
        yield End(conductor.name, one, OUT), End(conductor.name, two, IN)


def _listed(said: str | Iterable[str]) -> list[str]:
    return [said] if isinstance(said, str) else list(said)


def _one(said: str | Iterable[str]) -> str:
    return _listed(said)[0]


def _counted(said: str) -> list[str]:
    """`1 to 8` and `A1 to A3` as each; anything else as it stands."""
    between = re.fullmatch(r"(.*?)(\d+) to \1(\d+)", said)
    if not between:
        return [said]
    stem, first, last = between[1], int(between[2]), int(between[3])
    return [f"{stem}{number}" for number in range(first, last + 1)]


def _strip(controller: Mapping[str, Any]) -> list[str]:
    return [name for said in controller["terminals"] for name in _counted(said)]


def _meters(said: str) -> float:
    number, unit = said.split()
    return float(number) * {"ft": _METERS_PER_FOOT, "m": 1.0}[unit]


def _awg(said: str) -> int:
    number, unit = said.split()
    assert unit == "AWG", said
    return int(number)


def _conductors(job: Mapping[str, Any]) -> Iterator[Conductor]:
    for cable, entry in job["cables"].items():
        places = tuple(entry["run"][::2])
        legs = tuple(_meters(said) for said in entry["run"][1::2])
        colors = entry.get("colors") or job.get("palettes", {}).get(entry.get("palette"), ())
        for word in colors:
            yield Conductor(
                cable=cable, word=word, awg=_awg(entry["gauge"]), places=places, legs=legs
            )
        for single in entry.get("singles", ()):
            last = places.index(single["to"])  # every end of every single is written out
            for flag in [f for said in _listed(single.get("flags", "")) for f in _counted(said)]:
                yield Conductor(
                    cable=cable,
                    word=f"{single['color']} {flag}".strip(),
                    awg=_awg(single["gauge"]),
                    places=places[: last + 1],
                    legs=legs[:last],
                )


def _loads(job: Mapping[str, Any]) -> Iterator[Load]:
    controllers = job["controllers"]

    def one(
        name: str, entry: Mapping[str, Any], controller: str, terminal: str, valves: dict[str, str]
    ) -> Load:
        coil = entry.get("coil") or controllers[controller]["coil"]
        return Load(
            id=name,
            controller=controller,
            terminal=terminal,
            valves=valves,
            coil_ohms=float(job["coils"][coil]["resistance"].removesuffix(" ohm")),
            own_return="return" in entry,
        )

    for name, entry in job.get("stations", {}).items():
        if "decoder" in entry:
            continue
        named = re.fullmatch(r"(.+?)[-._]?0*(\d+)", name)
        controller = entry.get("controller") or (named[1] if named else "")
        terminal = entry.get("terminal") or (named[2] if named else "")
        valves = {v: said["box"] for v, said in entry.get("valves", {}).items()}
        yield one(name, entry, controller, terminal, valves or {name: entry["box"]})
    for name, entry in job.get("master valves", {}).items():
        controller = _one(entry["controllers"])
        yield one(name, entry, controller, entry.get("terminal", "MV"), {name: entry["box"]})
    for name, entry in job.get("relays", {}).items():
        terminal = entry.get("terminal", "MV")
        yield one(name, entry, entry["controller"], terminal, {name: entry["box"]})
