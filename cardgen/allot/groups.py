"""Part the stations into groups that have no conductor and no spare in common."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from cardgen.allot.supply import FreeConductors
from cardgen.allot.ways import Search


def groups(supply: FreeConductors, searches: Iterable[Search]) -> list[list[Search]]:
    """In the order of the file, as are the stations in each."""
    whose: dict[str, str] = {}

    def head(cable: str) -> str:
        while whose.setdefault(cable, cable) != cable:
            cable = whose[cable]
        return cable

    for cables in (*_promised(supply), *map(_cables, searches := list(searches))):
        for cable in cables:
            whose[head(cable)] = head(cables[0])
    found: dict[str, list[Search]] = {}
    for search in searches:
        cables = _cables(search)
        key = head(cables[0]) if cables else f"none for {search.need.station.id}"
        found.setdefault(key, []).append(search)
    return list(found.values())


def _cables(search: Search) -> list[str]:
    return list(dict.fromkeys(c.cable.id for c in search.allowed))


def _promised(supply: FreeConductors) -> Iterator[list[str]]:
    """For each box that asks for spares, the cables that could bring them."""
    for box in supply.promised:
        near = supply.splices_to_go((box,))
        yield list(dict.fromkeys(c.cable.id for places in near for c in supply.bundles[places]))
