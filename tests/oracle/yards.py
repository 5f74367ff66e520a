"""Random yards as job files in which all joints of all boxes and controllers are written out.

The joints as typed are the whole truth, and every yard is electrically sound: each valve hangs
between its own hot and the common of its controller.  The same seed makes the same bytes.
"""

from __future__ import annotations

import json
import random
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

from tests.oracle.ground import Cable, Joint, Label, Step, Tip
from tests.oracle.layout import Home, Layout, Travel

_COIL = {
    "supply": "24 V AC",
    "resistance": "30 ohm",
    "inrush": "0.40 A",
    "holding": "0.23 A",
    "minimum": "20 V",
}
_SECTIONS = (
    *("controllers", "cables", "boxes", "stations", "master valves", "relays"),
    *("sensors", "spares", "joints"),
)
_RELAY = {**_COIL, "resistance": "45 ohm", "inrush": "0.30 A", "holding": "0.16 A"}
_AREAS = ("lawn", "beds drip", "shrubs", "trees bubblers", "slope", "planters")


@dataclass(frozen=True, slots=True, kw_only=True)
class Yard:
    """A job file with the generator's own account of it.

    Attributes:
        features: what it has, each at least once.
        labels: by conductor and leg (from its first place on), what it is joined with.
    """

    seed: int
    text: str
    features: frozenset[str]
    labels: Mapping[tuple[str, int], Label]


def random_yard(seed: int) -> Yard:
    """The yard of a seed."""
    return _Maker(seed).yard()


@dataclass(slots=True, kw_only=True, eq=False)
class _Planned:
    """A hot (or a return) that is not laid yet.

    Attributes:
        entry: what the file says about its owner; `key` is where it names the conductors.
        leads: by box, the leads that hang on it.
        start: the joint on its terminal.
    """

    owner: str
    label: Label
    entry: dict[str, Any]
    key: str
    leads: dict[str, list[str]]
    start: Joint
    steps: list[Step] = field(default_factory=list)


