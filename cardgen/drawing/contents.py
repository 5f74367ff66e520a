"""Say what is in each box of a home run: valves, commons, joints, sensors, spares."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from cardgen.asbuilt import BuiltBox, Role
from cardgen.asbuilt.model.built_boxes import JointGroup
from cardgen.asbuilt.model.home_runs import Branch, Spot
from cardgen.cards import Printable
from cardgen.cards.use_words import use_in_words, uses_in_words
from cardgen.drawing.coil_lines import lines_of, terminal
from cardgen.drawing.drawing_parts import BoxLine, LineKind, as_text
from cardgen.drawing.spare_lines import lines_of_free
from cardgen.drawing.starts import sensor_line, shared_line
from cardgen.words import Said, Text

BY_NAME = (Role.HOT, Role.RETURN, Role.SPARE, Role.SENSOR)  # what its name alone tells


class Contents:
    """What is in each spot of a home run; every coil is in one, a joint where it is first met."""

    def __init__(self, printable: Printable, home: Branch) -> None:
        self.printable, self.asbuilt, self.words, self.home = (
            printable,
            printable.asbuilt,
            printable.words,
            home,
        )
        self.cables = [cable.id for cable in home.cables]

    def coils(self, spot: Spot) -> Iterator[BoxLine]:
        for valve in self.asbuilt.hanging.get(spot, ()):
            yield from lines_of(self.printable, valve, self.home.start, self.cables)

    def at(self, spot: Spot) -> Iterator[BoxLine]:
        """Everything in a box, in the order in which a hand looks for it."""
        coils = [*self.coils(spot)]
        yield from coils
        box = self.asbuilt.box.get(spot.place)
        if box is None:
            yield from self._landed(spot)
            yield from lines_of_free(self.printable, spot)
            return
        lines = [*self._shared(spot, box)]
        if spot.cable == next(c.id for c in self.home.cables if box.id in c.places[1:]):
            lines += self._joints(spot, box)
        lines += [*self._sensors(spot), *lines_of_free(self.printable, spot)]
        yield from lines
        notes = [*self._notes(box)]
        here = (c.name for c in self.asbuilt.inside[spot.cable] if box.id in c.places)
        if not lines and not coils and box.uncut(here):
            notes.insert(0, self.words("drawing.all pass"))
        for text in notes:
            yield BoxLine(
                span=self.printable.spans.cables[spot.cable], kind=LineKind.NOTE, text=text.printed
            )

    def _landed(self, spot: Spot) -> Iterator[BoxLine]:
        """What another controller on the way has of this cable on its terminals."""
        for landing in self.asbuilt.controller[spot.place].terminals:
            for wire in landing.wires:
                if wire.mark.cable == spot.cable:
                    yield BoxLine(
                        span=self.printable.spans.of(spot.place),
                        kind=LineKind.COMMON,
                        marks=(wire.mark,),
                        lands=terminal(self.printable, landing.name).printed,
                        name=self.words.list_of(uses_in_words(self.words, wire.uses)).printed,
                        text=as_text(self._by_pigtail(wire.by)),
                    )

    def _shared(self, spot: Spot, box: BuiltBox) -> Iterator[BoxLine]:
        """Commons that serve valves here or end here, then paths; spliced ones are in joints."""
        controllers = [self.asbuilt.controller[name] for name in box.controllers]
        for use in (*(c.common for c in controllers), *(p for c in controllers for p in c.paths)):
            for conductor in self.asbuilt.carrying(use, box.id, spot.cable):
                is_common, on = use.role is Role.COMMON, box.goes_on(conductor.name)
                valves = box.returning({conductor.name}) if is_common else ()
                if box.is_spliced(conductor.name, use) or (is_common and on and not valves):
                    continue
                text = as_text(self._for(valves), "" if on else self.words("drawing.ends here"))
                yield shared_line(self.printable, use, conductor, text=text)

    def _joints(self, spot: Spot, box: BuiltBox) -> Iterator[BoxLine]:
        """Conductors of different names in one connector; the one nearer the controller first."""
        for group in box.linked:
            found = group.conductors
            if len(found) < 2 or group.cables.isdisjoint(self.cables):
                continue
            first = self._first(spot, group)
            others = [mark for name, mark in found.items() if name != first]
            changes = any(mark.look != found[first].look for mark in others)
            yield BoxLine(
                span=self.printable.spans.of(box.id),
                kind=LineKind.JOINT,
                marks=(found[first],),
                joined=tuple(dict.fromkeys(others)),
                lands=self.words("drawing.joined to").printed,
                text=as_text(
                    self.words.list_of(
                        use.of if use.role in BY_NAME else use_in_words(self.words, use)
                        for use in group.uses
                    ),
                    self._for(box.returning(found)),
                    self.words("drawing.color changes") if changes else "",
                    self._by_pigtail(group.pigtails),
                ),
            )

    def _first(self, spot: Spot, group: JointGroup) -> str:
        """The conductor that comes to a joint: on this cable, or on another of the home run."""
        mine = [name for name, mark in group.conductors.items() if mark.cable in self.cables]
        come = [m.conductor for m in group.members if m.arrives and m.conductor in mine]
        near = (name for name in come if group.conductors[name].cable == spot.cable)
        return next(near, (come or mine)[0])

    def _for(self, valves: Iterable[str]) -> Said:
        named = self.words.list_of(valves)
        return self.words("drawing.for", valves=named) if named else ""

    def _by_pigtail(self, names: Iterable[str]) -> Said:
        named = self.words.list_of(names)
        return self.words("drawing.by pigtail", pigtails=named) if named else ""

    def _sensors(self, spot: Spot) -> Iterator[BoxLine]:
        for sensor in self.asbuilt.sensors:
            ending = (wire.mark for wire in self.asbuilt.ending(sensor, spot.place))
            marks = tuple(mark for mark in ending if mark.cable == spot.cable)
            if marks:
                yield sensor_line(self.printable, sensor, marks, lands="SEN")

    def _notes(self, box: BuiltBox) -> Iterator[Text]:
        if box.surge_unit:
            yield self.words("drawing.surge unit")
        here = [cable.id for cable in self.asbuilt.cables_at(box.id)]
        apart = self.words.list_of(cable for cable in here if cable not in self.cables)
        if apart:
            yield self.words("drawing.also here", cables=apart)
        if box.commons_apart:
            yield self.words("drawing.commons", commons=self.words.list_of(box.commons_apart))
