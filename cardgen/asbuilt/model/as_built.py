"""The whole job as built, and how its things are found by name."""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Iterator, Mapping
from dataclasses import field
from functools import cached_property
from itertools import pairwise
from typing import TypeVar

from cardgen.address import record_spelling
from cardgen.asbuilt.model.built_boxes import BuiltBox
from cardgen.asbuilt.model.built_conductors import (
    BuiltCable,
    BuiltConductor,
    BuiltSpare,
    ConductorMark,
)
from cardgen.asbuilt.model.built_controllers import BuiltController, BuiltSensor, Terminal
from cardgen.asbuilt.model.built_network import BuiltNetwork
from cardgen.asbuilt.model.built_valves import BuiltValve
from cardgen.asbuilt.model.home_runs import Branch, Spot, hanging, home_runs
from cardgen.light_dataclass import dataclass
from cardgen.trade.colors import insulation
from cardgen.trade.slack import Slack
from cardgen.wiring.uses import Role, Use

Key = TypeVar("Key", bound=Hashable)
Value = TypeVar("Value")


@dataclass(frozen=True, slots=True, kw_only=True)
class BuiltConnector:
    """A kind of connector and all that it is rated for."""

    id: str
    rating: str


@dataclass(frozen=True, slots=True, kw_only=True)
class BuiltChange:
    revision: int
    date: str
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnerFinding:
    """What the owner must know of some things of the job.

    Attributes:
        code: of the fault, or of the gap.
        things: boxes, cables, stations ..., each once.
        is_open: somebody has still to look at it, or to write it down.
    """

    code: str
    things: tuple[str, ...]
    is_open: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class OpenQuestion:
    """What the job says is not known.

    Attributes:
        subject: `hot`, `length`, `gauge`, `coil` ...; thing: the station, cable or kind of coil.
        at: the place where it is found out; empty where none can be told.
        start, end: of a leg; color: of singles.
        needed_by: the valves whose ohms depend on it.
        candidates: of a hot, what comes to that place and may be it.
        side: of a hot `terminal` where it is asked what is on that, `onward` where it is asked what
            takes over from `wire`; empty at the valve.
    """

    subject: str
    thing: str
    at: str
    start: str = ""
    end: str = ""
    color: str = ""
    needed_by: tuple[str, ...] = ()
    candidates: tuple[ConductorMark, ...] = ()
    side: str = ""
    wire: ConductorMark | None = None


