"""Turn stations, master valves and relays into loads: a coil with its terminal and its two ways."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from itertools import zip_longest

from cardgen.faults.circuit_faults import HOT_MISSING, HOT_UNCLEAR, VALVE_WITHOUT_BOX
from cardgen.faults.conductor_faults import NO_SUCH_CONDUCTOR, RUN_MISSES_BOX
from cardgen.faults.terminal_faults import STATION_WITHOUT_TERMINAL
from cardgen.job.job_parts import (
    Coil,
    ConductorWords,
    Controller,
    Job,
    MasterValve,
    Relay,
    Station,
)
from cardgen.problems import Problem, Span
from cardgen.reading.shapes import Written
from cardgen.units import SupplyKind
from cardgen.wiring.conductor_catalog import Catalog
from cardgen.wiring.meeting_legs import put_together
from cardgen.wiring.routes import UNCLEAR, known_in, known_out, route
from cardgen.wiring.wiring_parts import (
    COMMON_TERMINAL,
    Conductor,
    End,
    Load,
    LoadKind,
    Named,
    Route,
)

_Parts = tuple[Route | None, Route | None]  # known from the terminal, and from the valve
_NO_PARTS: _Parts = (None, None)


class Loads:
    """All loads of a job by id; `problems` of what names them, `reported` are told of already."""

    def __init__(self, job: Job, catalog: Catalog) -> None:
        self.job, self.catalog = job, catalog
        self.together = put_together(job, catalog)
        self.by_id: dict[str, Load] = {}
        self.by_words: dict[str, str] = {}
        self.problems: list[Problem] = []
        self._told: set[Span] = set()  # of names, so that valves of a twin do not repeat it
        self.reported: set[str] = set(job.reported)
        for station in job.stations.values():
            self._station(station)
        for valve in job.master_valves.values():
            self._master_valve(valve)
        for relay in job.relays.values():
            self._relay(relay)

    def _station(self, station: Station) -> None:
        if station.id in self.job.reported:
            return
        landed = self._terminal(station)
        if landed is None:
            self.reported.add(station.id)
            return
        controller, terminal = landed
        boxes = self._boxes(station)
        two_wire = controller.supply.value.kind is SupplyKind.TWO_WIRE
        begin = End(controller.id, controller.id, terminal)
        hot, unknown = None, not two_wire and _is_unknown(station.hot)
        if station.hot is not None and not two_wire and not unknown:
            hot = self._route(station.id, station.hot, begin, boxes.values(), station.id + "'s hot")
        hot_leads = {box: _leads(valve, box, controller)[0] for valve, box in boxes.items()}
        known = self._known_parts(station, begin, hot_leads) if unknown and boxes else _NO_PARTS
        if not boxes or known is None or not (two_wire or hot or unknown):
            self.reported.add(station.id)
            return
        for valve, box in boxes.items():
            hot_lead, back_lead = _leads(valve, box, controller)
            decoder = None
            if two_wire and station.decoder:
                decoder = self.job.decoders.get(station.decoder.value)
            self.by_id[valve] = Load(
                id=valve,
                span=station.span,
                kind=LoadKind.VALVE,
                owner=station,
                controller=controller.id,
                terminal=terminal,
                box=box,
                coil=self._coil(station.coil or controller.coil),
                hot=hot,
                back=None,
                hot_end=begin,
                back_end=End(controller.id, controller.id, COMMON_TERMINAL),
                hot_lead=hot_lead,
                back_lead=back_lead,
                decoder=decoder,
                hot_unknown=unknown,
                known_out=known[0],
                known_in=known[1],
            )

    def _terminal(self, station: Station) -> tuple[Controller, str] | None:
        known = self.job.controllers
        owner, number = landing_words(station)
        if owner in self.job.reported:
            return None
        if owner not in known or not number:
            meant = meant_station(station.id, known)
            variant = "meant" if meant and meant not in self.job.stations else ""
            self.problems.append(
                STATION_WITHOUT_TERMINAL.at(
                    station.span, variant=variant, station=station.id, meant=meant
                )
            )
            return None
        return known[owner], number

    def _boxes(self, station: Station) -> dict[str, str]:
        """Valve by valve the box it is in."""
        if station.valves:
            return {v.id: v.box.value for v in station.valves.values()}
        if station.box is None:
            self.problems.append(VALVE_WITHOUT_BOX.at(station.span, station=station.id))
            return {}
        return {station.id: station.box.value}

    def _master_valve(self, valve: MasterValve) -> None:
        if valve.id in self.job.reported:
            return
        first = valve.controllers[0].value
        terminal = valve.terminal.value if valve.terminal else "MV"
        if valve.isolators:
            hot_end, back_end = End(valve.id, first, "hot"), End(valve.id, first, "return")
        else:
            hot_end = End(first, first, terminal)
            back_end = End(first, first, COMMON_TERMINAL)
        self._special(LoadKind.MASTER_VALVE, valve, first, terminal, hot_end, back_end)

    def _relay(self, relay: Relay) -> None:
        if relay.id in self.job.reported:
            return
        controller = relay.controller.value
        terminal = relay.terminal.value if relay.terminal else "MV"
        hot_end = End(controller, controller, terminal)
        back_end = End(controller, controller, COMMON_TERMINAL)
        self._special(LoadKind.RELAY, relay, controller, terminal, hot_end, back_end)

    def _special(
        self,
        kind: LoadKind,
        owner: MasterValve | Relay,
        controller: str,
        terminal: str,
        hot_end: End,
        back_end: End,
    ) -> None:
        if controller in self.job.reported:
            self.reported.add(owner.id)
            return
        box = owner.box.value
        hot, unknown = None, _is_unknown(owner.hot)
        if owner.hot is not None and not unknown:
            hot = self._route(owner.id, owner.hot, hot_end, [box], f"{owner.id}'s hot")
        back = self._route(owner.id, owner.return_path, back_end, [box], f"{owner.id}'s return")
        entry = self.job.controllers[controller]
        hot_lead, back_lead = _leads(owner.id, box, entry)
        known = self._known_parts(owner, hot_end, {box: hot_lead}) if unknown else _NO_PARTS
        if known is None or not (hot or unknown) or (owner.return_path and back is None):
            self.reported.add(owner.id)
            return
        self.by_id[owner.id] = Load(
            id=owner.id,
            span=owner.span,
            kind=kind,
            owner=owner,
            controller=controller,
            terminal=terminal,
            box=box,
            coil=self._coil(owner.coil or entry.coil),
            hot=hot,
            back=back,
            hot_end=hot_end,
            back_end=back_end,
            hot_lead=hot_lead,
            back_lead=back_lead,
            hot_unknown=unknown,
            known_out=known[0],
            known_in=known[1],
        )

    def _coil(self, said: Written[str | None] | None) -> Coil | None:
        return self.job.coils.get(said.value) if said and said.value else None

    def _route(
        self,
        owner: str,
        words: tuple[ConductorWords, ...],
        begin: End,
        boxes: Iterable[str],
        who: str,
    ) -> Route | None:
        """None if nothing is written or a name in it has been reported."""
        conductors = self.find_all(words)
        if not words:
            entry = self.job.stations.get(owner)
            if (entry and entry.box) or (entry and entry.valves):
                self.problems.append(HOT_MISSING.at(entry.span, station=owner))
            return None
        if conductors is None:
            return None
        found = route(conductors, begin, boxes, who, self.together)
        if found.fault is not None and found.fault.code == UNCLEAR:
            self.problems.append(found.fault)
            return None
        return found

    def _known_parts(
        self, owner: Station | MasterValve | Relay, begin: End, leads: dict[str, End]
    ) -> _Parts | None:
        """What is known of a hot before and behind its gap; None if a fault in it is reported."""
        words = owner.hot or ()
        gap = next((at for at, each in enumerate(words) if each.is_gap), len(words))
        before, behind = self.find_all(words[:gap]), self.find_all(words[gap + 1 :])
        if before is None or behind is None:
            return None
        who = f"{owner.id}'s hot"
        out = known_out(before, begin, who, self.together) if before else None
        inward = known_in(behind, leads, who, self.together) if behind else None
        faults = [part.fault for part in (out, inward) if part and part.fault]
        shared = _legs_of(out) & _legs_of(inward)
        if shared and not faults:
            name = min(shared)[0]
            faults.append(HOT_UNCLEAR.at(words[gap].span, variant="no gap", conductor=name))
        self.problems += faults
        return None if faults else (out, inward)

    def find_all(self, words: Iterable[ConductorWords]) -> list[Named] | None:
        """The conductors that `words` name; None after reporting those that name none."""
        found: list[Named] = []
        good = True
        words = tuple(words)
        for words_of_one, following in zip_longest(words, words[1:]):
            parted = self._parted(words_of_one, following)
            if parted is not None:
                self.problems.append(parted)
                return None
            one = self._named(words_of_one)
            if isinstance(one, Named):
                found.append(one)
                continue
            good = False
            if one is not None and one.span not in self._told:
                self._told.add(one.span)
                self.problems.append(one)
        return found if good else None

    def _parted(self, said: ConductorWords, following: ConductorWords | None) -> Problem | None:
        """`[A-K1, green]`: a cable and its color, written as two."""
        if following is None or said.value not in self.catalog.by_cable:
            return None
        whole = f"{said.value} {following.value}"
        if whole not in self.catalog.by_name:
            return None
        return NO_SUCH_CONDUCTOR.at(
            said.span, variant="parted", words=said.value, color=following.value, meant=whole
        )

    def _named(self, said: ConductorWords) -> Named | Problem | None:
        """The conductor with its stretch; None if what is wrong has been reported."""
        conductor = self.catalog.find(said.value, said.span)
        if not isinstance(conductor, Conductor):
            return conductor
        self.by_words[said.value] = conductor.name
        indices: list[int | None] = []
        for at in (said.begins, said.ends):
            if at and at not in conductor.places:
                if at not in self.job.boxes and at not in self.job.controllers:
                    return None
                return RUN_MISSES_BOX.at(
                    said.span,
                    what=conductor.name,
                    box=at,
                    places=", ".join(conductor.places),
                )
            indices.append(conductor.places.index(at) if at else None)
        return Named(conductor, said.span, *indices)


def _is_unknown(hot: tuple[ConductorWords, ...] | None) -> bool:
    """The file says that it, or a part of it, is not known."""
    return hot is None or any(words.is_gap for words in hot)


def _legs_of(way: Route | None) -> set[tuple[str, int]]:
    hops = way.hops if way else ()
    return {(hop.conductor.name, leg) for hop in hops for leg in range(*sorted(hop[1:]))}


def _leads(valve: str, box: str, controller: Controller) -> tuple[End, End]:
    """The leads meant for hot and for common; without polarity either may be either."""
    if controller.supply.value.kind is SupplyKind.LATCHING and controller.polarity:
        return End(valve, box, controller.polarity.hot), End(valve, box, controller.polarity.common)
    return End(valve, box, "lead 1"), End(valve, box, "lead 2")


def landing_words(station: Station) -> tuple[str, str]:
    """Its controller and terminal, said or taken from its name: A7, A-07, A.7; or empty."""
    owner, number = read_name(station.id)
    return (
        station.controller.value if station.controller else owner,
        str(station.terminal.value) if station.terminal else number,
    )


def meant_station(name: str, controllers: Iterable[str]) -> str:
    """`A3` by `a3`, and by `zone3` or `3` where there is one controller; else empty."""
    number = re.search(r"\d+$", name)
    known = list(controllers)
    alike = [each for each in known if each.lower() == read_name(name)[0].lower()]
    is_numbered = re.fullmatch(r"(?:[^\W\d]{3,}[-._]?)?\d+", name)  # `3`, `zone3`, but not `B3`
    meant = alike or (known if len(known) == 1 and is_numbered else [])
    return f"{meant[0]}{int(number[0])}" if number and len(meant) == 1 else ""


def read_name(name: str) -> tuple[str, str]:
    """`A-07` as controller and terminal; empty where the name does not say them."""
    named = re.fullmatch(r"(.+?)[-._]?0*(\d+)", name)
    return (named[1], named[2]) if named else ("", "")


def valves_of(station: Station) -> Iterator[str]:
    """The ids of the valves on a station."""
    yield from station.valves or (station.id,)
