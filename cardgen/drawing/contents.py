"""Say what is in each box of a home run: valves, commons, joints, sensors, spares."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from cardgen.cards import Printable
from cardgen.cards.box_wires import called
from cardgen.cards.printable import mark, marks
from cardgen.drawing.coils import lines_of
from cardgen.drawing.metal import goes_on, in_joint, is_spliced, returning
from cardgen.drawing.model import Line, LineKind
from cardgen.job.model import BoxKind, Cable
from cardgen.wiring.model import IN, OUT, Conductor, End, Load
from cardgen.wiring.written import PATH_SIDES


@dataclass(frozen=True, slots=True, kw_only=True)
class Spot:
    """A box where a cable comes to it, in the drawing of one home run."""

    home: str
    cable: str
    box: str


class Contents:
    """What is in each spot; every coil is in one, a joint in each home run that it touches.

    `families` holds the cables of each home run, its own first.
    """

    def __init__(self, job: Printable, families: Mapping[str, tuple[Cable, ...]]) -> None:
        self.job, self.facts, self.words = job, job.facts, job.words
        self.cables = {home: {c.id for c in family} for home, family in families.items()}
        self.spots = tuple(
            Spot(home=home, cable=cable.id, box=stop.at)
            for home, family in families.items()
            for cable in family
            for stop in cable.run[1:]
        )
        self.first: dict[tuple[str, str], Spot] = {}  # by home run and box
        for spot in self.spots:
            self.first.setdefault((spot.home, spot.box), spot)
        self.starts: dict[str, str] = {}  # by the place where it begins, the first home run
        for home, family in families.items():
            self.starts.setdefault(family[0].run[0].at, home)
        self.loads: dict[Spot | str, list[Load]] = {}  # by spot, or by home run where it begins
        for load in self.facts.wiring.loads.values():
            self.loads.setdefault(self._spot_of(load), []).append(load)

    def _spot_of(self, load: Load) -> Spot | str:
        """Where its hot (or its path) comes to it; a coil that none comes to stays where it is."""
        circuit = self.job.circuits.get(load.id)
        if circuit is not None:
            cables = {circuit.hot_at_valve.cable.id}
        else:
            sides = self.facts.wiring.paths[load.controller]
            cables = {la.conductor.cable.id for landings in sides for la in landings}
        here = [spot for spot in self.spots if spot.box == load.box]
        for spot in (*(s for s in here if s.cable in cables), *here):
            return spot
        return self.starts.get(load.box) or next(iter(self.cables))

    # -- names ---------------------------------------------------------------------------------

    def title(self, place: str) -> str:
        if place in self.job.job.controllers:
            return self.words("terms.controller", controller=place)
        return place

    def about(self, place: str) -> str:
        controller = self.job.job.controllers.get(place)
        if controller is not None:
            parts = [controller.where, self.job.supply(place)]
        else:
            box = self.job.job.boxes[place]
            usual = not box.kind or box.kind is BoxKind.VALVE
            kind = "" if usual else self.words(f"box kinds.{box.kind}")
            parts = [box.where, kind, box.size]
        return " · ".join(part for part in parts if part)

    def coils(self, at: Spot | str, home: str) -> Iterator[Line]:
        """The coils in a spot, or (by the name of a home run) in the place where that begins."""
        start = self.job.job.cables[home].run[0].at
        for load in self.loads.get(at, ()):
            yield from lines_of(self.job, load, start, self.cables[home])

    # -- in a box ------------------------------------------------------------------------------

    def at(self, spot: Spot) -> Iterator[Line]:
        """Everything in a box, in the order in which a hand looks for it."""
        lines = list(self.coils(spot, spot.home))
        lines += self._commons(spot)
        lines += self._paths(spot)
        if self.first[spot.home, spot.box] == spot:
            lines += self._joints(spot)
        lines += self._sensors(spot)
        lines += self._spares(spot)
        place = self.job.job.cables[spot.cable].place
        if not lines and spot.box in self.job.job.boxes:
            text = self._nothing_here(spot)
            lines += [Line(place=place, kind=LineKind.NOTE, text=text)] if text else []
        for text in self._notes(spot):
            lines.append(Line(place=place, kind=LineKind.NOTE, text=text))
        return iter(lines)

    def _conductors(self, spot: Spot) -> list[Conductor]:
        found = self.facts.wiring.conductors.values()
        return [c for c in found if c.cable.id == spot.cable and spot.box in c.places]

    def _commons(self, spot: Spot) -> Iterator[Line]:
        for owner, landings in self.facts.wiring.commons.items():
            for la in landings:
                c = la.conductor
                if c.cable.id != spot.cable or spot.box not in c.places[la.begins :]:
                    continue
                valves, on = returning(self.facts, (c,), spot.box), goes_on(self.facts, c, spot.box)
                if is_spliced(self.facts, c, spot.box) or (on and not valves):
                    continue
                parts = (self._for(valves), "" if on else self.words("drawing.ends here"))
                yield Line(
                    place=la.place,
                    kind=LineKind.COMMON,
                    marks=(mark(c),),
                    name=f"{self.words('drawing.common')} {owner}",
                    text=" · ".join(part for part in parts if part),
                )

    def _paths(self, spot: Spot) -> Iterator[Line]:
        for sides in self.facts.wiring.paths.values():
            for side, landings in zip(PATH_SIDES, sides, strict=True):
                for la in landings:
                    c = la.conductor
                    if c.cable.id != spot.cable or spot.box not in c.places[la.begins :]:
                        continue
                    if is_spliced(self.facts, c, spot.box):
                        continue
                    on = goes_on(self.facts, c, spot.box)
                    yield Line(
                        place=la.place,
                        kind=LineKind.PATH,
                        marks=(mark(c),),
                        name=self.words(f"drawing.{side}"),
                        text="" if on else self.words("drawing.ends here"),
                    )

    def _joints(self, spot: Spot) -> Iterator[Line]:
        """Conductors of different names in one connector; the one nearer the controller first."""
        for joint in self.facts.wiring.joints:
            found = in_joint(self.facts, joint) if joint.at == spot.box else []
            mine = [c for c in found if c.cable.id in self.cables[spot.home]]
            if len(found) < 2 or not mine:
                continue
            arriving = [c for c in mine if End(c.name, spot.box, IN) in joint.ends]
            first = next((c for c in arriving if c.cable.id == spot.cable), (arriving or mine)[0])
            others = [c for c in found if c is not first]
            parts = [self._whose(found)]
            valves = returning(self.facts, found, spot.box)
            parts += [self._for(valves)] if valves else []
            changes = any(c.insulation != first.insulation for c in others)
            parts += [self.words("drawing.colour changes")] if changes else []
            yield Line(
                place=joint.place,
                kind=LineKind.JOINT,
                marks=(mark(first),),
                joined=marks(others),
                lands=self.words("drawing.joined to"),
                text=" · ".join(part for part in parts if part),
            )

    def _for(self, valves: list[str]) -> str:
        return self.words("drawing.for", valves=self.words.listed(valves)) if valves else ""

    def _whose(self, conductors: Iterable[Conductor]) -> str:
        users = {owner for c in conductors for owner in self.facts.users.get(c.name, ())}
        order = (*self.facts.loads_of, *self.job.job.spares, *self.job.job.sensors)
        named = [name for name in order if name in users]
        rest = sorted(users - set(named))
        return self.words.listed((*named, *(called(self.job, owner) for owner in rest)))

    def _sensors(self, spot: Spot) -> Iterator[Line]:
        mine = {c.name: c for c in self._conductors(spot) if c.places[-1] == spot.box}
        for sensor in self.job.job.sensors.values():
            names = [self.facts.wiring.by_words[said.value] for said in sensor.conductors]
            wires = [mine[name] for name in names if name in mine]
            goes_on = any(
                self.facts.wiring.conductors[name].places[0] == spot.box for name in names
            )
            if wires and not goes_on:
                parts = (self.words(f"drawing.{sensor.kind} sensor"), sensor.where)
                yield Line(
                    place=sensor.place,
                    kind=LineKind.SENSOR,
                    marks=marks(wires),
                    lands="SEN",
                    name=f"{self.words('drawing.sensor')} {sensor.id}",
                    what="sensor",
                    text=" · ".join(part for part in parts if part),
                )

    def _spares(self, spot: Spot) -> Iterator[Line]:
        """The conductors that nothing uses and that end here."""
        promised = {
            self.facts.wiring.by_words[said.value]: spare
            for spare in self.job.job.spares.values()
            for said in spare.conductor
        }
        for c in self._conductors(spot):
            used = c.name in self.facts.used_conductors or is_spliced(self.facts, c, spot.box)
            if used or c.places[-1] != spot.box:
                continue
            spare = promised.get(c.name)
            parts = (spare.reserved_for if spare else "", self.words("drawing.ends here"))
            name = self.words("drawing.spare")
            yield Line(
                place=spare.place if spare else c.cable.place,
                kind=LineKind.SPARE,
                marks=(mark(c),),
                name=f"{name} {spare.id}" if spare else name,
                text=" · ".join(part for part in parts if part),
            )

    def _nothing_here(self, spot: Spot) -> str:
        """Words for a box in which this cable serves nothing."""
        ends = [end for c in self._conductors(spot) for end in c.ends_at(spot.box)]
        through = all(OUT in {e.side for e in c.ends_at(spot.box)} for c in self._conductors(spot))
        if through and not any(end in self.facts.joint_of for end in ends):
            return self.words("drawing.all pass")
        return ""

    def _notes(self, spot: Spot) -> Iterator[str]:
        if any(said.value == spot.box for said in self.job.job.surge_units):
            yield self.words("drawing.surge unit")
        others = [
            cable.id
            for cable in self.job.job.cables.values()
            if cable.id not in self.cables[spot.home]
            and any(stop.at == spot.box for stop in cable.run)
        ]
        if others:
            yield self.words("drawing.also here", cables=self.words.listed(others))
        commons = [
            controller
            for controller, landings in self.facts.wiring.commons.items()
            if any(spot.box in la.conductor.places[la.begins :] for la in landings)
        ]
        if len(commons) > 1:
            yield self.words("drawing.commons", commons=self.words.listed(commons))
