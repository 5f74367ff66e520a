"""Home runs: each cable that leaves a controller, those that go on from it, what hangs on each."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence

from cardgen.asbuilt.model.built_boxes import BuiltBox
from cardgen.asbuilt.model.built_conductors import BuiltCable, BuiltConductor
from cardgen.asbuilt.model.built_valves import BuiltValve
from cardgen.light_dataclass import dataclass
from cardgen.wiring.uses import Role


@dataclass(frozen=True, slots=True, kw_only=True)
class Branch:
    """A cable and, by the index of a place on its run, the cables that go on from there."""

    cable: BuiltCable
    further: Mapping[int, tuple[Branch, ...]]

    @property
    def start(self) -> str:
        return self.cable.run[0].at

    @property
    def cables(self) -> tuple[BuiltCable, ...]:
        """All of it, from the controller outward."""
        further = (branch for index in sorted(self.further) for branch in self.further[index])
        return self.cable, *(cable for branch in further for cable in branch.cables)

    @property
    def walk(self) -> Iterator[str]:
        """Its places as a crew walks: where a cable goes off, along that first and then on."""
        for index, place in enumerate(self.cable.places):
            yield place
            for branch in self.further.get(index, ()):
                yield from branch.walk

    @property
    def spots(self) -> Iterator[Spot]:
        for cable in self.cables:
            for place in cable.places[1:]:
                yield Spot(home=self.cable.id, cable=cable.id, place=place)


@dataclass(frozen=True, slots=True, kw_only=True)
class Spot:
    """Where a cable of a home run comes to a place; without a place where the home run begins."""

    home: str
    cable: str
    place: str = ""


def home_runs(
    cables: Iterable[BuiltCable], controllers: Iterable[str], boxes: Mapping[str, BuiltBox]
) -> tuple[Branch, ...]:
    """In the order of the controllers.

    Where several cables come to a box, one that begins there belongs to that with which it is
    joined.  A cable to which no other leads is a home run by itself.
    """
    known = {cable.id: cable for cable in cables}
    order = list(controllers)
    homes = [cable for cable in known.values() if cable.run[0].at in order]
    left = {name: cable for name, cable in known.items() if cable.run[0].at not in order}
    passing: dict[str, list[BuiltCable]] = defaultdict(list)
    for cable in known.values():
        for place in dict.fromkeys(cable.places[1:]):
            passing[place].append(cable)
    hung: dict[str, dict[int, list[BuiltCable]]] = defaultdict(lambda: defaultdict(list))
    while left:
        cable, parent = _next(left, passing, boxes)
        if parent is None:
            homes.append(cable)
        else:
            hung[parent.id][parent.places.index(cable.run[0].at)].append(cable)
        del left[cable.id]

    def branch(cable: BuiltCable) -> Branch:
        further = {index: tuple(map(branch, found)) for index, found in hung[cable.id].items()}
        return Branch(cable=cable, further=further)

    ranks = {name: rank for rank, name in enumerate(order)}
    homes.sort(key=lambda cable: ranks.get(cable.run[0].at, len(ranks)))
    return tuple(map(branch, homes))


def _next(
    left: Mapping[str, BuiltCable],
    passing: Mapping[str, Sequence[BuiltCable]],
    boxes: Mapping[str, BuiltBox],
) -> tuple[BuiltCable, BuiltCable | None]:
    """A cable and that from which it goes on, joined ones first; the first where none does."""
    other: tuple[BuiltCable, BuiltCable] | None = None
    for cable in left.values():
        start = cable.run[0].at
        groups = boxes[start].linked if start in boxes else ()
        joined = set().union(*(group.cables for group in groups if cable.id in group.cables))
        for parent in passing.get(start, ()):
            if parent.id not in left:
                if parent.id in joined:
                    return cable, parent
                other = other or (cable, parent)
    return other or (next(iter(left.values())), None)


def hanging(
    homes: Sequence[Branch], conductors: Iterable[BuiltConductor], valves: Iterable[BuiltValve]
) -> Mapping[Spot, tuple[BuiltValve, ...]]:
    """Each valve where its hot (or its path) comes to it, else its way back, else any cable."""
    spots: dict[str, list[Spot]] = defaultdict(list)
    for spot in (spot for home in homes for spot in home.spots):
        spots[spot.place].append(spot)
    starts = {home.start: Spot(home=home.cable.id, cable=home.cable.id) for home in reversed(homes)}
    paths: dict[str, set[str]] = defaultdict(set)  # by controller the cables that hold its path
    for conductor in conductors:
        for use in (use for stretch in conductor.stretches for use in stretch.uses):
            if use.role is Role.PATH:
                paths[use.of].add(conductor.mark.cable)
    found: dict[Spot, list[BuiltValve]] = defaultdict(list)
    for valve in valves:
        wire = valve.hot or valve.back
        feeding = {wire.cable} if wire else paths[valve.controller]
        here = sorted(spots.get(valve.box, ()), key=lambda spot: spot.cable not in feeding)
        last = starts.get(valve.box) or Spot(home=homes[0].cable.id, cable=homes[0].cable.id)
        found[(*here, last)[0]].append(valve)
    return {spot: tuple(valves) for spot, valves in found.items()}
