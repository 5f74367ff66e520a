"""Choose a way for every station so that all have one and colors change as little as can be.

Station by station in the order of the file, each the best that is left.  Where that leaves one
without a way, it comes first and all are chosen again; where that does not help, combinations are
gone through until none is left without.  Then, where an exchange makes the whole better, it is
made.  Of a small group none is refused that has a way; that no other choice has fewer changes of
color is not proven.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import dataclass
from itertools import islice

from cardgen.allot.allotment import Chosen, Cost, Need, Way, names_of, total
from cardgen.allot.supply import FreeConductors
from cardgen.allot.ways import Search

MOST_STARTS = 4  # orders that are tried before all combinations are gone through
SMALL = 10  # stations of a group whose combinations are gone through
MOST_TRIES = 300  # ways put into a combination; more than a group so small has ever taken
MOST_EXCHANGES = 200
BETTER_WAYS = 6  # of one station that are looked at for an exchange

Barred = Mapping[str, set[tuple[str, ...]]]  # by station, ways cable by cable


@dataclass(frozen=True, slots=True, kw_only=True)
class Assignment:
    """What a group of stations gets.

    Attributes:
        missed: stations for which there is no way; then `ways` are of no use.
    """

    ways: Chosen
    missed: tuple[Need, ...]


def searches_of(supply: FreeConductors, needs: Iterable[Need], barred: Barred) -> list[Search]:
    return [Search(supply, n, barred=barred.get(n.station.id, ())) for n in needs]


class WayChooser:
    """Chooses for the stations of one group."""

    def __init__(self, supply: FreeConductors, searches: Sequence[Search]) -> None:
        self.supply = supply
        self.needs = tuple(search.need for search in searches)
        self._search = {search.need.station.id: search for search in searches}

    def choose(self) -> Assignment:
        chosen, missed = self._first_found()
        if missed and len(self.needs) <= SMALL and (found := self._searched(missed)):
            chosen, missed = found, ()
        if missed:
            return Assignment(ways=chosen, missed=missed)
        return Assignment(ways=self._tidied(self._exchanged(chosen)), missed=())

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

    def _searched(self, hard: Sequence[Need]) -> Chosen | None:
        """The first combination that leaves none without, those that were missed chosen first."""
        order = [*hard, *(need for need in self.needs if need not in hard)]
        vain: set[tuple[int, frozenset[str]]] = set()
        tries = MOST_TRIES

        def rest(chosen: Chosen) -> Chosen | None:
            nonlocal tries
            if len(chosen) == len(order):
                return chosen
            need, taken = order[len(chosen)], names_of(chosen)
            if (len(chosen), taken) not in vain:
                for way in self._open_ways(need, taken):
                    tries -= 1
                    found = rest({**chosen, need.station.id: way}) if tries > 0 else None
                    if found is not None or tries <= 0:
                        return found
                vain.add((len(chosen), taken))
            return None

        return rest({})

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
        return next(self._open_ways(need, frozenset(taken)), None)

    def _open_ways(self, need: Need, taken: frozenset[str]) -> Iterator[Way]:
        """The ways of one station beside what is taken, best first, those that leave the spares."""
        search = self._search[need.station.id]
        refused = set()  # where no spare can be given up, one color is like another
        for way in search.ways(taken | self.supply.spent(search.allowed, taken)):
            along = tuple(self.supply.spare_places_of(c) for c in way.conductors)
            if along in refused:
                continue
            if self.supply.leaves_spares(taken | way.names):
                yield way
            else:
                refused.add(along)

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


def cost_of(chosen: Chosen) -> Cost:
    return total(way.cost for way in chosen.values())
