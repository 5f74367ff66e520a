"""Where the cables of a random yard run: home runs, extensions, tees, links, and who may use them.

A ---[A-K1]--- VB-1 --- VB-2 --- VB-3          a home run
                |         `---[A-K3]--- VB-6   an extension that begins in a box on the way: a tee
                `--[A-K4]-- VB-7 --- VB-3      a link: the common comes to VB-3 from two sides
"""

from __future__ import annotations

import random
from collections import Counter, deque
from dataclasses import dataclass, field
from typing import NamedTuple

from tests.oracle.ground import Cable, Ground, Joint, Label, Tip


class Section(NamedTuple):
    """The part of a cable that a controller may use, by the indices of its first and last place."""

    cable: Cable
    first: int
    last: int


class Travel(NamedTuple):
    """Along one cable from an index of its places to another, either way."""

    cable: Cable
    start: int
    end: int

    @property
    def legs(self) -> range:
        return range(min(self.start, self.end), max(self.start, self.end))


@dataclass(slots=True, kw_only=True, eq=False)
class Home:
    """One controller: what it may use, and where its common is.

    Attributes:
        field_side: the joint from which its commons start: C, or behind a sensor's contact.
        commons: by box, the joints of its common there.
        said: what is written under `common`.
    """

    id: str
    field_side: Joint
    sections: list[Section] = field(default_factory=list)
    commons: dict[str, list[Joint]] = field(default_factory=dict)
    said: list[str] = field(default_factory=list)

    @property
    def label(self) -> Label:
        return ("common", self.id)

    def replace(self, old: Joint, new: Joint) -> None:
        for joints in self.commons.values():
            if old in joints:
                joints.remove(old)
                if new not in joints:
                    joints.append(new)


