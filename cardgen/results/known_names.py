"""The names of a job that readings may use: of valves, controllers, conductors, sensors."""

from __future__ import annotations

from collections.abc import Sequence

from cardgen.asbuilt import AsBuilt
from cardgen.light_dataclass import dataclass
from cardgen.owners import common_of, path_of


@dataclass(frozen=True, slots=True, kw_only=True)
class KnownNames:
    """Attributes:
    stations: each is also a valve, or has several.
    conductors: as the job names them, and as their flags do.
    places: controllers and boxes.
    revision: the newest of the job; None where nobody asked for it.
    """

    valves: frozenset[str]
    stations: frozenset[str] = frozenset()
    controllers: frozenset[str] = frozenset()
    conductors: frozenset[str] = frozenset()
    places: frozenset[str] = frozenset()
    sensors: frozenset[str] = frozenset()
    revision: int | None = None

    @classmethod
    def of(cls, revisions: Sequence[AsBuilt]) -> KnownNames:
        """All that any of these revisions, oldest first, has."""
        controllers = {c.id for each in revisions for c in each.controllers}
        stations = {station for each in revisions for station in each.stations}
        metal = {c.name for each in revisions for c in each.conductors}
        metal |= {spare.id for each in revisions for spare in each.spares}
        paths = {path_of(name, side) for name in controllers for side in (1, 2)}
        return cls(
            valves=frozenset(valve for each in revisions for valve in each.valve),
            stations=frozenset(stations),
            controllers=frozenset(controllers),
            conductors=frozenset(metal | stations | paths | set(map(common_of, controllers))),
            places=frozenset(controllers | {box for each in revisions for box in each.box}),
            sensors=frozenset(sensor.id for each in revisions for sensor in each.sensors),
            revision=revisions[-1].revision if revisions else None,
        )
