"""Find the best ways for all stations of one group, and know whether they are the best.

Fix the ways of one station after the other; what the rest costs at least comes from a flow
(`relaxed.py`).  Where the ways of the flow hold, they are the best for what is fixed.  Where one
does not, its station is the next to be fixed, in each of its ways that could still pay.
"""

from __future__ import annotations

from collections.abc import Container, Iterable, Iterator, Mapping, Sequence

from cardgen.allot.model import Chosen, Cost, Way, names_of, total
from cardgen.allot.relaxed import Relaxed
from cardgen.allot.supply import FreeConductors
from cardgen.allot.ways import Search

MOST_FIXED = 300  # stations of a group, one inside the other
STEP = 20_000  # arcs that it counts for to search the ways of a station


class Budget:
    """How many arcs may still be looked at in a whole job; a count, so that no clock decides."""

    def __init__(self, arcs: int) -> None:
        self.arcs = arcs

    def spend(self, arcs: int) -> None:
        self.arcs -= arcs

    @property
    def is_spent(self) -> bool:
        return self.arcs <= 0


class Exact:
    """The search for one group; `hard` are stations that have been missed, so they come first.

    Attributes:
        best: the best found; None while there is none.
        is_proven: nothing better exists (or, with none found, none at all).
    """

    def __init__(
        self,
        supply: FreeConductors,
        searches: Sequence[Search],
        least: Mapping[str, Cost],
        best: Chosen | None,
        hard: Container[str],
        budget: Budget,
    ) -> None:
        self._supply, self._least, self._hard, self._budget = supply, least, hard, budget
        self.best = best
        self.is_proven = len(searches) <= MOST_FIXED and self._try({}, tuple(searches))

    def _try(self, fixed: Chosen, left: tuple[Search, ...]) -> bool:
        """Whether all that could pay has been looked at, with these ways fixed."""
        if not self._pays(fixed, (self._least[_id(s)] for s in left)):
            return True
        if not left:
            self.best = fixed
            return True
        if self._budget.is_spent:
            return False
        broken = self._relaxed(fixed, left)
        if broken is None:
            return True
        next_ = next((s for s in left if _id(s) in self._hard), broken)
        self._budget.spend(STEP)
        rest = tuple(s for s in left if s is not next_)
        for way in open_ways(self._supply, next_, names_of(fixed)):
            if not self._pays(fixed, (way.cost, *(self._least[_id(s)] for s in rest))):
                break
            if not self._try({**fixed, _id(next_): way}, rest):
                return False
        return True

    def _pays(self, fixed: Chosen, others: Iterable[Cost]) -> bool:
        if self.best is None:
            return True
        return total([*(way.cost for way in fixed.values()), *others]) < cost_of(self.best)

    def _relaxed(self, fixed: Chosen, left: tuple[Search, ...]) -> Search | None:
        """The station whose way in the flow does not hold; None where that settles all."""
        relaxed = Relaxed(self._supply, left, names_of(fixed))
        self._budget.spend(relaxed.work)
        if relaxed.least is None or not self._pays(fixed, [relaxed.least]):
            return None
        found = dict(fixed)
        for search, path in relaxed.paths:
            way = search.way_along(path)
            if way is None:
                return search
            found[_id(search)] = way
            if not self._supply.leaves_spares(names_of(found)):
                return search
        if self._pays(found, ()):
            self.best = found
        costs = [found[_id(search)].cost for search in left]
        if total(costs) == relaxed.least:
            return None
        return max(left, key=lambda s: _dearer(found[_id(s)].cost, self._least[_id(s)]))


def open_ways(supply: FreeConductors, search: Search, taken: frozenset[str]) -> Iterator[Way]:
    """The ways of one station beside what is taken, best first, those that leave the spares."""
    refused = set()  # along cables where no spare can be given up, one colour is like another
    for way in search.ways(taken | supply.spent(search.allowed, taken)):
        along = tuple(c.places for c in way.conductors)
        if along in refused:
            continue
        if supply.leaves_spares(taken | way.names):
            yield way
        else:
            refused.add(along)


def _dearer(cost: Cost, least: Cost) -> tuple[int, ...]:
    return tuple(one - other for one, other in zip(cost, least, strict=True))


def _id(search: Search) -> str:
    return search.need.station.id


def cost_of(chosen: Chosen) -> Cost:
    return total(way.cost for way in chosen.values())