class _Maker:
    def __init__(self, seed: int) -> None:
        self.seed, self.random = seed, random.Random(seed)
        self.layout = layout = Layout(self.random)
        self.ground, self.features, self.chance = layout.ground, layout.features, layout.chance
        self.sections: dict[str, dict[str, Any]] = {name: {} for name in _SECTIONS}
        self.strips: dict[str, list[str]] = {}
        self.tied: set[str] = set()  # spares joined with another already
        self._lay_out()
        self._stations()
        for home in layout.homes.values():
            self._specials(home)
        self._idle_terminals()
        self._stubs()
        self._spares()
        self._ends_of_singles()

    # -- cables and commons ------------------------------------------------------------------------

    def _lay_out(self) -> None:
        self._home("A")
        if "B" not in self.layout.homes and self.chance(0.45):
            self._home("B")
        for home in list(self.layout.homes.values()):
            for _ in range(self.random.choice([0, 1, 1, 2])):
                self.layout.extension(home)
            if self.chance(0.2):
                self.layout.two_home_runs_and_on(home)
            if self.chance(0.2):
                self.layout.link(home)
            if self.chance(0.5):
                self.layout.foreign_feed(home)

    def _home(self, name: str) -> None:
        home = self.layout.controller(name)
        if self.chance(0.12):
            self._sensor_in_common(home)
        for _ in range(self.random.choice([1, 1, 2, 3])):
            self.layout.home_run(home)

    def _sensor_in_common(self, home: Home) -> None:
        """Its contact stands between C and all commons."""
        home.field_side.tips.append(Tip(f"RAIN-{home.id} C side"))
        side = Tip(f"RAIN-{home.id} field side")
        home.field_side = self.ground.joint(home.id, home.label, side)
        self.features["sensor in the common"] += 1

    # -- stations ----------------------------------------------------------------------------------

    def _stations(self) -> None:
        for home in self.layout.homes.values():
            boxes = [box for box in home.commons if home.commons[box]]
            count = min(self.random.randint(5, 13), 5 + 2 * len(boxes))
            numbers = self.random.sample(range(1, count + 4), count)
            self.strips[home.id] = [str(n) for n in range(1, count + 4)]
            waiting: _Planned | None = None
            for number in numbers:
                planned = self._station(home, number, boxes)
                if planned and waiting and self._exchange(waiting, planned):
                    pass
                if waiting:
                    self._commit(waiting)
                waiting = planned
            if waiting:
                self._commit(waiting)

    def _station(self, home: Home, number: int, boxes: list[str]) -> _Planned | None:
        ways: list[Travel] = []
        box = ""
        if boxes:
            box = self.random.choice(boxes)
            ways = self.layout.ways(home, box)
        if not ways:
            return None
        name = self.random.choice([f"{home.id}{number}"] * 4 + [f"{home.id}-{number:02d}"])
        entry: dict[str, Any] = {"area": f"{self.random.choice(_AREAS)} {number}"}
        if self.chance(0.05):
            name = f"rose-{home.id}{number}"
            entry |= {"controller": home.id, "terminal": number}
        steps = self._plan(ways, name)
        if steps is None:
            return None
        leads = self._valves(home, name, box, steps, entry)
        for at, valves in leads.items():
            joint = self.random.choice(home.commons[at])
            joint.tips += [Tip(valve) for valve in valves]
            self._say_common(joint, home, at, entry)
        self.sections["stations"][name] = entry
        self.features["single valve" if len(leads) == 1 else "twin in two boxes"] += 1
        return _Planned(
            owner=name,
            label=("hot", name),
            entry=entry,
            key="hot",
            leads=leads,
            start=self.ground.joint(home.id, ("hot", name), Tip(str(number))),
            steps=steps,
        )

    def _valves(
        self, home: Home, name: str, box: str, steps: list[Step], entry: dict[str, Any]
    ) -> dict[str, list[str]]:
        """By box the valves of a station: one, two side by side, or two along its hot."""
        on_the_way = [s.end for s in steps[:-1] if home.commons.get(s.end)]
        if self.chance(0.88):
            entry["box"] = box
            return {box: [name]}
        second = self.random.choice(on_the_way) if on_the_way and self.chance(0.6) else box
        entry["valves"] = {f"{name}a": {"box": second}, f"{name}b": {"box": box}}
        self.features["twin"] += 1
        return (
            {box: [f"{name}a", f"{name}b"]}
            if second == box
            else {
                second: [f"{name}a"],
                box: [f"{name}b"],
            }
        )

    def _say_common(self, joint: Joint, home: Home, at: str, entry: dict[str, Any]) -> None:
        """Where several commons are in the box, which one takes the lead may be written."""
        conductors = [tip.of for tip in joint.tips if tip.side]
        if len(home.commons[at]) > 1 and conductors and "valves" not in entry and self.chance(0.5):
            entry["common"] = conductors[0]
            self.features["common named by a station"] += 1

    # -- the way of a hot --------------------------------------------------------------------------

    def _plan(self, ways: list[Travel], owner: str) -> list[Step] | None:
        """Leg by leg, with the conductors taken; None if there are not enough."""
        steps: list[Step] = []
        for way in ways:
            word = self.layout.take(way, owner)
            if word is None:
                for step in steps:
                    step.cable.mark(step.word, (step.leg,), None)
                return None
            way.cable.mark(word, way.legs, ("hot", owner))
            steps += self._varied(way, word, owner)
        if len(ways) > 1:
            self.features["color change at a splice"] += 1
        if any(not step.outward for step in steps):
            self.features["hot against the run"] += 1
        return steps

    def _varied(self, way: Travel, word: str, owner: str) -> list[Step]:
        """Along one cable; now and then a middle leg or all from a box on rides elsewhere."""
        steps = way.cable.steps(word, way.start, way.end)
        if len(steps) > 2 and self.chance(0.3):
            first = self.random.randint(1, len(steps) - 2)
            last = self.random.randint(first + 1, len(steps) - 1)
            feature = "middle leg rides elsewhere"
        elif len(steps) > 1 and self.chance(0.12):
            first, last = self.random.randint(1, len(steps) - 1), len(steps)
            feature = "color change inside a cable"
        else:
            return steps
        cuts = {steps[first].start, steps[last - 1].end} - {steps[-1].end}
        if not cuts <= set(self.layout.boxes):
            return steps  # nobody splices another's hot in a controller
        legs = [step.leg for step in steps[first:last]]
        other = self.layout.take(Travel(way.cable, min(legs), max(legs) + 1), owner)
        if other is None or other == word:
            return steps
        way.cable.mark(word, legs, None)
        way.cable.mark(other, legs, ("hot", owner))
        self.features[feature] += 1
        middle = [step._replace(word=other) for step in steps[first:last]]
        return [*steps[:first], *middle, *steps[last:]]

    def _exchange(self, one: _Planned, two: _Planned) -> bool:
        """From a box on each goes on in the other's color, and perhaps changes back."""
        both = min(len(one.steps), len(two.steps))
        same = 0
        while same < both and one.steps[same][:2] == two.steps[same][:2]:
            same += 1
        same_cable = [
            i
            for i in range(1, same)
            if one.steps[i].cable is one.steps[i - 1].cable
            and one.steps[i].start in self.layout.boxes
        ]
        if not same_cable or not self.chance(0.5):
            return False
        first = self.random.choice(same_cable)
        cable = one.steps[first].cable
        last = max(i for i in range(first, same) if one.steps[i].cable is cable) + 1
        rest = [*one.steps[last:], *two.steps[last:]]
        cancels = last - first > 1 and self.chance(0.4)
        if cancels:
            last = self.random.randint(first + 1, last - 1)
            if one.steps[last].start not in self.layout.boxes:
                return False
        elif any(step.cable is cable for step in rest):
            return False  # one goes on in this cable alone: the other's color ends before
        for index in range(first, last):
            mine, other = one.steps[index], two.steps[index]
            one.steps[index], two.steps[index] = other, mine
        self.features["exchange that cancels" if cancels else "exchange of colors"] += 1
        return True

    def _commit(self, planned: _Planned) -> None:
        """Lay it, hang its leads on it, and write the conductors that it names."""
        passed = self.ground.lay(planned.start, planned.steps, planned.label)
        for joint in passed:
            joint.tips += [Tip(lead) for lead in planned.leads.get(joint.at, ())]
        planned.entry[planned.key] = self._said(planned.steps)

    def _said(self, steps: list[Step]) -> str | list[str]:
        """The conductors in the order of travel; of each cable at least the first."""
        full: list[str] = []
        cables: dict[str, str] = {}
        for step in steps:
            name = step.departing.of
            cables.setdefault(step.cable.id, name)
            if name not in full[-1:]:
                full.append(name)
        said = list(cables.values())
        if len(full) > len(said) and self.chance(0.25):
            said = full
            self.features["hot names every color"] += 1
        if len(said) > 1 and self.chance(0.12):
            del said[1:]
            self.features["joints carry the hot on"] += 1
        return said[0] if len(said) == 1 else said

    # -- master valves, relays, sensors ------------------------------------------------------------

    def _specials(self, home: Home) -> None:
        if self.chance(0.4):
            own = self.chance(0.6)
            entry: dict[str, Any] = {"controllers": home.id}
            if self._special(home, f"MV-{home.id}", "MV", entry, own):
                self.sections["master valves"][f"MV-{home.id}"] = entry
                self.features[f"master valve, {'own return' if own else 'shared common'}"] += 1
        if self.chance(0.15):
            entry = {"controller": home.id, "terminal": "PUMP", "coil": "relay"}
            if self._special(home, f"PUMP-{home.id}", "PUMP", entry, own=True):
                self.sections["relays"][f"PUMP-{home.id}"] = entry
                self.features["pump relay"] += 1
        if self.chance(0.25):
            self._sensor(home)

    def _special(
        self, home: Home, name: str, terminal: str, entry: dict[str, Any], own: bool
    ) -> bool:
        boxes = [box for box in home.commons if home.commons[box]]
        ways = self.layout.ways(home, self.random.choice(boxes)) if boxes else []
        hot = self._plan(ways, name) if ways else None
        back = self._plan(ways, f"{name}-RTN") if hot and own else None
        if not hot or (own and not back):
            return False
        box = hot[-1].end
        entry["box"] = box
        leads = {box: [name]}
        start = self.ground.joint(home.id, ("hot", name), Tip(terminal))
        planned = _Planned(
            owner=name,
            label=("hot", name),
            entry=entry,
            key="hot",
            leads=leads,
            start=start,
            steps=hot,
        )
        self._commit(planned)
        if not back:
            self.random.choice(home.commons[box]).tips.append(Tip(name))
            return True
        home_joint = next(j for j in self.ground.joints[home.id] if Tip("C") in j.tips)
        label = ("return", name)
        self._commit(
            _Planned(
                owner=name,
                label=label,
                entry=entry,
                key="return",
                leads=leads,
                start=home_joint,
                steps=back,
            )
        )
        return True

    def _sensor(self, home: Home) -> None:
        """A cable of its own with two wires, perhaps over a splice; on SEN."""
        name = f"FLOW-{home.id}"
        first = self.layout.cable(home.id, [home.id, self.layout.box()], "F")
        cables = [first]
        if self.chance(0.5):
            cables.append(self.layout.cable(home.id, [first.places[-1], self.layout.box()], "F"))
        said = []
        for color in ("red", "black"):
            joint = self.ground.joint(home.id, ("sensor", name), Tip("SEN"))
            for cable in cables:
                cable.shielded = True
                cable.words[color] = [None]
                joint = self.ground.lay(joint, cable.steps(color, 0, 1), ("sensor", name))[-1]
                said.append(f"{cable.id} {color}")
        self.sections["sensors"][name] = {
            "kind": "flow",
            "controllers": home.id,
            "conductors": said,
            "place": "main line",
        }
        self.features["sensor with own wires"] += 1

    # -- what leads nowhere ------------------------------------------------------------------------

    def _idle_terminals(self) -> None:
        """A conductor on a terminal on which nothing hangs."""
        for home in self.layout.homes.values():
            used = {tip.of for joint in self.ground.joints[home.id] for tip in joint.tips}
            free = [t for t in self.strips[home.id] if t not in used]
            section = self.random.choice(home.sections)
            if not free or section.cable.places[section.first] != home.id or not self.chance(0.15):
                continue
            word = section.cable.new(self.random, "SP")
            if word is None:
                continue
            label = ("terminal", home.id, free[0])
            joint = self.ground.joint(home.id, label, Tip(free[0]))
            steps = section.cable.steps(word, section.first, len(section.cable.legs))
            self.ground.lay(joint, steps, label)
            self.features["idle terminal"] += 1

    def _stubs(self) -> None:
        """A joint with one conductor more, which leads nowhere and is live."""
        for _ in range(self.random.choice([0, 0, 1, 2])):
            box = self.random.choice(self.layout.boxes)
            joints = [j for j in self.ground.joints.get(box, ()) if j.label[0] in ("hot", "common")]
            cables = [(c, i) for c, i in self.ground.at(box) if not c.shielded]
            if not joints or not cables:
                continue
            joint, (cable, index) = self.random.choice(joints), self.random.choice(cables)
            word = cable.new(self.random, "SP")
            if word is None:
                continue
            sides = [side for side, goal in (("in", 0), ("out", len(cable.legs))) if goal != index]
            if len(sides) == 2 and self.chance(0.5):
                sides = [self.random.choice(sides)]
            for side in sides:
                goal = 0 if side == "in" else len(cable.legs)
                self.ground.lay(joint, cable.steps(word, index, goal), joint.label)
            self.features[f"live stub on a {joint.label[0]}"] += 1

    def _spares(self) -> None:
        """Conductors that nothing touches; some are promised, some joined over a splice."""
        for cable in self.ground.cables:
            if not cable.shielded:
                for _ in range(self.random.choice([0, 1, 1, 2])):
                    self._spare(cable)
        for cable in self.ground.cables:
            if cable.shielded or cable.places[0] in self.layout.homes or not self.chance(0.4):
                continue
            self._spare_over_a_splice(cable)

    def _spare(self, cable: Cable) -> None:
        word = cable.new(self.random, "SP")
        if word is None:
            return
        self.features["spare that runs through"] += 1
        last = cable.places[-1]
        if self.chance(0.3) and cable.places[0] in self.layout.homes and last in self.layout.boxes:
            self._promise(f"{cable.id} {word}", last)

    def _promise(self, conductor: str | list[str], to: str) -> None:
        name = f"SP-{len(self.sections['spares']) + 1}"
        self.sections["spares"][name] = {"conductor": conductor, "to": to}
        self.features["spare promised"] += 1

    def _spare_over_a_splice(self, onward: Cable) -> None:
        place = onward.places[0]
        feeding = [c for c, i in self.ground.at(place) if i and c.places[0] in self.layout.homes]
        if not feeding:
            return
        cable = self.random.choice(feeding)
        words = [self._unpromised(cable), self._unpromised(onward)]
        if None in words:
            return
        index = cable.places.index(place)
        ends = [Tip(f"{cable.id} {words[0]}", "in"), Tip(f"{onward.id} {words[1]}", "out")]
        if index < len(cable.legs) and self.chance(0.5):
            ends.insert(1, Tip(f"{cable.id} {words[0]}", "out"))
        self.ground.joint(place, (), *ends)
        self.tied |= {ends[0].of, ends[-1].of}
        self.features["spare over a splice"] += 1
        if self.chance(0.5) and onward.places[-1] in self.layout.boxes:
            self._promise([ends[0].of, ends[-1].of], onward.places[-1])

    def _unpromised(self, cable: Cable) -> str | None:
        said = json.dumps(self.sections["spares"])
        free = [
            word
            for word in cable.words
            if cable.is_untouched(word)
            and f"{cable.id} {word}" not in self.tied
            and f'"{cable.id} {word}"' not in said
        ]
        return free[-1] if free else None

    def _ends_of_singles(self) -> None:
        """Each single ends in the last box of its use, or at the end of the run."""
        promised = json.dumps(self.sections["spares"])
        for cable in self.ground.cables:
            for word, legs in cable.words.items() if cable.singles else ():
                used = [leg for leg, label in enumerate(legs) if label is not None]
                keep = self.chance(0.3) or not used or f'"{cable.id} {word}"' in promised
                cable.reach[word] = len(legs) if keep else used[-1] + 1
                if cable.reach[word] < len(legs):
                    self.features["single that ends on the way"] += 1

    # -- the file ----------------------------------------------------------------------------------

    def yard(self) -> Yard:
        text = "\n".join(self._lines()) + "\n"
        labels = {
            (f"{cable.id} {word}", leg): label or ()
            for cable in self.ground.cables
            for word, legs in cable.words.items()
            for leg, label in enumerate(legs[: cable.reach.get(word, len(legs))])
        }
        found = frozenset(name for name, count in self.features.items() if count)
        return Yard(seed=self.seed, text=text, features=found, labels=labels)

    def _lines(self) -> Iterator[str]:
        yield 'job: {"code": "YARD-1", "site": "Any Yard", "revision": 1, "date": "2026-03-14"}'
        yield 'record: {"address": "https://jobs.example.com", "key": "7Q2F9KX4M3T8"}'
        yield f"coils: {json.dumps({'usual': _COIL, 'relay': _RELAY})}"
        self._write_controllers()
        self.sections["cables"] = {
            c.id: self._cable(c, n) for n, c in enumerate(self.ground.cables)
        }
        self.sections["boxes"] = {box: {"place": f"place {n}"} for n, box in self._numbered()}
        self.sections["joints"] = dict(self._joints())
        for section, body in self.sections.items():
            if body:
                yield f"{section}:"
            for name, entry in body.items():
                yield f"  {name}: {json.dumps(entry)}"

    def _numbered(self) -> Iterator[tuple[int, str]]:
        yield from enumerate(self.layout.boxes, 1)

    def _write_controllers(self) -> None:
        for home in self.layout.homes.values():
            strip = self.strips[home.id]
            self.sections["controllers"][home.id] = {
                "place": f"wall {home.id}",
                "supply": "24 V AC",
                "stations": len(strip),
                "terminals": ["C", f"1 to {len(strip)}", "MV", "PUMP", "SEN", "SEN"],
                "coil": "usual",
                "common": home.said[0] if len(home.said) == 1 else home.said,
            }
            if Tip("C") not in home.field_side.tips:
                behind = [t.of for t in home.field_side.tips if t.side]
                self.sections["sensors"][f"RAIN-{home.id}"] = {
                    "kind": "rain",
                    "controllers": home.id,
                    "contact": "normally closed",
                    "in common": behind,
                }

    def _cable(self, cable: Cable, number: int) -> dict[str, Any]:
        entry: dict[str, Any] = {"gauge": cable.gauge, "colors": list(cable.words)}
        if cable.singles:
            entry = {"singles": [self._single(cable, word) for word in cable.words]}
        if cable.shielded:
            entry["shielded"] = "yes"
        run = [cable.places[0]]
        for leg, place in zip(cable.legs, cable.places[1:], strict=True):
            run += [leg, place]
        return {**entry, "band": f"tape {number + 1}", "run": run}

    @staticmethod
    def _single(cable: Cable, word: str) -> dict[str, Any]:
        color, _, flag = word.partition(" ")
        single: dict[str, Any] = {"color": color, "gauge": cable.gauge}
        if flag:
            single["flags"] = [flag]
        return {**single, "to": cable.places[cable.reach[word]]}

    def _joints(self) -> Iterator[tuple[str, list[list[str]]]]:
        """Every connector of every place; pigtails would be written here, beside their joints."""
        for place in (*self.layout.homes, *self.layout.boxes):
            ends = self.ground.ends(place)
            joints = [
                joint.words(ends)
                for joint in self.ground.joints.get(place, ())
                if self._is_written(joint, ends)
            ]
            self.random.shuffle(joints)
            yield place, joints

    def _is_written(self, joint: Joint, ends: Mapping[str, int]) -> bool:
        if joint.is_uncut:
            return self.chance(0.1)
        if len(joint.tips) == 1:
            # One end by itself is told only where the conductor would else pass uncut.
            return ends.get(joint.tips[0].of, 0) > 1
        return True
