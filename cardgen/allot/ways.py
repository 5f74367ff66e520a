"""Search the conductors for ways from a terminal to a station's boxes, the best first.

A ---[red]---------+  SB-1  +---[red A3]---------- VB-2      no change of color, one splice
  `--[blue]--------'        `---[orange SP]------- VB-2      one change, one splice

Partial ways wait in a heap in the order of what they cost at least, so the first that arrives is
the best; equal ones come in the order of cable names, palettes and flags.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator
from heapq import heappop, heappush
from itertools import pairwise

from cardgen.allot.allotment import Cost, Need, Way
from cardgen.allot.supply import FreeConductors
from cardgen.wiring.routes import meeting, route
from cardgen.wiring.wiring_parts import Conductor, Hop, Named

MOST_TRIED = 20_000  # partial ways in one search; a job of the usual kind takes some hundred
DETOUR = 3  # splices more than on the shortest way; whoever wants more writes the hot himself

_Path = tuple[Conductor, ...]
_Waiting = tuple[Cost, tuple[int, ...], bool, int, _Path, tuple[Hop, ...]]


class Search:
    """The ways of one station.

    Args:
        barred: cable by cable, ways that have been found wanting.
        as_built: false leaves the written joints out of account.

    Attributes:
        allowed: the conductors that may be on a way, in the order of their rank.
    """

    def __init__(
        self,
        supply: FreeConductors,
        need: Need,
        *,
        barred: Collection[tuple[str, ...]] = (),
        as_built: bool = True,
    ) -> None:
        self.supply, self.need, self.as_built = supply, need, as_built
        self.barred = barred
        self._steps = supply.splices_to_go(need.boxes)
        near = [c for places in self._steps for c in supply.bundles[places]]
        near.sort(key=lambda c: supply.rank[c.name])
        self.allowed = [c for c in near if not as_built or supply.may_use(need, c)]
        # By conductor, whether its flag is for this station; None if for nothing.
        self._meant = {c.name: supply.is_meant_for(need, c) for c in self.allowed}
        self._onward_from: dict[tuple[str, int], list[tuple[Conductor, int]]] = {}
        starts = [self._steps[c.places] for c in self._starting()]
        self._most = min(starts, default=0) + DETOUR + len(need.boxes) - 1

    def ways(self, taken: Collection[str] = ()) -> Iterator[Way]:
        """Every way without the conductors `taken`, the best first."""
        own = any(self._meant[c.name] for c in self.allowed if c.name not in taken)
        heap: list[_Waiting] = []
        for conductor in self._starting():
            if conductor.name not in taken:
                start = conductor.places.index(self.need.begin.at)
                heappush(heap, self._waiting((conductor,), start, own))
        for _ in range(MOST_TRIED):
            if not heap:
                return
            bound, order, _, start, path, hops = heappop(heap)
            hops = hops or self._arrives(path)
            if not hops:
                for following, entered in self._onward(path, start):
                    if following.name not in taken:
                        heappush(heap, self._waiting((*path, following), entered, own))
                continue
            way = Way(conductors=path, hops=hops, cost=self._cost(path, hops))
            if way.cost > bound:
                heappush(heap, (way.cost, order, True, start, path, hops))
            elif self._is_open(way):
                yield way

    def _is_open(self, way: Way) -> bool:
        if way.cables in self.barred:
            return False
        return not self.as_built or self.supply.is_buildable(self.need, way.hops)

    def _starting(self) -> Iterator[Conductor]:
        begin = self.need.begin
        for c in self.allowed:
            if begin.at not in c.places:
                continue
            if not self.as_built or self.supply.touching([begin], c.ends_at(begin.at)):
                yield c

    def _onward(self, path: _Path, start: int) -> Iterator[tuple[Conductor, int]]:
        """What can take over at the end of a partial way, with where it is entered."""
        key = path[-1].name, start
        if key not in self._onward_from:
            self._onward_from[key] = list(self._find_onward(path[-1], start))
        cables = {c.cable.id for c in path}
        for following, entered in self._onward_from[key]:
            too_long = len(path) + self._steps[following.places] > self._most
            if not too_long and following.cable.id not in cables:
                yield following, entered

    def _find_onward(self, last: Conductor, start: int) -> Iterator[tuple[Conductor, int]]:
        met: dict[tuple[str, ...], str | None] = {}  # the same for all conductors of a cable
        for following in self.allowed:
            if following.cable.id == last.cable.id:
                continue
            if following.places not in met:
                met[following.places] = meeting(last, following, start)
            at = met[following.places]
            if at is None or at not in self.supply.job.boxes:
                continue
            ends = last.ends_at(at), following.ends_at(at)
            if not self.as_built or self.supply.touching(*ends):
                yield following, following.places.index(at)

    def _arrives(self, path: _Path) -> tuple[Hop, ...]:
        """The hops, by the very rule that reads a written hot; none if a box is missed."""
        place = self.need.station.span
        found = route([Named(c, place) for c in path], self.need.begin, self.need.boxes, "")
        complete = found.fault is None and len(found.hops) == len(path)
        return found.hops if complete else ()

    def _waiting(self, path: _Path, start: int, own: bool) -> _Waiting:
        order = tuple(self.supply.rank[c.name] for c in path)
        cost = self._cost(path)
        return cost._replace(unflagged=0) if own else cost, order, False, start, path, ()

    def _cost(self, path: _Path, hops: tuple[Hop, ...] = ()) -> Cost:
        """Of a whole way; of a partial one (without its hops) at least."""
        meant = [self._meant[c.name] for c in path]
        return Cost(
            unclear=sum(self._is_unclear(box, hops) for box in self.need.boxes) if hops else 0,
            inward=sum(hop.end < hop.start for hop in hops),
            foreign=meant.count(False),
            unflagged=0 if True in meant else 1,
            changes=sum(one.insulation != two.insulation for one, two in pairwise(path)),
            splices=len(path) - 1 + self._steps[path[-1].places],
        )

    def _is_unclear(self, box: str, hops: tuple[Hop, ...]) -> bool:
        """Whether several commons are in a box, and none of them in the cable of the hot."""
        arriving = next(
            (h.conductor.cable.id for h in hops for i in h.indices if h.conductor.places[i] == box),
            "",
        )
        if self.need.station.common or box in self.supply.job.joints:
            return False
        landings = self.supply.facts.wiring.commons[self.need.begin.of]
        commons = [la.conductor.cable.id for la in landings if box in la.places]
        return len(commons) > 1 and arriving not in commons
