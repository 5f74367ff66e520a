"""Say what is in each box of a home run: valves, commons, joints, sensors, spares."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Container, Iterable, Iterator, Mapping
from dataclasses import dataclass

from cardgen.asbuilt.model import (
    BuiltBox,
    BuiltCable,
    BuiltConductor,
    BuiltJoint,
    BuiltSpare,
    BuiltValve,
    ConductorMark,
    Role,
    Step,
    Use,
)
from cardgen.cards import Printable
from cardgen.cards.use_words import use_in_words, uses_in_words
from cardgen.drawing.coil_lines import lines_of, terminal
from cardgen.drawing.model import BoxLine, LineKind

USUAL_KIND = "valve box"


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

    def __init__(
        self, printable: Printable, families: Mapping[str, tuple[BuiltCable, ...]]
    ) -> None:
        self.printable, self.asbuilt, self.words = printable, printable.asbuilt, printable.words
        self.cables = {home: {c.id for c in family} for home, family in families.items()}
        self.spots = tuple(
            Spot(home=home, cable=cable.id, box=stop.at)
            for home, family in families.items()
            for cable in family
            for stop in cable.run[1:]
        )
        self.first: dict[tuple[str, str], Spot] = {}  # by home run and box
        self.spots_in: dict[str, list[Spot]] = defaultdict(list)
        for spot in self.spots:
            self.first.setdefault((spot.home, spot.box), spot)
            self.spots_in[spot.box].append(spot)
        self.starts: dict[str, str] = {}  # by the place where it begins, the first home run
        for home, family in families.items():
            self.starts.setdefault(family[0].run[0].at, home)
        self.inside: dict[str, list[BuiltConductor]] = defaultdict(list)
        self.path_cables: dict[str, set[str]] = defaultdict(set)  # by controller
        for conductor in self.asbuilt.conductors:
            self.inside[conductor.mark.cable].append(conductor)
            for use in (use for stretch in conductor.stretches for use in stretch.uses):
                if use.role is Role.PATH:
                    self.path_cables[use.of].add(conductor.mark.cable)
        self.valves: dict[
            Spot | str, list[BuiltValve]
        ] = {}  # by spot, or by home run where it begins
        for valve in self.asbuilt.in_order:
            self.valves.setdefault(self._spot_of(valve), []).append(valve)

    def _spot_of(self, valve: BuiltValve) -> Spot | str:
        """Where its hot (or its path) comes to it; a coil that none comes to stays where it is."""
        cables = {valve.hot.cable} if valve.hot else self.path_cables[valve.controller]
        here = self.spots_in[valve.box]
        for spot in (*(s for s in here if s.cable in cables), *here):
            return spot
        return self.starts.get(valve.box) or next(iter(self.cables))

    # -- names ---------------------------------------------------------------------------------

    def title(self, place: str) -> str:
        if place in self.asbuilt.controller:
            return self.words("terms.controller", controller=place)
        return place

    def about(self, place: str) -> str:
        controller = self.asbuilt.controller.get(place)
        if controller is not None:
            parts = [controller.where, self.printable.supply(place)]
        else:
            box = self.asbuilt.box[place]
            kind = "" if box.kind == USUAL_KIND else self.words(f"box kinds.{box.kind}")
            parts = [box.where, kind, box.size]
        return " · ".join(part for part in parts if part)

    def coils(self, at: Spot | str, home: str) -> Iterator[BoxLine]:
        """The coils in a spot, or (by the name of a home run) in the place where that begins."""
        start = self.asbuilt.cable[home].run[0].at
        for valve in self.valves.get(at, ()):
            yield from lines_of(self.printable, valve, start, self.cables[home])

    # -- in a box ------------------------------------------------------------------------------

    def at(self, spot: Spot) -> Iterator[BoxLine]:
        """Everything in a box, in the order in which a hand looks for it."""
        yield from self.coils(spot, spot.home)
        box = self.asbuilt.box.get(spot.box)
        if box is None:
            yield from self._landed(spot)
            yield from self._free(spot)
            return
        lines = [*self._commons(spot, box), *self._paths(spot, box)]
        if self.first[spot.home, spot.box] == spot:
            lines += self._joints(spot, box)
        lines += self._sensors(spot)
        lines += self._free(spot)
        yield from lines
        place = self.printable.spans.cables[spot.cable]
        if not lines and spot not in self.valves and self._all_pass(spot, box):
            yield BoxLine(span=place, kind=LineKind.NOTE, text=self.words("drawing.all pass"))
        for text in self._notes(spot, box):
            yield BoxLine(span=place, kind=LineKind.NOTE, text=text)

    def _landed(self, spot: Spot) -> Iterator[BoxLine]:
        """What another controller on the way has of this cable on its terminals."""
        for landing in self.asbuilt.controller[spot.box].terminals:
            for wire in landing.wires:
                if wire.mark.cable == spot.cable:
                    yield BoxLine(
                        span=self.printable.spans.of(spot.box),
                        kind=LineKind.COMMON,
                        marks=(wire.mark,),
                        lands=terminal(self.printable, landing.name),
                        name=self.words.listed(uses_in_words(self.words, wire.uses)),
                        text=self._by_pigtail(wire.by),
                    )

    def _here(self, spot: Spot) -> Iterator[BuiltConductor]:
        yield from (c for c in self.inside[spot.cable] if spot.box in c.places)

    def _commons(self, spot: Spot, box: BuiltBox) -> Iterator[BoxLine]:
        for owner in self.asbuilt.controllers:
            for conductor in self._here(spot):
                common = Use(role=Role.COMMON, of=owner.id)
                if not _is(conductor, box, common):
                    continue
                valves, on = _returning(box, {conductor.name}), _goes_on(conductor, box)
                if _is_spliced(conductor.name, box, common) or (on and not valves):
                    continue
                parts = (self._for(valves), "" if on else self.words("drawing.ends here"))
                yield BoxLine(
                    span=self.printable.spans.of(owner.id),
                    kind=LineKind.COMMON,
                    marks=(conductor.mark,),
                    name=f"{self.words('drawing.common')} {owner.id}",
                    text=" · ".join(part for part in parts if part),
                )

    def _paths(self, spot: Spot, box: BuiltBox) -> Iterator[BoxLine]:
        for owner in self.asbuilt.controllers:
            for side in ("1", "2"):
                for conductor in self._here(spot):
                    path = Use(role=Role.PATH, of=owner.id, side=side)
                    if not _is(conductor, box, path) or _is_spliced(conductor.name, box, path):
                        continue
                    on = _goes_on(conductor, box)
                    yield BoxLine(
                        span=self.printable.spans.of(owner.id),
                        kind=LineKind.PATH,
                        marks=(conductor.mark,),
                        name=self.words(f"drawing.path {side}"),
                        text="" if on else self.words("drawing.ends here"),
                    )

    def _joints(self, spot: Spot, box: BuiltBox) -> Iterator[BoxLine]:
        """Conductors of different names in one connector; the one nearer the controller first."""
        for linked in box.linked:
            members = [member for joint in linked for member in joint.members]
            found = _conductors_in(linked)
            mine = [m for m in found.values() if m.mark.cable in self.cables[spot.home]]
            if len(found) < 2 or not mine:
                continue
            arriving = [
                found[m.conductor]
                for m in members
                if m.arrives and m.conductor in found and found[m.conductor] in mine
            ]
            near = (m for m in arriving if m.mark.cable == spot.cable)
            first = next(near, (arriving or mine)[0])
            others = [m.mark for m in found.values() if m is not first]
            valves = _returning(box, found.keys())
            parts = [self._whose(linked), self._for(valves)]
            changes = any(_look(other) != _look(first.mark) for other in others)
            parts += [self.words("drawing.colour changes")] if changes else []
            parts.append(self._by_pigtail(dict.fromkeys(m.lead for m in members if m.pigtail)))
            yield BoxLine(
                span=self.printable.spans.of(spot.box),
                kind=LineKind.JOINT,
                marks=(first.mark,),
                joined=tuple(dict.fromkeys(others)),
                lands=self.words("drawing.joined to"),
                text=" · ".join(part for part in parts if part),
            )

    def _for(self, valves: list[str]) -> str:
        return self.words("drawing.for", valves=self.words.listed(valves)) if valves else ""

    def _by_pigtail(self, names: Iterable[str]) -> str:
        named = self.words.listed(names)
        return self.words("drawing.by pigtail", pigtails=named) if named else ""

    def _whose(self, linked: Iterable[BuiltJoint]) -> str:
        """Stations, spares and sensors by their names alone."""
        own = (Role.HOT, Role.RETURN, Role.SPARE, Role.SENSOR)
        uses = dict.fromkeys(use for joint in linked for use in joint.uses)
        said = (u.of if u.role in own else use_in_words(self.words, u) for u in uses)
        return self.words.listed(said)

    def _sensors(self, spot: Spot) -> Iterator[BoxLine]:
        ending = {c.name: c for c in self._here(spot) if c.places[-1] == spot.box}
        for sensor in self.asbuilt.sensors:
            wires = [ending[name] for name in sensor.wires if name in ending]
            goes_on = any(
                self.asbuilt.conductor[name].places[0] == spot.box for name in sensor.wires
            )
            if wires and not goes_on:
                parts = (self.words(f"drawing.{sensor.kind} sensor"), sensor.where)
                yield BoxLine(
                    span=self.printable.spans.sensors[sensor.id],
                    kind=LineKind.SENSOR,
                    marks=tuple(wire.mark for wire in wires),
                    lands="SEN",
                    name=f"{self.words('drawing.sensor')} {sensor.id}",
                    what="sensor",
                    text=" · ".join(part for part in parts if part),
                )

    def _free(self, spot: Spot) -> Iterator[BoxLine]:
        """The free stretches that end here: spares, then what is dead, by where that begins."""
        box = self.asbuilt.box.get(spot.box)
        ending = [
            spare
            for spare in self.asbuilt.spares
            if spare.mark.cable == spot.cable
            and spare.last == spot.box
            and not (box and _is_spliced(spare.conductor, box, _use(spare)))
        ]
        name = self.words("drawing.spare")
        for spare in ending:
            if not spare.dead:
                parts = (spare.reserved_for, self.words("drawing.ends here"))
                yield BoxLine(
                    span=self.printable.spans.spares[spare.id]
                    if spare.listed
                    else self.printable.spans.cables[spot.cable],
                    kind=LineKind.SPARE,
                    marks=(spare.mark,),
                    name=f"{name} {spare.id}" if spare.listed else name,
                    text=" · ".join(part for part in parts if part),
                )
        dead = self._dead([spare for spare in ending if spare.dead])
        if dead:
            yield BoxLine(
                span=self.printable.spans.cables[spot.cable],
                kind=LineKind.SPARE,
                name=self.words("roles.dead"),
                text=dead,
            )

    def _dead(self, ending: list[BuiltSpare]) -> str:
        """In one line, by where each was cut: nobody looks for them, but must not trust them."""
        by_first: dict[str, list[str]] = defaultdict(list)
        for spare in ending:
            mark = spare.mark
            parts = (self.words.colour(mark.word), mark.code, mark.flag)
            by_first[spare.first].append(" ".join(part for part in parts if part))
        return "; ".join(
            self.words("drawing.cut in", conductors=", ".join(found), place=first)
            for first, found in by_first.items()
        )

    def _all_pass(self, spot: Spot, box: BuiltBox) -> bool:
        """This cable serves nothing here, and none of it is cut."""
        here = {c.name for c in self._here(spot)}
        joined = {m.conductor for joint in box.joints for m in joint.members}
        return here.isdisjoint(joined | {capped.conductor for capped in box.capped})

    def _notes(self, spot: Spot, box: BuiltBox) -> Iterator[str]:
        if box.surge_unit:
            yield self.words("drawing.surge unit")
        others = [
            cable.id
            for cable in self.asbuilt.cables
            if cable.id not in self.cables[spot.home] and spot.box in cable.places
        ]
        if others:
            yield self.words("drawing.also here", cables=self.words.listed(others))
        if len(box.commons) > 1:
            yield self.words("drawing.commons", commons=self.words.listed(box.commons))


# ---- what becomes of a conductor in a box --------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Joined:
    """A conductor of a joint."""

    conductor: str
    mark: ConductorMark


def _conductors_in(linked: Iterable[BuiltJoint]) -> dict[str, _Joined]:
    """Each once; of joints that pigtails link, of all."""
    members = (member for joint in linked for member in joint.members)
    return {m.conductor: _Joined(m.conductor, m.mark) for m in members if m.mark and not m.pigtail}


def _is(conductor: BuiltConductor, box: BuiltBox, use: Use) -> bool:
    return any(use in stretch.uses for stretch in conductor.touching(box.id))


def _goes_on(conductor: BuiltConductor, box: BuiltBox) -> bool:
    """It passes the box, uncut or joined with itself."""
    if any(passing.conductor == conductor.name for passing in box.passing):
        return True
    return any(
        [m.conductor for joint in linked for m in joint.members].count(conductor.name) > 1
        for linked in box.linked
    )


def _is_spliced(conductor: str, box: BuiltBox, use: Use) -> bool:
    """What it is, it is in a joint with a conductor of another name, which has its own line.

    Where it is cut, it may be something else on the other side of the box, joined or capped.
    """
    found = (_conductors_in(linked) for linked in box.linked if any(use in j.uses for j in linked))
    return any(len(joined) > 1 and conductor in joined for joined in found)


def _use(spare: BuiltSpare) -> Use:
    return Use(role=Role.DEAD if spare.dead else Role.SPARE, of=spare.id)


def _returning(box: BuiltBox, conductors: Container[str]) -> list[str]:
    """The valves whose way back begins with one of these and is the common."""
    return [
        valve.id
        for valve in box.valves
        if not valve.own_return and _last_of(valve.back_way) in conductors
    ]


def _last_of(way: Iterable[Step]) -> str:
    """The conductor that comes to the valve; a pigtail may lie between."""
    return next((step.name for step in reversed(tuple(way)) if step.conductor), "")


def _look(mark: ConductorMark) -> tuple[str, str]:
    return mark.base, mark.stripe
