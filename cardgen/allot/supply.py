"""Find the conductors that are free, for whom they are meant, and what joints as built allow."""

from __future__ import annotations

import re
from collections import Counter, defaultdict, deque
from collections.abc import Iterable, Mapping
from collections.abc import Set as AbstractSet

from cardgen.allot.allotment import Need
from cardgen.allot.needs import valves_of
from cardgen.checks.spares import ways_through
from cardgen.english_lists import natural
from cardgen.facts import Facts
from cardgen.wiring.loads import landing_words, read_name
from cardgen.wiring.wiring_parts import Conductor, End, Hop, Joint


class FreeConductors:
    """The conductors of a job that nothing claims.

    Attributes:
        promised: by box, how many spares it must keep.
        rank: by conductor, its turn: by cable name, then palette or flags order.
        bundles: the conductors by the places that they pass.
    """

    def __init__(self, facts: Facts, needs: Iterable[Need]) -> None:
        self.facts, self.job = facts, facts.job
        self._begins = {need.begin for need in needs}
        self._mentions = self._written_leads(needs)
        self._free_places: dict[str, list[tuple[str, ...]]] = defaultdict(list)
        for stretch in facts.free:
            self._free_places[stretch.conductor.name].append(stretch.places)
        self._free_counts = Counter(s.places for s in facts.free)
        self._held: dict[tuple[tuple[tuple[str, ...], int], ...], bool] = {}
        self._whose = {
            name: landing_words(station)
            for station in self.job.stations.values()
            for name in (station.id, *valves_of(station))
        }
        self.usable = self._usable()
        self.rank = {c.name: rank for rank, c in enumerate(self.usable)}
        self.bundles: dict[tuple[str, ...], list[Conductor]] = defaultdict(list)
        for conductor in self.usable:
            self.bundles[conductor.places].append(conductor)
        self._steps: dict[tuple[str, ...], dict[tuple[str, ...], int]] = {}
        self._near = {
            b.id: tuple(self._splices([b.id], self._free_counts))
            for b in self.job.boxes.values()
            if b.spares
        }
        self.promised = self._asked_spares()

    # -- who may use a conductor ---------------------------------------------------------------

    def _usable(self) -> tuple[Conductor, ...]:
        """Free ones that can be named, of metal that nothing else has a claim on."""
        claimed = self.facts.users.keys() | {s.conductor.name for s in self.facts.maybe_hots}
        by_cable: dict[str, list[Conductor]] = defaultdict(list)
        for conductor in self.facts.wiring.conductors.values():
            metal = self._metal(conductor)
            taken = any(end.of in claimed for end in metal)
            strange = any(
                end.of not in self.facts.wiring.conductors and end not in self._begins
                for end in metal
            )
            if not conductor.number and not taken and not strange:
                by_cable[conductor.cable.id].append(conductor)
        return tuple(c for cable in sorted(by_cable, key=natural) for c in by_cable[cable])

    def _metal(self, conductor: Conductor) -> list[End]:
        """Every end that is of one metal with it, itself included."""
        end = conductor.ends_at(conductor.places[0])[0]
        return self.facts.members[self.facts.network.group(end)]

    def may_use(self, need: Need, conductor: Conductor) -> bool:
        """No joint as built puts it on another terminal or on the valve of another station."""
        for end in self._metal(conductor):
            if end.of in self.job.controllers and end != need.begin:
                return False
            others = self._mentions.get(end, {})
            if any(station != need.station.id for station in others.values()):
                return False
        return True

    def is_meant_for(self, need: Need, conductor: Conductor) -> bool | None:
        """By its flag: for this station, for another thing, or (None) for nothing in particular."""
        flag = conductor.flag
        if not flag:
            return None
        whose = self._whose.get(flag) or read_name(flag)
        if re.fullmatch("[0-9]+", flag):  # the bare number, where one controller is at hand
            whose = need.begin.of, flag.lstrip("0")
        if whose[0] in self.job.controllers:
            return whose == landing_words(need.station)
        named = (self.job.master_valves, self.job.relays, self.job.sensors, self.job.spares)
        is_other = any(flag in section for section in named) or flag.upper().startswith("COM")
        return False if is_other else None

    def splices_to_go(self, boxes: tuple[str, ...]) -> dict[tuple[str, ...], int]:
        """By the places that a conductor passes, the least splices from it to one of the boxes."""
        if boxes not in self._steps:
            self._steps[boxes] = self._splices(boxes, self.bundles)
        return self._steps[boxes]

    def _splices(
        self, boxes: Iterable[str], bundles: Iterable[tuple[str, ...]]
    ) -> dict[tuple[str, ...], int]:
        by_box: dict[str, list[tuple[str, ...]]] = defaultdict(list)
        for places in bundles:
            for place in places:
                if place in self.job.boxes:  # a controller's cabinet is no place for a splice
                    by_box[place].append(places)
        steps = {places: 0 for box in boxes for places in by_box[box]}
        queue = deque(steps)
        while queue:
            here = queue.popleft()
            for place in here:
                for places in by_box.pop(place, ()):
                    if places not in steps:
                        steps[places] = steps[here] + 1
                        queue.append(places)
        return steps

    # -- joints as built -----------------------------------------------------------------------

    def _written_leads(self, needs: Iterable[Need]) -> dict[End, dict[str, str]]:
        """By conductor end in a joint as built, the valves in that joint that have no hot yet."""
        stations = {valve: need.station.id for need in needs for valve in need.valves}
        joints: dict[object, Joint] = {j.span: j for j in self.facts.wiring.joints if j.as_built}
        found: dict[End, dict[str, str]] = defaultdict(dict)
        for written in self.job.joints.values():
            for listed in written.joints:
                joint = joints.get(listed.span)
                valves = [words.value.partition(" ")[0] for words in listed.value]
                for end in joint.ends if joint else ():
                    found[end] |= {v: stations[v] for v in valves if v in stations}
        return dict(found)

    def is_written(self, need: Need) -> bool:
        """Whether joints as built say something about its terminal or its valves."""
        return any(place in self.job.joints for place in (need.begin.of, *need.boxes))

    def touching(self, one: Iterable[End], two: Iterable[End]) -> bool:
        """Whether joints as built bring two ends together; where none are written, they can be."""
        network = self.facts.network
        at = next(iter(one)).at
        if at not in self.job.joints:
            return True
        nets = {network.net(end) for end in one if network.knows(end)}
        return any(network.net(end) in nets for end in two if network.knows(end))

    def is_buildable(self, need: Need, hops: Iterable[Hop]) -> bool:
        """Joints as built take these hops from the terminal to every valve."""
        arrived = need.begin
        for hop in hops:
            if not self.touching([arrived], [hop.departure]):
                return False
            for index in hop.indices:
                arrived = hop.arrival(index)
                onward = () if index == hop.end else self._sides(hop.conductor, index)
                if onward and not self.touching(onward[:1], onward[1:]):
                    return False
                if not self._serves(need, arrived):
                    return False
        return True

    @staticmethod
    def _sides(conductor: Conductor, index: int) -> tuple[End, ...]:
        return conductor.ends_at(conductor.places[index])

    def _serves(self, need: Need, arrived: End) -> bool:
        """Each valve of the station in this place has a lead on what arrives here."""
        if arrived.at not in self.job.joints:
            return True
        network = self.facts.network
        net = network.net(arrived)
        on_it = {
            valve
            for end, valves in self._mentions.items()
            if end.at == arrived.at and network.net(end) == net
            for valve in valves
        }
        return all(v in on_it for v, box in need.valves.items() if box == arrived.at)

    # -- spares --------------------------------------------------------------------------------

    def _asked_spares(self) -> dict[str, int]:
        """By box, how many must stay: what is asked for, or what there is where that is less."""
        asked = {b.id: b.spares.value for b in self.job.boxes.values() if b.spares}
        nothing: Counter[tuple[str, ...]] = Counter()
        return {box: self._reaching(box, most, nothing) for box, most in asked.items() if most}

    def leaves_spares(self, taken: Iterable[str]) -> bool:
        """Whether every box keeps the spares that it asks for, without the conductors `taken`."""
        if not self.promised:
            return True
        gone = Counter(places for name in taken for places in self._free_places.get(name, ()))
        key = tuple(sorted(gone.items()))
        if key not in self._held:
            self._held[key] = all(
                self._reaching(box, most, gone) >= most
                for box, most in self.promised.items()
                if not gone.keys().isdisjoint(self._near[box])
            )
        return self._held[key]

    def _reaching(self, box: str, most: int, gone: Mapping[tuple[str, ...], int]) -> int:
        left = {places: self._free_counts[places] - gone[places] for places in self._near[box]}
        return ways_through(left, self.job.controllers, box, most)

    def spent(self, conductors: Iterable[Conductor], taken: AbstractSet[str]) -> frozenset[str]:
        """Those of which not one more can be taken without leaving a box too few spares."""
        found: dict[tuple[tuple[str, ...], ...], bool] = {}
        for c in conductors:
            if self.spare_places_of(c) not in found and c.name not in taken:
                found[self.spare_places_of(c)] = not self.leaves_spares(taken | {c.name})
        return frozenset(c.name for c in conductors if found.get(self.spare_places_of(c)))

    def spare_places_of(self, conductor: Conductor) -> tuple[tuple[str, ...], ...]:
        """Where it could be a spare: to the spares, conductors that are alike in it are alike."""
        return tuple(self._free_places.get(conductor.name, ()))
