"""Valves as built: circuit, colors at both ends, what a meter must show."""

from __future__ import annotations

from collections.abc import Mapping

from cardgen.asbuilt.model.built_conductors import Band, ConductorMark
from cardgen.light_dataclass import dataclass
from cardgen.units import Length


@dataclass(frozen=True, slots=True, kw_only=True)
class BuiltDecoder:
    """One address of a path, and what is between its output and its valve.

    Attributes:
        leads: gauge of its own leads and of the wire to its valve.
        to_valve: the wire to its valve; None where its own leads reach, or nothing is said.
        connectors: by name those between its output and its valve, two at each end of the wire,
            two where there is none; empty names where no connector of the job takes them.
    """

    id: str
    address: int
    serial: str
    leads: str = ""
    box: str = ""
    to_valve: Length | None = None
    connectors: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Elsewhere:
    """Another valve of the same terminal."""

    id: str
    box: str


@dataclass(frozen=True, slots=True, kw_only=True)
class BuiltStep:
    """One leg of a way from the controller outward: a conductor, a sensor's contact, a pigtail.

    `length` is empty where it is not known, and of a contact.
    """

    conductor: ConductorMark | None
    contact: str
    start: str
    end: str
    length: str
    name: str = ""  # of the conductor, as the job names it; of the pigtail


@dataclass(frozen=True, slots=True, kw_only=True)
class BuiltValve:
    """One coil; None and empty text where the job does not say it.

    Attributes:
        station: what it belongs to; a twin has two valves of one station.
        kind: `valve`, `master valve`, `relay`.
        isolators: the controllers that share it through isolators.
        hot, back: as they look at the valve.
        ohms: at the controller (at the isolators where it has them), of all coils that run; None
            behind a device, where they mean nothing, and where something on the way is not known.
        coil: by itself, its leads off, also behind a device; None where it is not known.
        volts: lowest and highest at the coil while it holds, with exactly what the job says of the
            supply at the terminals; empty where they cannot be known.
        milliamperes: out of the controller, with `beside` and all valves of the terminal.
        in_hot: of these what its own hot carries.
        tied: what else hangs on its terminal or on one linked with it: it runs with this one.
        polarity: which lead goes to the hot and which to the common.
        coil_id: the kind of coil, as the job names it; leads: their gauge.
        supply: volts at its terminals, by what the job says of the supply and how far it may be
            off; None where nothing is said or no steady volts are there.
        hot_unknown: its circuit is not known; `hot` and `hot_at_controller` are what joints as
            built put on its lead and on its terminal, if they do.
        line_voltage: a pump start relay is in its box, so no meter measures volts there.
    """

    id: str
    station: str
    kind: str
    area: str
    box: str
    controller: str
    terminal: str
    isolators: tuple[str, ...]
    hot: ConductorMark | None
    hot_at_controller: ConductorMark | None
    back: ConductorMark | None
    own_return: bool
    ohms: Band | None
    coil: Band | None
    volts: tuple[float, ...]
    milliamperes: int | None
    beside: tuple[str, ...]
    others: tuple[Elsewhere, ...]
    latching: bool
    normally_open: bool
    polarity: tuple[str, ...]
    decoder: BuiltDecoder | None
    device: str
    notes: tuple[str, ...]
    hot_way: tuple[BuiltStep, ...]
    back_way: tuple[BuiltStep, ...]
    ring: bool
    coil_id: str = ""
    leads: str = ""
    tied: tuple[str, ...] = ()
    in_hot: int | None = None
    line_voltage: bool = False
    supply: Band | None = None
    hot_unknown: bool = False

    @property
    def controllers(self) -> tuple[str, ...]:
        """One, or all that share it: from each its conductors can be live."""
        return self.isolators or (self.controller,)

    @property
    def lacks_ohms(self) -> bool:
        """At the controller ohms mean something, and nothing tells them: they must be measured."""
        return self.ohms is None and self.decoder is None and not self.device

    @property
    def back_at_controller(self) -> ConductorMark | None:
        return next((step.conductor for step in self.back_way if step.conductor), None)

    @property
    def hot_changes(self) -> bool:
        """Its hot is shown otherwise at the controller than at the valve: by cable, color, flag."""
        here, there = self.hot, self.hot_at_controller
        return here is not None and there is not None and here != there

    @property
    def returns_by(self) -> str:
        """The conductor that comes to it from C; a pigtail may lie between."""
        return next((step.name for step in reversed(self.back_way) if step.conductor), "")

    @property
    def return_on_strip(self) -> ConductorMark | None:
        """A return of its own, as it lands on C beside the commons."""
        return self.back_at_controller if self.own_return and not self.isolators else None

    @property
    def runs_with(self) -> tuple[str, ...]:
        """What else draws current while it runs."""
        return *self.tied, *self.beside

    @property
    def has_two_currents(self) -> bool:
        """Its own hot carries another current than C."""
        return self.in_hot is not None and self.in_hot != self.milliamperes

    @property
    def musts(self) -> Mapping[str, object]:
        """What a hand must know before it touches it: by name, with what there is to say."""
        known = {
            self.kind: self.kind != "valve",
            "normally open": self.normally_open,
            "latching": self.latching,
            "polarity": self.polarity,
            "hot at controller": self.hot_changes,
            "decoder": self.decoder,
            "tied": self.tied,
            "device": self.device,
        }
        return {name: detail for name, detail in known.items() if detail}
