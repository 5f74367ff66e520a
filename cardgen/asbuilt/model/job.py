"""The whole job as built, and how its things are found by name."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property

from cardgen.address import record_spelling
from cardgen.asbuilt.model.boxes import Box
from cardgen.asbuilt.model.conductors import Cable, Conductor, Spare
from cardgen.asbuilt.model.controllers import Controller, Sensor
from cardgen.asbuilt.model.valves import Valve


@dataclass(frozen=True, slots=True, kw_only=True)
class Connector:
    """A kind of connector and all that it is rated for."""

    id: str
    rating: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    revision: int
    date: str
    text: str


@dataclass(frozen=True, kw_only=True)
class AsBuilt:
    """Everything that is known of one revision of a job.

    Attributes:
        job: its code.
        address: with the key, as the tags hold it; the name of a box follows.
        water: `reclaimed`, or empty where the job says nothing that must be warned of.
        unit: of most of its lengths, `ft` or `m`.
        order: the valves in the order of the file.
        spares: free stretches, dead ones last.
    """

    job: str
    site: str
    key: str
    address: str
    revision: int
    date: str
    boxes: tuple[Box, ...]
    controllers: tuple[Controller, ...]
    spares: tuple[Spare, ...]
    changes: tuple[Change, ...]
    water: str = ""
    unit: str = "ft"
    order: tuple[str, ...] = ()
    conductors: tuple[Conductor, ...] = ()
    cables: tuple[Cable, ...] = ()
    sensors: tuple[Sensor, ...] = ()
    connectors: tuple[Connector, ...] = ()
    decoders: int = 0
    surge_units: tuple[str, ...] = ()

    @property
    def valves(self) -> Iterator[Valve]:
        """Box by box."""
        for box in self.boxes:
            yield from box.valves

    @property
    def in_order(self) -> Iterator[Valve]:
        """The valves in the order of the file."""
        yield from (self.valve[name] for name in self.order)

    @cached_property
    def box(self) -> Mapping[str, Box]:
        return {box.id: box for box in self.boxes}

    @cached_property
    def controller(self) -> Mapping[str, Controller]:
        return {controller.id: controller for controller in self.controllers}

    @cached_property
    def cable(self) -> Mapping[str, Cable]:
        return {cable.id: cable for cable in self.cables}

    @cached_property
    def conductor(self) -> Mapping[str, Conductor]:
        return {conductor.name: conductor for conductor in self.conductors}

    @cached_property
    def valve(self) -> Mapping[str, Valve]:
        return {valve.id: valve for valve in self.valves}

    @cached_property
    def stations(self) -> Mapping[str, tuple[Valve, ...]]:
        """Valves by what has the terminal (station, master valve, relay), in the file's order."""
        found: dict[str, list[Valve]] = {}
        for valve in self.in_order if self.order else self.valves:
            found.setdefault(valve.station, []).append(valve)
        return {name: tuple(valves) for name, valves in found.items()}

    def code(self, place: str) -> str:
        """What follows the host and path in the address of a box or controller."""
        return f"{self.key}/{record_spelling(place)}"