class Layout:
    """Lays cables and commons; `features` counts what a yard has of each kind."""

    def __init__(self, rng: random.Random) -> None:
        self.random = rng
        self.ground = Ground()
        self.homes: dict[str, Home] = {}
        self.boxes: list[str] = []
        self.features: Counter[str] = Counter()
        self.metric = rng.random() < 0.2
        self._numbers: Counter[tuple[str, str]] = Counter()

    def chance(self, of: float) -> bool:
        return self.random.random() < of

    # -- places and cables -----------------------------------------------------------------------

    def box(self) -> str:
        self.boxes.append(f"VB-{len(self.boxes) + 1}")
        return self.boxes[-1]

    def cable(self, owner: str, places: list[str], kind: str = "K") -> Cable:
        singles = kind == "K" and self.chance(0.25)
        kind = "S" if singles else kind
        self._numbers[owner, kind] += 1
        feet = [self.random.randint(12, 40) for _ in places[1:]]
        legs = [f"{n * 0.3048:.1f} m" if self.metric else f"{n} ft" for n in feet]
        made = Cable(
            id=f"{owner}-{kind}{self._numbers[owner, kind]}",
            places=tuple(places),
            legs=tuple(legs),
            gauge=self.random.choice(["14 AWG", "16 AWG"]) if singles else "18 AWG",
            singles=singles,
        )
        self.ground.cables.append(made)
        self.features["bundle of singles"] += singles
        return made

    # -- home runs -------------------------------------------------------------------------------

    def home_run(self, home: Home, passing: list[str] | None = None) -> None:
        """A cable from the controller, its common made up in one of several ways."""
        places = [home.id, *(passing or self._run_of_boxes(home))]
        middle = self._room_for_a_controller(places)
        cable = self.cable(home.id, places)
        home.sections.append(Section(cable, 0, len(places) - 1))
        self.features["home run"] += 1
        if len(places) > 4 and not middle and self.chance(0.35):
            self._common_fed_again(home, cable)
        elif len(places) > 3 and not middle and self.chance(0.25):
            self._common_on_a_spare(home, cable)
        else:
            self._plain_common(home, cable)
        if middle:
            self._controller_on_the_way(cable, middle)

    def _run_of_boxes(self, home: Home) -> list[str]:
        """New boxes, and now and then one that is there already."""
        known = [b for b in self.boxes if b not in home.commons]
        found: list[str] = []
        for _ in range(self.random.randint(1, 4)):
            if known and self.chance(0.4 if len(self.homes) > 1 else 0.1):
                found.append(known.pop(self.random.randrange(len(known))))
                self.features["shared box"] += 1
            else:
                found.append(self.box())
        return found

    def _plain_common(self, home: Home, cable: Cable) -> None:
        self.common(home, home.field_side, Travel(cable, 0, len(cable.legs)))

    def common(self, home: Home, start: Joint, way: Travel, word: str | None = None) -> list[Joint]:
        """Lay a common from a joint along one cable; empty if no conductor is left."""
        word = word or self.take(way, f"COM-{home.id}")
        if word is None:
            return []
        passed = self.ground.lay(start, way.cable.steps(word, way.start, way.end), home.label)
        for joint in passed:
            if joint.at in self.boxes and joint not in home.commons.setdefault(joint.at, []):
                home.commons[joint.at].append(joint)
        name = f"{way.cable.id} {word}"
        begins = way.cable.places[way.start]
        if way.start > 0 and way.end > way.start:
            self._say(home, f"{name} from {begins}")
        else:
            self._say(home, name)
        return passed

    def _say(self, home: Home, words: str) -> None:
        name = words.partition(" from ")[0]
        if not any(said.partition(" from ")[0] == name for said in home.said):
            home.said.append(words)

    def _common_on_a_spare(self, home: Home, cable: Cable) -> None:
        """From some box on another conductor of the cable carries it."""
        last = len(cable.legs)
        cut = self.random.randint(1, last - 1)
        before = self.common(home, home.field_side, Travel(cable, 0, cut))
        if before and self.common(home, before[-1], Travel(cable, cut, last)):
            self.features["common on a spare"] += 1

    def _common_fed_again(self, home: Home, cable: Cable) -> None:
        """Cut in one box and fed from another home run in the next but one: dead between."""
        last = len(cable.legs)
        cut = self.random.randint(1, last - 2)
        laid = self.common(home, home.field_side, Travel(cable, 0, cut))
        meeting = cable.places[cut + 1]
        self.home_run_to(home, meeting)
        fed = home.commons.get(meeting)
        if laid and fed:
            word = laid[-1].tips[0].of.partition(" ")[2]
            self.common(home, fed[0], Travel(cable, cut + 1, last), word)
            self.features["common cut and fed beyond"] += 1

    def home_run_to(self, home: Home, box: str) -> Cable:
        """A second way to a box, over new ones or straight."""
        places = [home.id, *(self.box() for _ in range(self.random.randint(0, 1))), box]
        cable = self.cable(home.id, places)
        home.sections.append(Section(cable, 0, len(places) - 1))
        self._plain_common(home, cable)
        return cable

    # -- a controller half way along a cable -------------------------------------------------------

    def _room_for_a_controller(self, places: list[str]) -> int:
        """The index at which a second controller is put into a run; 0 if it is not."""
        if len(self.homes) > 1 or len(places) < 3 or not self.chance(0.15):
            return 0
        index = self.random.randint(2, len(places) - 1)
        places.insert(index, "B")
        return index

    def _controller_on_the_way(self, cable: Cable, index: int) -> None:
        home = self.controller("B")
        home.sections.append(Section(cable, index, len(cable.legs)))
        self.common(home, home.field_side, Travel(cable, index, len(cable.legs)))
        self.features["controller half way"] += 1

    def controller(self, name: str) -> Home:
        terminal = self.ground.joint(name, ("common", name), Tip("C"))
        self.homes[name] = home = Home(id=name, field_side=terminal)
        self.features[f"{len(self.homes)} controllers"] += 1
        return home

    # -- beyond the home runs ----------------------------------------------------------------------

    def extension(self, home: Home, start: str = "") -> None:
        """A cable that begins in a box; from a box on the way it is a tee."""
        served = [b for b in home.commons if home.commons[b]]
        if not served:
            return
        begins = start or self.random.choice(served)
        own = [(c, i) for c, i in self.ground.at(begins) if 0 < i < len(c.legs)]
        self.features["tee" if own else "extension"] += 1
        cable = self.cable(
            home.id, [begins, *(self.box() for _ in range(self.random.randint(1, 3)))]
        )
        home.sections.append(Section(cable, 0, len(cable.legs)))
        feeders = home.commons[begins]
        self.common(home, self.random.choice(feeders), Travel(cable, 0, len(cable.legs)))

    def two_home_runs_and_on(self, home: Home) -> None:
        """Two cables from the controller end in a box where a third begins."""
        served = [c for c in self.ground.cables if c.places[0] == home.id and c.places[-1] != "B"]
        last = [c.places[-1] for c in served if home.commons.get(c.places[-1])]
        if not last:
            return
        meeting = self.random.choice(last)
        self.home_run_to(home, meeting)
        joints = home.commons[meeting]
        if len(joints) > 1 and self.chance(0.3):
            self._tie(home, joints[0], joints[1])
        self.extension(home, meeting)
        self.features["two home runs meet"] += 1

    def link(self, home: Home) -> None:
        """A cable between two boxes that closes the common to a ring."""
        served = [b for b in home.commons if home.commons[b]]
        if len(served) < 2:
            return
        one, two = self.random.sample(served, 2)
        places = [one, *(self.box() for _ in range(self.random.randint(0, 1))), two]
        cable = self.cable(home.id, places)
        home.sections.append(Section(cable, 0, len(places) - 1))
        start, goal = self.random.choice(home.commons[one]), self.random.choice(home.commons[two])
        passed = self.common(home, start, Travel(cable, 0, len(places) - 1))
        if passed:
            self._tie(home, goal, passed[-1])

    def _tie(self, home: Home, one: Joint, two: Joint) -> None:
        """Put two of its common into one connector, which closes a ring."""
        home.replace(two, self.ground.merge(one, two))
        self.features["ring"] += 1

    def foreign_feed(self, home: Home) -> None:
        """From a shared box on, a conductor of the other's cable carries this one's common."""
        choices = [
            (cable, index, joint)
            for box, joints in home.commons.items()
            for joint in joints
            for cable, index in self.ground.at(box)
            if all(section.cable is not cable for section in home.sections)
        ]
        if not choices:
            return
        cable, index, joint = self.random.choice(choices)
        ends = [i for i, at in enumerate(cable.places) if i != index and at in self.boxes]
        onward = [i for i in ends if i > index] if self.chance(0.7) else ends
        if not onward:
            return
        end = self.random.choice(onward)
        said = len(home.said)
        way = Travel(cable, index, end)
        if any(at not in self.boxes for at in cable.places[way.legs.start : way.legs.stop + 1]):
            return  # past another controller: too far-fetched
        if self.common(home, joint, way):
            home.sections.append(Section(cable, min(index, end), max(index, end)))
            self.features["foreign feed"] += 1
            self.features["fed backwards"] += end < index
            if end < index or self.chance(0.2):
                del home.said[said:]  # the joints carry it on
                self.features["common not named"] += 1

    # -- conductors --------------------------------------------------------------------------------

    def take(self, way: Travel, owner: str) -> str | None:
        """A conductor free all the way: now and then what another use has left, else a new one."""
        left = [
            word
            for word in way.cable.words
            if way.cable.is_free(word, way.legs) and not way.cable.is_untouched(word)
        ]
        if left and owner[:3] != "COM" and self.chance(0.15):
            self.features["two uses on two legs"] += 1
            return self.random.choice(left)
        return way.cable.new(self.random, owner)

    def ways(self, home: Home, box: str) -> list[Travel]:
        """The way with fewest cables from a controller to a box; empty if there is none."""
        sections = self.random.sample(home.sections, len(home.sections))
        queue: deque[tuple[str, list[Travel]]] = deque([(home.id, [])])
        seen = {home.id}
        while queue:
            here, passed = queue.popleft()
            if here == box:
                return passed
            for section in sections:
                if here not in section.cable.places[section.first : section.last + 1]:
                    continue
                start = section.cable.places.index(here)
                for index in range(section.first, section.last + 1):
                    there = section.cable.places[index]
                    if there not in seen and there in self.boxes:
                        seen.add(there)
                        queue.append((there, [*passed, Travel(section.cable, start, index)]))
        return []
