"""What the papers and pages of a yard must say, told from the tracer alone: rows by document."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from functools import cached_property
from typing import NamedTuple

import networkx as nx

from tests.oracle.compare import at_sensors, capped, places_of, toward
from tests.oracle.names import Names, headline, uses
from tests.oracle.tracer import IN, OUT, End, Joined, Stretch, Traced, _strip

Row = tuple[object, ...]
NOWHERE = 10**6  # legs to a terminal, where no way leads there


class Flag(NamedTuple):
    """One end of a stretch.

    Attributes:
        ways: more than one where both ends are as far from the terminals.
        seconds: the conductors in which it goes on in another color, one of which is shown.
    """

    headline: frozenset[str]
    mark: str
    at: str
    ways: frozenset[str]
    seconds: frozenset[str]


class Truth:
    """Everything that is printed of metal, by document, as rows of plain words."""

    def __init__(self, traced: Traced) -> None:
        self.traced, self.names = traced, Names(traced)
        self._by_conductor: dict[str, list[Stretch]] = defaultdict(list)
        for stretch in traced.stretches:
            self._by_conductor[stretch.conductor].append(stretch)
        self.boxes = [box for box in traced.joints if box not in traced.controllers]

    def rows(self) -> dict[str, list[Row]]:
        """All documents but the flags."""
        return {
            "legend": [*self._legend()],
            "legend spares": [*self._legend_spares()],
            "joints": [row for box in self.boxes for row in self._joints(box)],
            "passing": [row for box in self._carded for row in self._passing(box)],
            "spares pass": [row for box in self._carded for row in self._free(box, "spare")],
            "dead pass": [row for box in self._carded for row in self._free(box, "dead")],
            "capped": [row for box in self._carded for row in self._capped(box)],
            "spare list": [*self._spare_list()],
            "schedule": [*self._schedule()],
            "drawn coils": [*self._drawn_coils()],
            "drawn commons": [row for at in self._stops for row in self._drawn_commons(*at)],
            "drawn spares": [row for at in self._stops for row in self._drawn_free(*at, "spare")],
            "drawn dead": [row for at in self._stops for row in self._drawn_free(*at, "dead")],
            "drawn joints": [row for box in self.boxes for row in self._drawn_joints(box)],
        }

    # -- free stretches and their names ------------------------------------------------------------

    @cached_property
    def listed(self) -> dict[Stretch, str]:
        """Free stretches that the file lists, on the metal by which the last reaches `to`."""
        found: dict[Stretch, str] = {}
        for name, entry in self.traced.job.get("spares", {}).items():
            said = entry["conductor"]
            conductors = [said] if isinstance(said, str) else said
            ends = [
                end
                for end in self._ends_at(conductors[-1], entry["to"])
                if not self.traced.labels_of(end)
            ]
            pieces = {self.traced._piece[end] for end in ends}
            for each in conductors:
                for stretch in self._by_conductor[each]:
                    start = End(each, stretch.first, OUT)
                    if stretch.kind != "used" and self.traced._piece[start] in pieces:
                        found.setdefault(stretch, name)
        return found

    def _ends_at(self, conductor: str, place: str) -> tuple[End, ...]:
        places = self.traced.conductors[conductor].places
        return (
            self.traced.conductors[conductor].ends(places.index(place)) if place in places else ()
        )

    @cached_property
    def spare(self) -> dict[Stretch, str]:
        """By free stretch the name on its flag: that of the file, or its number in its cable."""
        found: dict[Stretch, str] = {}
        numbers: dict[str, int] = defaultdict(int)
        for name, conductor in self.traced.conductors.items():
            numbers[conductor.cable] += 1
            letters = iter(("", *"bcdefghij"))
            for stretch in self._by_conductor[name]:
                if stretch.kind != "used":
                    found[stretch] = self.listed.get(stretch) or (
                        f"SP-{conductor.cable}-{numbers[conductor.cable]}{next(letters)}"
                    )
        return found

    def _uses(self, stretch: Stretch) -> frozenset[str]:
        if stretch.kind == "used":
            return uses(stretch.labels)
        return frozenset({"dead" if stretch.kind == "dead" else f"spare {self.spare[stretch]}"})

    def _stretch_of(self, end: End) -> Stretch:
        """The stretch that an end of a conductor belongs to."""
        places = self.traced.conductors[end.of].places
        leg = places.index(end.at) - (end.side == IN)
        for stretch in self._by_conductor[end.of]:
            if places.index(stretch.first) <= leg < places.index(stretch.last):
                return stretch
        raise AssertionError(f"{end} is on no stretch")

    # -- flags -------------------------------------------------------------------------------------

    def flags(self) -> Iterator[Flag]:
        for stretch in self.traced.stretches:
            ends = (
                End(stretch.conductor, stretch.first, OUT),
                End(stretch.conductor, stretch.last, IN),
            )
            forth = self._way(stretch.first, stretch.last)
            back = self._way(stretch.last, stretch.first)
            near, far = (self._legs_away[end] for end in ends)
            between = {
                place: self._legs_away[End(stretch.conductor, place, IN)]
                for place in places_of(self.traced, *stretch[:3])[1:-1]
            }
            nearest = min(between.values(), default=NOWHERE)
            for end in ends:
                ways = (
                    {forth}
                    if near < far or near == NOWHERE
                    else {back}
                    if far < near
                    else {forth, back}
                )
                if nearest < min(near, far):
                    ways = {self._way(p, end.at) for p, legs in between.items() if legs == nearest}
                fed = {True: near <= far, False: far < near}[end is ends[0]]
                heads = self._headline(stretch)
                yield Flag(
                    headline=heads,
                    mark=self._below(heads, stretch.conductor),
                    at=end.at,
                    ways=frozenset(ways),
                    seconds=self._seconds(end, heads, fed=fed),
                )

    def _way(self, *places: str) -> str:
        """`contr. A → VB-1`: a controller is told apart from boxes."""
        known = self.traced.controllers
        return " → ".join(f"contr. {p}" if p in known else p for p in places)

    def _below(self, heads: frozenset[str], name: str) -> str:
        """A conductor below a headline, which is not said again where it is on its own flag."""
        is_head = self.names.flag[name] in heads
        return self.names.plain[name] if is_head else self.names.mark[name]

    def _headline(self, stretch: Stretch) -> frozenset[str]:
        if stretch.kind == "used":
            return frozenset(map(headline, stretch.labels))
        return frozenset({"DEAD" if stretch.kind == "dead" else self.spare[stretch]})

    @cached_property
    def _legs_away(self) -> Mapping[End, int]:
        """How many legs lie between each end and the nearest terminal."""
        graph: nx.Graph[End] = nx.Graph()
        for one, two, edge in self.traced.graph.edges(data=True):
            graph.add_edge(one, two, weight=int("leg" in edge))
        roots = {e for e in graph if e.of in self.traced.controllers}
        found = nx.multi_source_dijkstra_path_length(graph, roots)
        return defaultdict(lambda: NOWHERE, {end: int(legs) for end, legs in found.items()})

    def _seconds(self, end: End, heads: frozenset[str], *, fed: bool) -> frozenset[str]:
        """The marks of one other color, by which it comes to an end or in which it goes on."""
        if end.at in self.traced.controllers:
            return frozenset({""})
        nearer: set[str] = set()
        further: set[str] = set()
        for other in self._beside(end):
            far = End(other.of, toward(self.traced, other), OUT if other.side == IN else IN)
            closer = self._legs_away[far] < self._legs_away[end]
            (nearer if closer else further).add(other.of)
        wanted, rest = (nearer, further) if fed else (further, nearer)
        word = self.traced.conductors[end.of].word.split()[0]
        others = {
            self._below(heads, name)
            for name in wanted or rest
            if self.traced.conductors[name].word.split()[0] != word
        }
        return frozenset(others or {""})

    def _beside(self, end: End) -> Iterator[End]:
        """The ends of other conductors in its connector."""
        for joint in self.traced.boxes[end.at].joints:
            if end in joint.ends:
                yield from (
                    e for e in joint.ends if e.of in self.traced.conductors and e.of != end.of
                )

    # -- legends -----------------------------------------------------------------------------------

    def _legend(self) -> Iterator[Row]:
        """Controller, terminal with its owner, conductor, and of a C what it is."""
        traced = self.traced
        owner = {(load.controller, load.terminal): load.id for load in traced.loads.values()}
        for sensor, entry in traced.job.get("sensors", {}).items():
            if "in common" not in entry:
                owner[entry["controllers"], "SEN"] = sensor
        for controller, entry in traced.controllers.items():
            for terminal in dict.fromkeys(_strip(entry)):
                wires = traced.terminals.get((controller, terminal), frozenset())
                of = owner.get((controller, terminal))
                named = f"{terminal} · {of}" if of else terminal
                for wire in wires:
                    about = self._on_common(controller, wire) if terminal == "C" else ""
                    yield controller, named, self.names.mark[wire], about
                # Of terminals that the strip has under one name the first has the wires.
                empty = _strip(entry).count(terminal) - bool(wires)
                yield from ((controller, named, "", "") for _ in range(empty))

    def _on_common(self, controller: str, wire: str) -> object:
        """`return MV-A`, or the stations that come back by it; nothing of a ring."""
        (end,) = [
            e for e in self.traced._at_hand(End(controller, controller, "C")) if e.of == wire
        ][:1]
        labels = self.traced.labels_of(end)
        if ("common", controller) not in labels:
            return " + ".join(sorted(uses(labels)))
        served = [
            (load.id, self.traced.circuits[valve].back_at_controller)
            for load in self.traced.loads.values()
            if load.controller == controller and not load.own_return
            for valve in load.valves
        ]
        if self._leads_back(end):
            return "ring"
        mine = (name for name, wires in served if wire in wires)
        return frozenset(mine)

    def _leads_back(self, end: End) -> bool:
        """Without the leg that begins here, metal still joins both of its ends."""
        graph = self.traced.graph
        (far,) = [other for other, edge in graph.adj[end].items() if "leg" in edge]
        without = nx.restricted_view(graph, [], [(end, far)])
        return bool(nx.has_path(without, end, far))

    def _legend_spares(self) -> Iterator[Row]:
        for stretch, name in self.spare.items():
            if stretch.first in self.traced.controllers and stretch.kind == "spare":
                shown = name if stretch in self.listed else ""
                mark = self.names.mark[stretch.conductor]
                yield stretch.first, shown, mark, stretch.last

    # -- splice cards and the pages of boxes -------------------------------------------------------

    @property
    def _carded(self) -> list[str]:
        """Boxes with a splice card: those in which something is joined."""
        return [box for box in self.boxes if any(True for _ in self.joined(box))]

    def joined(self, box: str) -> Iterator[Joined]:
        yield from self.traced.boxes[box].joints
        for end, sensor in at_sensors(self.traced, box):
            yield Joined(frozenset({end, End(sensor, box, "")}), self.traced.labels_of(end))

    def _meaning(self, joint: Joined) -> frozenset[str]:
        if joint.labels:
            return uses(joint.labels)
        own = [end for end in joint.ends if end.of in self.traced.conductors]
        return frozenset().union(*(self._uses(self._stretch_of(end)) for end in own))

    def _joints(self, box: str) -> Iterator[Row]:
        for joint in self.joined(box):
            members = []
            for end in joint.ends:
                if end.of in self.traced.conductors:
                    way = "from" if end.side == IN else "to"
                    members.append(f"{self.names.mark[end.of]} {way} {toward(self.traced, end)}")
                else:
                    members.append(f"lead {end.of}")
            heading = frozenset(each.upper() for each in self._meaning(joint))
            yield box, heading, tuple(sorted(members))

    def _passing(self, box: str) -> Iterator[Row]:
        found = []
        for name in sorted(self.traced.boxes[box].passing):
            labels = self.traced.labels_of(End(name, box, IN))
            if labels:
                found.append((name, uses(labels)))
        yield from self._grouped(box, found)

    def passes(self, stretch: Stretch, box: str) -> bool:
        """It goes through a box uncut."""
        inside = places_of(self.traced, *stretch[:3])[1:-1]
        return box in inside and stretch.conductor in self.traced.boxes[box].passing

    def _free(self, box: str, kind: str) -> Iterator[Row]:
        found = []
        for stretch, name in self.spare.items():
            if stretch.kind == kind and self.passes(stretch, box):
                said = f"spare {name}" if kind == "spare" else f"{stretch.first} → {stretch.last}"
                found.append((stretch.conductor, frozenset({said})))
        yield from self._grouped(box, found)

    def _grouped(self, box: str, found: Iterable[tuple[str, frozenset[str]]]) -> Iterator[Row]:
        """Those that only their flags tell apart share a row, which counts them."""
        groups: dict[str, list[tuple[str, frozenset[str]]]] = defaultdict(list)
        for name, said in found:
            plain = self.names.plain[name]
            groups[plain if self.names.flag[name] else f"{plain} alone"].append((name, said))
        for group in groups.values():
            flags = frozenset(self.names.flag[name] for name, _ in group) - {""}
            said = group[0][1] if len(group) == 1 else frozenset({f"{len(group)} conductors"})
            yield box, self.names.plain[group[0][0]], flags, said

    def _capped(self, box: str) -> Iterator[Row]:
        """What each is; of a conductor that goes on, on which side."""
        for end in capped(self.traced, box):
            beyond = self.traced.conductors[end.of].ends(
                self.traced.conductors[end.of].places.index(box)
            )
            way = toward(self.traced, end) if len(beyond) > 1 else ""
            yield box, self.names.mark[end.of], self._uses(self._stretch_of(end)), way

    def record(self) -> dict[str, list[Row]]:
        """What the pages of boxes and the list of spares must say."""
        return {
            "joints": [
                (box, self._meaning(joint), members)
                for box in self.boxes
                for joint, (_, _, members) in zip(self.joined(box), self._joints(box), strict=True)
            ],
            "passing": [
                row for box in self.boxes for row in (*self._passing(box), *self._dead_through(box))
            ],
            "capped": [row for box in self.boxes for row in self._capped_ends(box)],
            "spares": [row for box in self.boxes for row in self._spares_here(box)],
            "spare list": [
                (name if s.kind == "spare" else "", self.names.mark[s.conductor], s.first, s.last)
                for s, name in self.spare.items()
            ],
        }

    def _dead_through(self, box: str) -> Iterator[Row]:
        found = [
            (s.conductor, frozenset({f"{s.first} to {s.last}"}))
            for s in self.spare
            if s.kind == "dead" and self.passes(s, box)
        ]
        for *row, said in self._grouped(box, found):
            assert isinstance(said, frozenset)
            yield *row, said | {"dead"}

    def _capped_ends(self, box: str) -> Iterator[Row]:
        """Those of spares stand among the spares."""
        for end in capped(self.traced, box):
            s = self._stretch_of(end)
            if s.kind != "spare":
                dead = {f"{s.first} to {s.last}"} if s.kind == "dead" else set()
                yield box, self.names.mark[end.of], toward(self.traced, end), self._uses(s) | dead

    def _spares_here(self, box: str) -> Iterator[Row]:
        """Whether each begins, passes uncut or ends in a box, or is whole but joined there."""
        for s, name in self.spare.items():
            if s.kind == "spare" and box in places_of(self.traced, *s[:3]):
                how = "ends here" if box == s.last else "joined"
                if box == s.first or self.passes(s, box):
                    how = "begins here" if box == s.first else "passes here uncut"
                yield box, name, self.names.mark[s.conductor], s.first, s.last, how

    # -- lists -------------------------------------------------------------------------------------

    def _spare_list(self) -> Iterator[Row]:
        """Name (none of what is dead), conductor, from, through, to, joints, promise."""
        for stretch, name in self.spare.items():
            ends = {
                End(stretch.conductor, place, side)
                for place in places_of(self.traced, *stretch[:3])
                for side in (IN, OUT)
                if not (place == stretch.first and side == IN)
                and not (place == stretch.last and side == OUT)
            }
            joined = frozenset(
                end.at
                for end in ends
                for joint in self.traced.boxes[end.at].joints
                if end in joint.ends
            )
            promised = ""
            if stretch in self.listed:
                promised = self.traced.job["spares"][name]["to"]
            through = places_of(self.traced, *stretch[:3])[1:-1]
            shown = name if stretch.kind == "spare" else ""
            mark = self.names.mark[stretch.conductor]
            yield shown, mark, stretch.first, through, stretch.last, joined, promised

    def _schedule(self) -> Iterator[Row]:
        for s in self.traced.stretches:
            through = places_of(self.traced, *s[:3])[1:-1]
            yield self.names.mark[s.conductor], s.first, through, s.last, self._uses(s)

    # -- the drawing -------------------------------------------------------------------------------

    @property
    def _stops(self) -> Iterator[tuple[str, str]]:
        """Every place to which a cable comes, in each cable."""
        for cable, entry in self.traced.job["cables"].items():
            yield from ((cable, place) for place in entry["run"][::2][1:])

    def _drawn_coils(self) -> Iterator[Row]:
        """Valve, its box, the terminal; which conductor is compared with the circuit."""
        for load in self.traced.loads.values():
            for valve, box in load.valves.items():
                yield box, valve, load.controller, load.terminal

    def _drawn_commons(self, cable: str, at: str) -> Iterator[Row]:
        """Conductors of a common that valves hang on here, or that end; joints are told apart."""
        if at in self.traced.controllers:
            yield from self._drawn_landed(cable, at)
            return
        for name, conductor in self.traced.conductors.items():
            if conductor.cable != cable or at not in conductor.places:
                continue
            ends = conductor.ends(conductor.places.index(at))
            for owner in self.traced.controllers:
                mine = [e for e in ends if ("common", owner) in self.traced.labels_of(e)]
                if not mine or any(True for end in mine for _ in self._beside(end)):
                    continue
                valves = frozenset(
                    valve
                    for load in self.traced.loads.values()
                    if not load.own_return
                    for valve, box in load.valves.items()
                    if box == at and name in self.traced.circuits[valve].back_at_valve
                )
                on = len(mine) == 2 and self._stretch_of(mine[0]) == self._stretch_of(mine[1])
                if valves or not on:
                    yield cable, at, self.names.short[name], owner, valves, not on

    def _drawn_landed(self, cable: str, at: str) -> Iterator[Row]:
        for (controller, terminal), wires in self.traced.terminals.items():
            for name in sorted(wires) if controller == at else ():
                if self.traced.conductors[name].cable == cable:
                    yield cable, at, self.names.short[name], terminal

    def _drawn_free(self, cable: str, at: str, kind: str) -> Iterator[Row]:
        """Free stretches that end here."""
        for stretch, name in self.spare.items():
            conductor = self.traced.conductors[stretch.conductor]
            if conductor.cable != cable or stretch.last != at or stretch.kind != kind:
                continue
            if any(True for _ in self._beside(End(stretch.conductor, at, IN))):
                continue
            short = self.names.short[stretch.conductor]
            if kind == "spare":
                yield cable, at, short, name if stretch in self.listed else ""
            else:
                yield cable, at, short, stretch.first

    def _drawn_joints(self, box: str) -> Iterator[Row]:
        """Joints of several conductors."""
        for joint in self.joined(box):
            own = frozenset(self.names.mark[e.of] for e in joint.ends if e.of in self.names.mark)
            if len(own) > 1:
                yield box, own, frozenset(map(_whose, self._meaning(joint)))


def _whose(said: str) -> str:
    """Stations, spares and sensors by their names alone."""
    role, _, of = said.partition(" ")
    return of if role in ("hot", "return", "spare", "sensor") else said
