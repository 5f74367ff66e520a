"""Choose a way for every station so that all have one and colours change as little as can be.

Station by station in the order of the file, each the best that is left.  Where that leaves one
without a way, it comes first and all are chosen anew; where an exchange makes the whole better,
it is made.  Mostly each has then the best that it could have alone.  Where not, `exact.py` finds
the best for all together.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import dataclass
from itertools import islice

from cardgen.allot.exact import Budget, Exact, cost_of, open_ways
from cardgen.allot.model import Chosen, Cost, Need, Way, names_of, total
from cardgen.allot.supply import FreeConductors
from cardgen.allot.ways import Search

MOST_STARTS = 4  # orders that are tried before all are weighed together
MOST_EXCHANGES = 200
BETTER_WAYS = 6  # of one station that are looked at for an exchange

Barred = Mapping[str, set[tuple[str, ...]]]  # by station, ways cable by cable


@dataclass(frozen=True, slots=True, kw_only=True)
class Assignment:
    """What a group of stations gets.

    Attributes:
        missed: stations for which there is no way; then `ways` are of no use.
        is_best: no other choice costs less, or lets none be missed.
    """

    ways: Chosen
    missed: tuple[Need, ...]
    is_best: bool


def searches_of(supply: FreeConductors, needs: Iterable[Need], barred: Barred) -> list[Search]:
    return [Search(supply, n, barred=barred.get(n.station.id, ())) for n in needs]


class Chooser:
    """Chooses for the stations of one group."""

    def __init__(self, supply: FreeConductors, searches: Sequence[Search], budget: Budget) -> None:
        self.supply, self._searches, self._budget = supply, tuple(searches), budget
        self.needs = tuple(search.need for search in searches)
        self._search = {search.need.station.id: search for search in searches}

    def choose(self) -> Assignment:
        least = {name: _least(search) for name, search in self._search.items()}
        chosen, missed = self._first_found()
        cut_off = [name for name, cost in least.items() if cost is None]
        if cut_off:
            return Assignment(
                ways=chosen, missed=missed, is_best=all(s.is_whole for s in self._searches)
            )
        floors = {name: cost for name, cost in least.items() if cost is not None}
        ways: Chosen | None = None if missed else self._exchanged(chosen)
        is_best = ways is not None and cost_of(ways) == total(floors.values())
        if not is_best:
            hard = {need.station.id for need in missed}
            exact = Exact(self.supply, self._searches, floors, ways, hard, self._budget)
            ways, is_best = exact.best, exact.is_proven
        is_best = is_best and all(search.is_whole for search in self._searches)
        if ways is None:
            return Assignment(ways=chosen, missed=missed, is_best=is_best)
        return Assignment(ways=self._tidied(ways), missed=(), is_best=is_best)

    def _first_found(self) -> tuple[Chosen, tuple[Need, ...]]:
        """In the first order in which all get a way; else in the order of the file."""
        first: tuple[Chosen, tuple[Need, ...]] | None = None
        order = list(self.needs)
        for _ in range(MOST_STARTS):
            chosen, missed = self._in_turn(order, {})
            first = first or (chosen, missed)
            if not missed:
                return chosen, ()
            if order[0] is missed[0]:
                break  # nothing stood in its way
            order.remove(missed[0])
            order.insert(0, missed[0])
        assert first is not None
        return first

    def _in_turn(
        self, order: Iterable[Need], before: Mapping[str, Way]
    ) -> tuple[Chosen, tuple[Need, ...]]:
        chosen = dict(before)
        taken = set(names_of(chosen))
        missed = []
        for need in order:
            way = self._best(need, taken)
            if way is None:
                missed.append(need)
            else:
                chosen[need.station.id] = way
                taken |= way.names
        return chosen, tuple(missed)

    def _best(self, need: Need, taken: AbstractSet[str]) -> Way | None:
        search = self._search[need.station.id]
        return next(open_ways(self.supply, search, frozenset(taken)), None)

    def _exchanged(self, chosen: Chosen) -> Chosen:
        """Give a station a better way where those that must make room lose less than it gains."""
        for _ in range(MOST_EXCHANGES):
            better = next(
                (found for need in self.needs if (found := self._exchange(need, chosen))), None
            )
            if better is None:
                break
            chosen = better
        return chosen

    def _exchange(self, need: Need, chosen: Chosen) -> Chosen | None:
        mine = chosen[need.station.id]
        for way in islice(self._search[need.station.id].ways(), BETTER_WAYS):
            if way.cost >= mine.cost:
                return None
            moved = [
                n for n in self.needs if n is not need and chosen[n.station.id].names & way.names
            ]
            gone = {need.station.id, *(n.station.id for n in moved)}
            kept = {name: one for name, one in chosen.items() if name not in gone}
            kept[need.station.id] = way
            if not self.supply.leaves_spares(names_of(kept)):
                continue
            found, missed = self._in_turn(moved, kept)
            if not missed and cost_of(found) < cost_of(chosen):
                return found
        return None

    def _tidied(self, chosen: Chosen) -> Chosen:
        """Among stations to which it is all the same, earlier ones get earlier conductors."""
        alike: dict[object, list[str]] = defaultdict(list)
        for need in self.needs:
            way = chosen[need.station.id]
            if not self.supply.is_written(need) and not any(c.flag for c in way.conductors):
                same = need.begin.of, need.boxes, need.station.common, way.cost
                alike[same].append(need.station.id)
        tidy = {need.station.id: chosen[need.station.id] for need in self.needs}
        for names in alike.values():
            ways = sorted((chosen[name] for name in names), key=self._order)
            tidy.update(zip(names, ways, strict=True))
        return tidy

    def _order(self, way: Way) -> list[int]:
        return [self.supply.rank[c.name] for c in way.conductors]


def _least(search: Search) -> Cost | None:
    """What its best way would cost if it were alone."""
    return next((way.cost for way in search.ways()), None)
