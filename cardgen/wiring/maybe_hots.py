"""Find the free metal that may be the hot of a coil of which the file says it is not known.

A ===[K1 green, brown]=== VB-1 ====== SB-1 ===[K2 red, blue]=== VB-7     both pairs: A7 is in VB-7
                                       `====[K3 pink]==== VB-9           not pink: it leads away

Metal may be the hot if a way from the terminal to the valve can run along it that comes to no place
twice.  In boxes whose joints are written nothing is joined but what is written; what the file lists
as a spare is known to be one, and what is left of a conductor in use is fed by nothing, unless of
that use the file knows one end only.
"""

from __future__ import annotations

from collections import defaultdict, deque
from collections.abc import Collection, Iterable, Iterator

from cardgen.wiring.greatest_flow import Arcs, add_arc, one_more
from cardgen.wiring.network import Network
from cardgen.wiring.wiring_parts import Conductor, End, Load, Wiring

_Places = frozenset[str]


def maybe_hots(
    wiring: Wiring, network: Network, used: Collection[int]
) -> dict[int, tuple[str, ...]]:
    """By group of metal, the owners of the coils whose hot it may be; `used` are groups in use."""
    unknown = [load for load in wiring.loads.values() if load.hot_unknown]
    if not unknown:
        return {}
    metal = _FreeMetal(wiring, network, used)
    found: dict[int, dict[str, None]] = defaultdict(dict)
    for load in unknown:
        for group in metal.candidates(load):
            found[group][load.owner.id] = None
    return {group: tuple(owners) for group, owners in found.items()}


class _FreeMetal:
    """The groups of metal that nothing uses, by the places that they come to."""

    def __init__(self, wiring: Wiring, network: Network, used: Collection[int]) -> None:
        self.wiring, self.network, self.used = wiring, network, used
        self._all_places: dict[int, set[str]] = defaultdict(set)
        self._known_in_part: dict[str, set[str]] = defaultdict(set)
        self._only_for: dict[int, set[str]] = defaultdict(set)
        for load in wiring.loads.values():
            for hop in (hop for part in load.known_parts for hop in part.hops):
                self._known_in_part[hop.conductor.name].add(load.owner.id)
        free: set[int] = set()
        for conductor in wiring.conductors.values():
            groups = self._groups(conductor)
            for leg, group in enumerate(groups):
                self._all_places[group].update(conductor.places[leg : leg + 2])
            free |= self._not_left_over(conductor, groups)
        free -= self._listed_spares()
        self.groups_by_places: dict[_Places, list[int]] = defaultdict(list)
        for group in sorted(free):
            self.groups_by_places[frozenset(self._all_places[group])].append(group)
        self._metal_at: dict[str, list[_Places]] = defaultdict(list)
        for places in self.groups_by_places:
            for place in sorted(places):
                self._metal_at[place].append(places)
        self._known: dict[tuple[_Places, _Places], tuple[_Places, ...]] = {}

    def _groups(self, conductor: Conductor) -> list[int]:
        """Leg by leg."""
        return [self.network.group(ends[-1]) for ends in conductor.ends[: len(conductor.legs)]]

    def _not_left_over(self, conductor: Conductor, groups: list[int]) -> set[int]:
        free = {group for group in groups if group not in self.used}
        if len(free) == len(set(groups)):
            return free
        begins = conductor.places[0] in self.wiring.job.controllers
        from_controller = free & set(groups[:1]) if begins else set()
        owners = self._known_in_part.get(conductor.name)
        if owners is None:
            return from_controller
        for group in free - from_controller:
            self._only_for[group] |= owners
        return free

    def _listed_spares(self) -> set[int]:
        found: set[int] = set()
        for spare in self.wiring.job.spares.values():
            begins = spare.begins.value if spare.begins else ""
            to = spare.to.value if spare.to else ""
            for words in spare.conductor:
                name = self.wiring.by_words.get(words.value)
                if name is not None:
                    conductor = self.wiring.conductors[name]
                    first, last = conductor.between(words.begins or begins, words.ends or to)
                    found.update(self._groups(conductor)[first:last])
        return found

    def candidates(self, load: Load) -> Iterator[int]:
        """Its way begins or ends with what joints as built put on its terminal or its lead."""
        lead = self._joined_lead(load)
        if lead is not None and self.network.group(lead) not in self.used:
            yield self.network.group(lead)
        on_terminal = self._all_places.get(self.network.group(load.hot_end))
        home = on_terminal or {load.hot_end.at}
        goal = self._all_places[self.network.group(lead)] if lead else {load.box}
        if (on_terminal or lead) and home & goal and not load.known_parts:
            return  # metal leads all the way, or lacks one joint
        begins = self._joinable(home) if on_terminal else frozenset(home)
        ends = begins, self._joinable(goal) if lead else frozenset(goal)
        if ends not in self._known:
            self._known[ends] = tuple(self._between(*ends))
        for places in self._known[ends]:
            for group in self.groups_by_places[places]:
                if load.owner.id in self._only_for.get(group, (load.owner.id,)):
                    yield group

    def _joinable(self, places: Iterable[str]) -> _Places:
        return frozenset(filter(self._may_join, places))

    def _joined_lead(self, load: Load) -> End | None:
        """The lead with a conductor in its joint that is not on the way back."""
        back = self.network.group(load.back_end)
        groups = {self.network.group(lead): lead for lead in (load.back_lead, load.hot_lead)}
        return next((groups[g] for g in groups if g != back and g in self._all_places), None)

    def _between(self, home: _Places, goal: _Places) -> Iterator[_Places]:
        for places in self._near(goal, home):
            if (places & home and places & goal) or self._joins(places, home, goal):
                yield places

    def _near(self, goal: _Places, home: _Places) -> Iterator[_Places]:
        """All metal to which a way leads from the valve without the terminal."""
        queue, reached = deque(sorted(goal)), set(goal)
        told: set[_Places] = set()
        while queue:
            place = queue.popleft()
            for places in self._metal_at.get(place, ()):
                if places not in told:
                    told.add(places)
                    yield places
                    further = sorted(self._joinable(places - reached - home))
                    reached.update(further)
                    queue.extend(further)

    def _may_join(self, place: str) -> bool:
        job = self.wiring.job
        return place in job.boxes and place not in job.joints

    def _joins(self, metal: _Places, home: _Places, goal: _Places) -> bool:
        """Two ways lead from it, one to the terminal and one to the valve, that share no place."""
        arcs: Arcs = {}
        for other in self._near(goal, home):
            add_arc(arcs, ("into", other), ("out of", other), 1)
            for place in sorted(other):
                add_arc(arcs, ("out of", other), ("into", place), 1)
                if self._may_join(place):
                    add_arc(arcs, ("out of", place), ("into", other), 1)
        for place in sorted({place for other in self._near(goal, home) for place in other}):
            add_arc(arcs, ("into", place), ("out of", place), 1)
        for end, places in (("terminal", home), ("valve", goal)):
            for place in sorted(places):
                add_arc(arcs, ("out of", place), end, 1)
            add_arc(arcs, end, "both", 1)
        source = ("out of", metal)
        return one_more(arcs, source, "both") and one_more(arcs, source, "both")
