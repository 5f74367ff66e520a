"""Put cards in the order in which a crew walks: along each cable from its controller outward.

Home runs as the wiring drawing has them; where a cable branches off, the branch first and then on.
A box is visited once, with the first cable that comes to it:

```
A ---- VB-1 ---- SB-2 ---- VB-5          A, VB-1, SB-2, VB-3, VB-4, VB-5
                   `-- VB-3 -- VB-4
```
"""

from __future__ import annotations

from typing import Protocol

from cardgen.asbuilt import AsBuilt
from cardgen.english_lists import natural
from cardgen.owners import common_of, path_of


class Located(Protocol):
    """What hangs somewhere and belongs to something: a card, or what was said of one."""

    @property
    def at(self) -> str: ...
    @property
    def owner(self) -> str: ...
    @property
    def id(self) -> str: ...


class Walk:
    """The places of a job in walking order."""

    def __init__(self, asbuilt: AsBuilt) -> None:
        self._rank = {place: rank for rank, place in enumerate(asbuilt.walked)}
        controllers = list(asbuilt.controller)
        self._controller = {
            station: controllers.index(valves[0].controller)
            for station, valves in asbuilt.stations.items()
        }
        self._shared = {common_of(controller) for controller in controllers}
        self._shared |= {path_of(controller, side) for controller in controllers for side in (1, 2)}

    def key(self, thing: Located) -> tuple[object, ...]:
        """To sort by: place, then hots before commons before spares, then controller, station.

        A place that is no more comes last.
        """
        owner = thing.owner
        group = 0 if owner in self._controller else 1 if owner in self._shared else 2
        rank = self._rank.get(thing.at, len(self._rank))
        controller = self._controller.get(owner, 0)
        return rank, natural(thing.at), group, controller, natural(owner), natural(thing.id)
