"""Search the conductors for ways from a terminal to a station's boxes, the best first.

A ---[red]---------+  SB-1  +---[red A3]---------- VB-2      no change of colour, one splice
  `--[blue]--------'        `---[orange SP]------- VB-2      one change, one splice

Partial ways wait in a heap in the order of what they cost at least, so the first that arrives is
the best; equal ones come in the order of cable names, palettes and flags.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Collection, Iterator
from heapq import heappop, heappush
from itertools import pairwise

from cardgen.allot.model import Cost, Need, Way
from cardgen.allot.supply import Supply
from cardgen.wiring.model import Conductor, Hop
from cardgen.wiring.routes import meeting, route

MOST_TRIED = 20_000  # partial ways in one search; a job of the usual kind takes some hundred
DETOUR = 3  # splices more than on the shortest way; whoever wants more writes the hot himself

_Path = tuple[Conductor, ...]
_Waiting = tuple[Cost, tuple[int, ...], bool, _Path, tuple[Hop, ...]]


class Search:
    """The ways of one station; `as_built` false leaves the written joints out of account."""

    def __init__(self, supply: Supply, need: Need, *, as_built: bool = True) -> None:
        self.supply, self.need, self.as_built = supply, need, as_built
        self._allowed = [c for c in supply.usable if not as_built or supply.may_use(need, c)]
        self._meant = {c.name: supply.is_meant_for(need, c) for c in self._allowed}
        self._steps = self._splices_to_go()
        starts = [self._steps[c.places] for c in self._starting()]
        self._most = min(starts, default=0) + DETOUR + len(need.boxes) - 1

    def ways(self, taken: Collection[str] = ()) -> Iterator[Way]:
        """Every way without the conductors `taken`, the best first."""
        heap: list[_Waiting] = []
        allowed = [c for c in self._allowed if c.name not in taken and c.places in self._steps]
        own = any(self._meant[c.name] for c in allowed)
        for conductor in self._starting():
            if conductor.name not in taken:
                heappush(heap, self._waiting((conductor,), own))
        for _ in range(MOST_TRIED):
            if not heap:
                return
            bound, order, arrived, path, hops = heappop(heap)
            if not arrived:
                hops = self._arrives(path)
                if not hops:
                    self._push_onward(heap, path, allowed, own)
                    continue
                cost = self._cost(path, own=False)
                if cost > bound:
                    heappush(heap, (cost, order, True, path, hops))
                    continue
            if not self.as_built or self.supply.is_buildable(self.need, hops):
                yield Way(conductors=path, hops=hops, cost=self._cost(path, own=False))

    def _starting(self) -> Iterator[Conductor]:
        begin = self.need.begin
        for c in self._allowed:
            if begin.at not in c.places or c.places not in self._steps:
                continue
            if not self.as_built or self.supply.touching([begin], c.ends_at(begin.at)):
                yield c

    def _splices_to_go(self) -> dict[tuple[str, ...], int]:
        """By the places that a conductor passes, the least splices from it to a box."""
        alike = dict.fromkeys(c.places for c in self._allowed)
        goals = set(self.need.boxes)
        steps = {places: 0 for places in alike if goals & set(places)}
        queue = deque(steps)
        while queue:
            here = queue.popleft()
            for places in alike:
                if places not in steps and self._joinable(set(places) & set(here)):
                    steps[places] = steps[here] + 1
                    queue.append(places)
        return steps

    def _joinable(self, places: set[str]) -> bool:
        """A controller's cabinet is no place for a splice."""
        return any(place in self.supply.job.boxes for place in places)

    def _push_onward(
        self, heap: list[_Waiting], path: _Path, allowed: list[Conductor], own: bool
    ) -> None:
        start = self._start_of_last(path)
        cables = {c.cable.id for c in path}
        for following in allowed:
            if following.cable.id in cables:
                continue
            if len(path) + self._steps[following.places] > self._most:
                continue
            at = meeting(path[-1], following, start)
            if at is None or at not in self.supply.job.boxes:
                continue
            ends = path[-1].ends_at(at), following.ends_at(at)
            if not self.as_built or self.supply.touching(*ends):
                heappush(heap, self._waiting((*path, following), own))

    def _start_of_last(self, path: _Path) -> int:
        """The index at which the last conductor of a partial way is entered."""
        start = path[0].places.index(self.need.begin.at)
        for one, two in pairwise(path):
            at = meeting(one, two, start)
            assert at is not None  # or the second would not have been joined to the first
            start = two.places.index(at)
        return start

    def _arrives(self, path: _Path) -> tuple[Hop, ...]:
        """The hops, by the very rule that reads a written hot; none if a box is missed."""
        place = self.need.station.place
        found = route([(c, place) for c in path], self.need.begin, self.need.boxes, "")
        complete = found.fault is None and len(found.hops) == len(path)
        return found.hops if complete else ()

    def _waiting(self, path: _Path, own: bool) -> _Waiting:
        order = tuple(self.supply.rank[c.name] for c in path)
        return self._cost(path, own), order, False, path, ()

    def _cost(self, path: _Path, own: bool) -> Cost:
        """At least, while `own` says that a conductor flagged for the station may yet come."""
        meant = [self._meant[c.name] for c in path]
        return Cost(
            foreign=meant.count(False),
            unflagged=0 if own or True in meant else 1,
            changes=sum(one.insulation != two.insulation for one, two in pairwise(path)),
            splices=len(path) - 1 + self._steps[path[-1].places],
        )
