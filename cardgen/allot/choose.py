"""Choose a way for every station so that all have one and colours change as little as can be.

Station by station in the order of the file, each the best that is left.  Where that leaves one
without a way, it comes first and all are chosen anew; where an exchange makes the whole better,
it is made; a few stations are tried in every combination.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from collections.abc import Set as AbstractSet
from itertools import islice

from cardgen.allot.model import Cost, Need, Way, total
from cardgen.allot.supply import Supply
from cardgen.allot.ways import Search

MOST_STARTS = 20  # orders that are tried before it is said that it cannot be done,
MOST_CHOICES = 2_000  # fewer where the stations are many
MOST_EXCHANGES = 200
BETTER_WAYS = 6  # of one station that are looked at for an exchange
FEW = 6  # stations whose every combination is tried,
MOST_COMBINED = 2_000  # within reason

Chosen = dict[str, Way]
Barred = Mapping[str, set[tuple[str, ...]]]  # by station, ways cable by cable


class Chooser:
    """Chooses for the stations `needs` from one supply; `barred` are ways not to go, by station."""

    def __init__(self, supply: Supply, needs: Sequence[Need], barred: Barred) -> None:
        self.supply, self.needs = supply, tuple(needs)
        self._search = {
            need.station.id: Search(supply, need, barred=barred.get(need.station.id, ()))
            for need in needs
        }

    def choose(self) -> tuple[Chosen, tuple[Need, ...]]:
        """The ways by station, and the stations for which there is none."""
        first: tuple[Chosen, tuple[Need, ...]] | None = None
        order = list(self.needs)
        for _ in range(max(3, min(MOST_STARTS, MOST_CHOICES // max(len(order), 1)))):
            chosen, missed = self._in_turn(order, {})
            first = first or (chosen, missed)
            if not missed:
                return self._tidied(self._combined(self._exchanged(chosen))), ()
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
        taken = set(_names(chosen))
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
        refused = set()  # along cables where no spare can be given up, one colour is like another
        for way in self._search[need.station.id].ways(taken):
            along = tuple(c.places for c in way.conductors)
            if along in refused:
                continue
            if self.supply.leaves_spares(taken | way.names):
                return way
            refused.add(along)
        return None

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
            if not self.supply.leaves_spares(_names(kept)):
                continue
            found, missed = self._in_turn(moved, kept)
            if not missed and _cost(found) < _cost(chosen):
                return found
        return None

    def _combined(self, chosen: Chosen) -> Chosen:
        """The best of all combinations, if the stations are few."""
        if len(self.needs) > FEW:
            return chosen
        least = {n.station.id: self._least(n) for n in self.needs}
        if _cost(chosen) == total(least.values()):
            return chosen
        return _Combinations(self, least, chosen).best

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

    def _least(self, need: Need) -> Cost:
        """What its best way would cost if it were alone."""
        return next(self._search[need.station.id].ways()).cost

    def ways(self, need: Need, taken: frozenset[str]) -> Iterable[Way]:
        """Its ways beside what is taken, best first, those that leave the spares."""
        for way in self._search[need.station.id].ways(taken):
            if self.supply.leaves_spares(taken | way.names):
                yield way


class _Combinations:
    """Depth first through the ways of one station after the other, as far as it can pay."""

    def __init__(self, chooser: Chooser, least: Mapping[str, Cost], chosen: Chosen) -> None:
        self.chooser, self.least = chooser, least
        self.best, self._best_cost = chosen, _cost(chosen)
        self._left = MOST_COMBINED
        self._try({}, 0)

    def _try(self, so_far: Chosen, index: int) -> None:
        needs = self.chooser.needs
        if index == len(needs):
            self.best, self._best_cost = dict(so_far), _cost(so_far)
            return
        name = needs[index].station.id
        rest = [self.least[n.station.id] for n in needs[index + 1 :]]
        for way in self.chooser.ways(needs[index], _names(so_far)):
            costs = [one.cost for one in so_far.values()]
            self._left -= 1
            if self._left < 0 or total([*costs, way.cost, *rest]) >= self._best_cost:
                return
            self._try({**so_far, name: way}, index + 1)


def _names(chosen: Mapping[str, Way]) -> frozenset[str]:
    return frozenset(name for way in chosen.values() for name in way.names)


def _cost(chosen: Mapping[str, Way]) -> Cost:
    return total(way.cost for way in chosen.values())