@dataclass(frozen=True, kw_only=True)
class AsBuilt:
    """Everything that is known of one revision of a job.

    Attributes:
        job: its code.
        key, address: of the record, the address with the key, as the tags hold it; the name of a
            box follows.  Empty where the job has no record.
        water: `reclaimed`, or empty where the job says nothing that must be warned of.
        unit: of most of its lengths, `ft` or `m`.
        order: the valves in the order of the file.
        insulation_test: volts; least_insulation: megohms; ground_limit: most ohms of a ground rod;
            each None where the job does not say it.
        spares: free stretches, dead ones last.
        owner, contractor, license_number: empty where the job does not say them.
        findings: of the check, in the order of the file.
        questions: what the job says is not known.
        network: None where nobody asked for it, as for a print.
    """

    job_code: str
    site: str
    key: str
    address: str
    revision: int
    date: str
    boxes: tuple[BuiltBox, ...]
    controllers: tuple[BuiltController, ...]
    spares: tuple[BuiltSpare, ...]
    changes: tuple[BuiltChange, ...]
    water: str = ""
    unit: str = "ft"
    order: tuple[str, ...] = ()
    conductors: tuple[BuiltConductor, ...] = ()
    cables: tuple[BuiltCable, ...] = ()
    sensors: tuple[BuiltSensor, ...] = ()
    connectors: tuple[BuiltConnector, ...] = ()
    decoders: int = 0
    surge_units: tuple[str, ...] = ()
    slack: Slack = field(default_factory=Slack)
    insulation_test: float | None = None
    least_insulation: float | None = None
    ground_limit: float | None = None
    owner: str = ""
    contractor: str = ""
    license_number: str = ""
    findings: tuple[OwnerFinding, ...] = ()
    questions: tuple[OpenQuestion, ...] = ()
    network: BuiltNetwork | None = None

    @property
    def valves(self) -> Iterator[BuiltValve]:
        """Box by box."""
        for box in self.boxes:
            yield from box.valves

    @property
    def in_order(self) -> Iterator[BuiltValve]:
        """The valves in the order of the file."""
        yield from (self.valve[name] for name in self.order)

    @property
    def walked(self) -> tuple[str, ...]:
        """Every place once, as a crew walks: home run by home run, then what none comes to."""
        places = (place for home in self.home_runs for place in home.walk)
        return tuple(dict.fromkeys((*places, *self.controller, *self.box)))

    @cached_property
    def box(self) -> Mapping[str, BuiltBox]:
        return {box.id: box for box in self.boxes}

    @cached_property
    def controller(self) -> Mapping[str, BuiltController]:
        return {controller.id: controller for controller in self.controllers}

    @cached_property
    def cable(self) -> Mapping[str, BuiltCable]:
        return {cable.id: cable for cable in self.cables}

    @cached_property
    def conductor(self) -> Mapping[str, BuiltConductor]:
        return {conductor.name: conductor for conductor in self.conductors}

    @cached_property
    def valve(self) -> Mapping[str, BuiltValve]:
        return {valve.id: valve for valve in self.valves}

    @cached_property
    def stations(self) -> Mapping[str, tuple[BuiltValve, ...]]:
        """Valves by what has the terminal (station, master valve, relay), in the file's order."""
        return _gathered((valve.station, valve) for valve in self.in_order)

    @cached_property
    def specials(self) -> tuple[BuiltValve, ...]:
        """Master valves and pump relays, in the order of the file."""
        return tuple(valve for valve in self.in_order if valve.kind != "valve")

    def valves_of(self, controller: str) -> tuple[BuiltValve, ...]:
        """Station by station."""
        return self._valves_by_controller.get(controller, ())

    @cached_property
    def _valves_by_controller(self) -> Mapping[str, tuple[BuiltValve, ...]]:
        valves = (valve for valves in self.stations.values() for valve in valves)
        return _gathered((valve.controller, valve) for valve in valves)

    def valves_live_from(self, controller: str) -> tuple[BuiltValve, ...]:
        """Box by box."""
        return self._valves_by_feed.get(controller, ())

    @cached_property
    def _valves_by_feed(self) -> Mapping[str, tuple[BuiltValve, ...]]:
        return _gathered((name, valve) for valve in self.valves for name in valve.controllers)

    @cached_property
    def more_at_c(self) -> Mapping[str, int]:
        """By controller the milliamperes that C has beyond the own hot of each of its stations.

        Only where they are the same for all, by what runs beside them.
        """
        found: dict[str, set[int]] = {}
        for valve in self.valves:
            if (
                valve.kind == "valve"
                and valve.milliamperes is not None
                and valve.in_hot is not None
            ):
                more = found.setdefault(valve.controller, set())
                more.add(valve.milliamperes - valve.in_hot if valve.beside else 0)
        return {name: more.pop() for name, more in found.items() if len(more) == 1}

    def valves_on(self, terminal: Terminal) -> Mapping[str, tuple[BuiltValve, ...]]:
        """By station; two where terminals are one piece of metal."""
        return {name: self.stations[name] for name in terminal.owners if name in self.stations}

    @cached_property
    def inside(self) -> Mapping[str, tuple[BuiltConductor, ...]]:
        """By cable its conductors."""
        found = _gathered((conductor.mark.cable, conductor) for conductor in self.conductors)
        return {cable.id: found.get(cable.id, ()) for cable in self.cables}

    def conductors_of(self, controller: str) -> tuple[BuiltConductor, ...]:
        """Of the cables whose home run comes from it; of none, of those that begin in a box."""
        return self._conductors_by_controller.get(controller, ())

    @cached_property
    def _conductors_by_controller(self) -> Mapping[str, tuple[BuiltConductor, ...]]:
        return _gathered((self.controller_of(c.mark.cable), c) for c in self.conductors)

    def boxes_live_from(self, controller: str) -> tuple[BuiltBox, ...]:
        """Those in which something of it is live, as they lie along the cables."""
        return self._boxes_by_feed.get(controller, ())

    @cached_property
    def _boxes_by_feed(self) -> Mapping[str, tuple[BuiltBox, ...]]:
        places = dict.fromkeys(place for cable in self.cables for place in cable.places)
        boxes = (self.box[place] for place in places if place in self.box)
        return _gathered((name, box) for box in boxes for name in box.controllers)

    def cables_at(self, place: str) -> tuple[BuiltCable, ...]:
        """Those whose runs come to a place, in the order of the file."""
        return self._cables_by_place.get(place, ())

    @cached_property
    def _cables_by_place(self) -> Mapping[str, tuple[BuiltCable, ...]]:
        return _gathered((place, cable) for cable in self.cables for place in cable.places)

    @cached_property
    def codes(self) -> tuple[str, ...]:
        """The letter codes of all insulation: of conductors, pigtails, and leads that differ."""
        at_controllers = (p for controller in self.controllers for p in controller.pigtails)
        pigtails = (*at_controllers, *(p for box in self.boxes for p in box.pigtails))
        members = (m for box in self.boxes for joint in box.joints for m in joint.members)
        leads = (insulation(member.side) for member in members)
        colored = (*(c.mark for c in self.conductors), *(p.mark for p in pigtails), *leads)
        return tuple(sorted({color.code for color in colored if color}))

    def carrying(self, use: Use, place: str, cable: str = "") -> tuple[BuiltConductor, ...]:
        """The conductors, of that cable or of all, that are it on one side of a place or both."""
        found = self._carriers.get((place, use), ())
        return tuple(each for each in found if cable in ("", each.mark.cable))

    @cached_property
    def _carriers(self) -> Mapping[tuple[str, Use], tuple[BuiltConductor, ...]]:
        """By place and use; to look through all for each box takes long in a large job."""
        stretches = (
            (conductor, each) for conductor in self.conductors for each in conductor.stretches
        )
        return _gathered(
            ((place, use), conductor)
            for conductor, stretch in stretches
            for place in stretch.places
            for use in stretch.uses
        )

    def spares_ending(self, place: str, cable: str) -> tuple[BuiltSpare, ...]:
        """The free stretches of a cable that end in a place, in no joint with another conductor."""
        box = self.box.get(place)
        ending = (s for s in self._spares_by_end.get(place, ()) if s.mark.cable == cable)
        return tuple(s for s in ending if not (box and box.is_spliced(s.conductor, s.use)))

    @cached_property
    def _spares_by_end(self) -> Mapping[str, tuple[BuiltSpare, ...]]:
        return _gathered((spare.last, spare) for spare in self.spares)

    def maybe_hots_ending(self, place: str, cable: str) -> tuple[BuiltConductor, ...]:
        """The conductors of a cable that end in a place and may be a hot that is not known."""
        found = self._maybe_hots_by_end.get(place, ())
        return tuple(each for each in found if each.mark.cable == cable)

    @cached_property
    def _maybe_hots_by_end(self) -> Mapping[str, tuple[BuiltConductor, ...]]:
        return _gathered(
            (conductor.places[-1], conductor)
            for conductor in self.conductors
            for use in (conductor.stretches[-1].uses if conductor.stretches else ())
            if use.role is Role.MAYBE_HOT
        )

    def ending(self, sensor: BuiltSensor, place: str) -> tuple[BuiltConductor, ...]:
        """The wires of a sensor that end in a place; none where any of them goes on from there."""
        wires = [self.conductor[name] for name in sensor.wires]
        if any(wire.places[0] == place for wire in wires):
            return ()
        return tuple(wire for wire in wires if wire.places[-1] == place)

    def path_ends(self, controller: BuiltController) -> tuple[str, ...]:
        """The places from which its two-wire path goes no further; none of a ring."""
        beside: dict[str, set[str]] = {}
        for stretch in (stretch for c in self.conductors for stretch in c.stretches):
            if not set(controller.paths).isdisjoint(stretch.uses):
                for one, other in pairwise(stretch.places):
                    beside.setdefault(one, set()).add(other)
                    beside.setdefault(other, set()).add(one)
        ends = (place for place, others in beside.items() if len(others) == 1)
        return tuple(place for place in ends if place != controller.id)

    # -- home runs -------------------------------------------------------------------------------

    @cached_property
    def home_runs(self) -> tuple[Branch, ...]:
        return home_runs(self.cables, self.controller, self.box)

    @cached_property
    def hanging(self) -> Mapping[Spot, tuple[BuiltValve, ...]]:
        """The valves by where their cable comes to them; in the order of the file."""
        return hanging(self.home_runs, self.conductors, self.in_order)

    @cached_property
    def starts(self) -> Mapping[str, str]:
        """By cable where its home run begins, mostly at a controller."""
        return {cable.id: home.start for home in self.home_runs for cable in home.cables}

    def controller_of(self, cable: str) -> str:
        """The one from which its home run comes; empty where that begins in a box."""
        start = self.starts[cable]
        return start if start in self.controller else ""

    # -- whose a thing is ------------------------------------------------------------------------

    def controllers_of(self, uses: Iterable[Use], cable: str) -> tuple[str, ...]:
        """Those of what a conductor of that cable is; of a free one that of the cable."""
        return self.controllers_among(
            name for use in uses for name in self._controllers_of(use, cable)
        )

    def controllers_in(self, box: BuiltBox) -> tuple[str, ...]:
        """Those that have a valve or a cable in it."""
        found = [name for valve in box.valves for name in valve.controllers]
        found += [self.starts[cable.id] for cable in self.cables_at(box.id)]
        return self.controllers_among(found)

    def boxes_of(self, controller: str) -> tuple[BuiltBox, ...]:
        """Those with a valve or a cable of it; without one, those that have none of any."""
        return self._boxes_by_controller.get(controller, ())

    @cached_property
    def _boxes_by_controller(self) -> Mapping[str, tuple[BuiltBox, ...]]:
        return _gathered(
            (name, box) for box in self.boxes for name in self.controllers_in(box) or ("",)
        )

    def _controllers_of(self, use: Use, cable: str) -> tuple[str, ...]:
        match use.role:
            case Role.HOT | Role.RETURN | Role.MAYBE_HOT:
                return self.stations[use.of][0].controllers
            case Role.SENSOR:
                return next(sensor.controllers for sensor in self.sensors if sensor.id == use.of)
            case Role.SPARE | Role.DEAD:
                return (self.starts[cable],)
        return (use.of,)

    def in_turn(self, names: Iterable[str]) -> tuple[str, ...]:
        """Those of the names that are stations, then those that are sensors, as in the file."""
        return tuple(sorted(self._turn.keys() & set(names), key=self._turn.__getitem__))

    @cached_property
    def _turn(self) -> Mapping[str, int]:
        names = (*self.stations, *(sensor.id for sensor in self.sensors))
        return {name: turn for turn, name in enumerate(dict.fromkeys(names))}

    def controllers_among(self, names: Iterable[str]) -> tuple[str, ...]:
        """Those of the names that are controllers, in the order of the file."""
        found = self.controller.keys() & set(names)
        return tuple(sorted(found, key=self._rank.__getitem__))

    @cached_property
    def _rank(self) -> Mapping[str, int]:
        """Of the controllers in the order of the file."""
        return {name: rank for rank, name in enumerate(self.controller)}

    def code(self, place: str) -> str:
        """What follows the host and path in the address of a box or controller."""
        return f"{self.key}/{record_spelling(place)}"


def _gathered(pairs: Iterable[tuple[Key, Value]]) -> Mapping[Key, tuple[Value, ...]]:
    """By key its values, in their order; one that follows itself stands once."""
    found: dict[Key, list[Value]] = {}
    for key, value in pairs:
        values = found.setdefault(key, [])
        if not values or values[-1] is not value:
            values.append(value)
    return {key: tuple(values) for key, values in found.items()}
