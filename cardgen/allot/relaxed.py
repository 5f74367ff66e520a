"""Ask what the stations of one group cost at least, each conductor once: a flow from door to box.

source -- controller -- red ---- same colour, 1 splice ---- red -- box of A3, A4 -- goal
                   `--- blue --- hub: 1 change, 1 splice -- tan --'

All stations that share a source, a box and what is flagged for them are one kind.  What only a
whole way shows (a cable used twice, a detour, joints as built along it, both boxes of a twin,
spares over several cables) is left out, so the flow costs at most what the stations do; where its
ways hold, it is what they cost.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterator, Sequence

from cardgen.allot.flow import Flow
from cardgen.allot.model import FREE, Cost, packed, unpacked
from cardgen.allot.supply import FreeConductors
from cardgen.allot.ways import Search
from cardgen.wiring.model import Conductor
from cardgen.wiring.routes import meeting

_Bundle = tuple[str, tuple[str, ...]]  # a cable and the places that these of its conductors pass
_Kind = tuple[str, tuple[str, ...], bool, frozenset[str], frozenset[str]]
_Path = tuple[Conductor, ...]

_SOURCE, _GOAL = "source", "goal"
_SPLICE = packed(FREE._replace(splices=1))
_CHANGE = packed(FREE._replace(changes=1, splices=1))


class Relaxed:
    """The flow for these stations without the conductors `taken`.

    Attributes:
        least: what they cost at least; None if there is no way for all of them.
        paths: by station one, as the flow goes; empty if there is no way for all.
        work: how many arcs were looked at, for those who have to stop some time.
    """

    def __init__(
        self, supply: FreeConductors, searches: Sequence[Search], taken: Collection[str] = ()
    ) -> None:
        self._supply, self._searches, self._taken = supply, searches, frozenset(taken)
        self._kinds: dict[_Kind, list[Search]] = defaultdict(list)
        for search in searches:
            self._kinds[self._kind(search)].append(search)
        self._bundles: dict[_Bundle, list[Conductor]] = defaultdict(list)
        allowed = {c.name: c for search in searches for c in search.allowed}
        for name in sorted(allowed.keys() - self._taken, key=supply.rank.__getitem__):
            conductor = allowed[name]
            self._bundles[conductor.cable.id, conductor.places].append(conductor)
        self._entries: dict[_Bundle, set[int]] = defaultdict(set)
        self._joints: dict[tuple[_Bundle, _Bundle, str], int] = {}  # with what is inward at least
        self._reached: dict[_Bundle, set[str]] = {}
        self._explore()
        self._onward = {joint[0] for joint in self._joints}
        self._passed = {c.name for bundle in self._onward for c in self._bundles[bundle]}
        self._room = {bundle: self._usable(found) for bundle, found in self._bundles.items()}
        self._flow = Flow()
        self._build()
        units = len(searches)
        whole = self._flow.send(_SOURCE, _GOAL, units)
        self.work = units * self._flow.arcs
        self.least: Cost | None = None if whole is None else unpacked(whole)
        self.paths = [] if whole is None else list(self._paths())

    def _kind(self, search: Search) -> _Kind:
        """Stations of one kind may have each other's ways."""
        free = frozenset(c.name for c in search.allowed) - self._taken
        own = frozenset(name for name in free if search.meant[name])
        need = search.need
        return need.begin.at, need.boxes, bool(need.station.common), own, free

    # -- how bundles follow each other ---------------------------------------------------------

    def _explore(self) -> None:
        """Where each bundle is entered, and which joints lead from one to another."""
        left = [
            (bundle, bundle[1].index(start))
            for start in dict.fromkeys(kind[0] for kind in self._kinds)
            for bundle in self._bundles
            if start in bundle[1]
        ]
        while left:
            bundle, entry = left.pop()
            if entry in self._entries[bundle]:
                continue
            self._entries[bundle].add(entry)
            for following, others in self._bundles.items():
                at = meeting(self._bundles[bundle][0], others[0], entry)
                if following[0] == bundle[0] or at is None or at not in self._supply.job.boxes:
                    continue
                key = bundle, following, at
                inward = int(bundle[1].index(at) < entry)
                self._joints[key] = min(inward, self._joints.get(key, 1))
                left.append((following, following[1].index(at)))

    # -- the network ---------------------------------------------------------------------------

    def _build(self) -> None:
        starting = {c.name: c for search in self._searches for c in search.starting()}
        for bundle, conductors in self._bundles.items():
            door = (
                "door",
                bundle,
            )  # no more pass than spares leave, as if no other bundle gave any
            self._flow.arc(_SOURCE, door, self._room[bundle])
            for c in conductors:
                passed = bundle in self._onward
                foreign = passed and all(s.meant.get(c.name) is False for s in self._searches)
                price = packed(FREE._replace(foreign=int(foreign)))
                self._flow.arc(("in", c.name), ("out", c.name), 1, price)
                if c.name in starting:
                    self._flow.arc(door, ("in", c.name), 1)
        for (one, two, at), inward in self._joints.items():
            self._join(one, two, at, packed(FREE._replace(inward=inward)))
        self._last = self._ends()
        for number, (kind, searches) in enumerate(self._kinds.items()):
            self._flow.arc(("kind", number), _GOAL, len(searches))
            self._arrive(number, kind, searches[0])

    def _usable(self, conductors: Sequence[Conductor]) -> int:
        """How many of a bundle may be taken before a box has too few spares."""
        names = [c.name for c in conductors]
        room = len(names)
        while room and not self._supply.leaves_spares(self._taken.union(names[:room])):
            room -= 1
        return room

    def _join(self, one: _Bundle, two: _Bundle, at: str, inward: int) -> None:
        as_built = at in self._supply.job.joints
        hub = ("hub", one, two, at)
        following = self._bundles[two]
        for c in self._bundles[one]:
            for d in following:
                same = c.insulation == d.insulation
                if as_built and not self._supply.touching(c.ends_at(at), d.ends_at(at)):
                    continue
                if same or as_built:
                    price = inward + (_SPLICE if same else _CHANGE)
                    self._flow.arc(("out", c.name), ("in", d.name), 1, price)
            if not as_built:
                self._flow.arc(("out", c.name), hub, 1, inward + _CHANGE)
        if not as_built:
            for d in following:
                self._flow.arc(hub, ("in", d.name), 1)

    def _arrive(self, number: int, kind: _Kind, search: Search) -> None:
        for bundle, conductors in self._bundles.items():
            price = self._arrival(bundle, kind[1], search)
            mine = [c for c in conductors if c.name in kind[4]]
            if price is None or not mine:
                continue
            if bundle in self._last:
                flags = self._flags(kind, search, mine[0])
                self._flow.arc(("end", bundle), ("kind", number), len(mine), price + flags)
                continue
            for c in mine:
                flags = self._flags(kind, search, c)
                self._flow.arc(("out", c.name), ("kind", number), 1, price + flags)

    def _flags(self, kind: _Kind, search: Search, last: Conductor) -> int:
        """What flags cost at least on a way that ends on this conductor."""
        passed = self._passed
        on_the_way = not passed.isdisjoint(kind[3])
        return packed(
            FREE._replace(
                foreign=int(search.meant[last.name] is False and last.name not in passed),
                unflagged=int(last.name not in kind[3] and not on_the_way),
            )
        )

    def _ends(self) -> frozenset[_Bundle]:
        """Bundles that only serve boxes, for every kind alike; as many of each as spares leave."""
        found = []
        for bundle, conductors in self._bundles.items():
            names = {c.name for c in conductors}
            alike = all(kind[4] >= names or kind[4].isdisjoint(names) for kind in self._kinds)
            flagged = any(s.meant.get(name) is not None for s in self._searches for name in names)
            if bundle in self._onward or not alike or flagged:
                continue
            if self._room[bundle] == len(conductors):
                continue
            found.append(bundle)
            for c in conductors:
                self._flow.arc(("out", c.name), ("all", bundle), 1)
            self._flow.arc(("all", bundle), ("end", bundle), self._room[bundle])
        return frozenset(found)

    def _arrival(self, bundle: _Bundle, boxes: tuple[str, ...], search: Search) -> int | None:
        """What the last stretch costs at least; None if the bundle does not get there."""
        cable, places = bundle
        here = [places.index(box) for box in boxes if box in places]
        entries = [e for e in self._entries[bundle] if any(index != e for index in here)]
        if not here or not entries:
            return None
        if len(boxes) > 1:
            return packed(FREE) if self._touched(bundle).issuperset(boxes) else None
        inward = min(int(here[0] < entry) for entry in entries if entry != here[0])
        unclear = int(search.is_unclear_from(boxes[0], cable))
        return packed(FREE._replace(inward=inward, unclear=unclear))

    def _touched(self, bundle: _Bundle) -> set[str]:
        """Every place that a way which ends in this bundle can have passed."""
        if bundle not in self._reached:
            seen, left = {bundle}, [bundle]
            while left:
                here = left.pop()
                before = {one for one, two, _ in self._joints if two == here} - seen
                seen |= before
                left += before
            self._reached[bundle] = {place for _, places in seen for place in places}
        return self._reached[bundle]

    # -- what was sent -------------------------------------------------------------------------

    def _paths(self) -> Iterator[tuple[Search, _Path]]:
        named = {c.name: c for conductors in self._bundles.values() for c in conductors}
        waiting = [list(searches) for searches in self._kinds.values()]
        for nodes in self._flow.ways(_SOURCE, _GOAL):
            passed = [node for node in nodes if isinstance(node, tuple)]
            path = tuple(named[node[1]] for node in passed if node[0] == "in")
            yield waiting[passed[-1][1]].pop(0), path
