"""What lies in the ground of a random yard: cables leg by leg, joints, and the wires laid in them.

A *wire* is laid leg by leg from joint to joint.  Each leg it takes gets the label of the metal it
belongs to, which is the generator's own account of the yard: the tracer is held against it.
"""

from __future__ import annotations

import random
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from typing import NamedTuple

Label = tuple[str, ...]  # ("hot", "A7"), ("common", "A"), ...; empty for metal that is joined
NOTHING: Label = ()

_BASES = (
    *("black", "brown", "red", "orange", "yellow", "green", "blue", "light-blue"),
    *("violet", "gray", "white", "pink", "gold", "turquoise", "silver", "tan"),
)
COLORS = (*_BASES, *(f"{base}/{stripe}" for base in _BASES[:7] for stripe in ("white", "pink")))


class Tip(NamedTuple):
    """What is held by a joint: a conductor's end, or a lead or terminal with an empty side."""

    of: str
    side: str = ""


class Step(NamedTuple):
    """One leg of a cable on one of its conductors, traveled outward or back."""

    cable: Cable
    leg: int
    word: str
    outward: bool

    @property
    def start(self) -> str:
        return self.cable.places[self.leg + (not self.outward)]

    @property
    def end(self) -> str:
        return self.cable.places[self.leg + self.outward]

    @property
    def departing(self) -> Tip:
        return Tip(f"{self.cable.id} {self.word}", "out" if self.outward else "in")

    @property
    def arriving(self) -> Tip:
        return Tip(f"{self.cable.id} {self.word}", "in" if self.outward else "out")


@dataclass(slots=True, kw_only=True, eq=False)
class Cable:
    """A cable with the label of each leg of each of its conductors; None where it is free.

    Attributes:
        words: by color (and flag) of a conductor, its legs.
        reach: by flagged single that stops before the end of the run, the index of its last place.
    """

    id: str
    places: tuple[str, ...]
    legs: tuple[str, ...]
    gauge: str
    singles: bool
    shielded: bool = False
    words: dict[str, list[Label | None]] = field(default_factory=dict)
    reach: dict[str, int] = field(default_factory=dict)

    def is_free(self, word: str, legs: Iterable[int]) -> bool:
        return all(self.words[word][leg] is None for leg in legs)

    def is_untouched(self, word: str) -> bool:
        return self.is_free(word, range(len(self.legs)))

    def mark(self, word: str, legs: Iterable[int], label: Label | None) -> None:
        for leg in legs:
            self.words[word][leg] = label

    def new(self, rng: random.Random, owner: str) -> str | None:
        """One more conductor; None if there is no color left."""
        if self.singles:
            word = self._flagged(rng, owner)
        else:
            left = [color for color in COLORS if color not in self.words]
            if not left:
                return None
            word = rng.choice(left)
        self.words[word] = [None] * len(self.legs)
        return word

    def _flagged(self, rng: random.Random, owner: str) -> str:
        color = {"COM": "white", "SP": "orange"}.get(owner.split("-", maxsplit=1)[0], "red")
        if color == "white" and "white" not in self.words and rng.random() < 0.5:
            return "white"
        number = 1
        while f"{color} {owner}{'' if number == 1 else f'-{number}'}" in self.words:
            number += 1
        return f"{color} {owner}{'' if number == 1 else f'-{number}'}"

    def steps(self, word: str, start: int, end: int) -> list[Step]:
        """The legs from index `start` of its places to index `end`, either way."""
        if end > start:
            return [Step(self, leg, word, True) for leg in range(start, end)]
        return [Step(self, leg, word, False) for leg in range(start - 1, end - 1, -1)]


@dataclass(slots=True, kw_only=True, eq=False)
class Joint:
    """What is in one connector, or passes uncut as if it were."""

    at: str
    label: Label
    tips: list[Tip] = field(default_factory=list)

    @property
    def is_uncut(self) -> bool:
        """Nothing but the two ends of one conductor."""
        return len(self.tips) == 2 and self.tips[0].of == self.tips[1].of

    def words(self, ends: dict[str, int]) -> list[str]:
        """As a person writes it; `ends` is how many each conductor has in this place."""
        mine = [tip.of for tip in self.tips]
        said: dict[str, None] = {}
        for tip in self.tips:
            whole = not tip.side or mine.count(tip.of) == ends[tip.of]
            said[tip.of if whole else f"{tip.of} {tip.side}"] = None
        return list(said)


class Ground:
    """All joints of a yard by place; wires are laid from one to the next."""

    def __init__(self) -> None:
        self.cables: list[Cable] = []
        self.joints: dict[str, list[Joint]] = {}

    def joint(self, at: str, label: Label, *tips: Tip) -> Joint:
        made = Joint(at=at, label=label, tips=list(tips))
        self.joints.setdefault(at, []).append(made)
        return made

    def merge(self, one: Joint, two: Joint) -> Joint:
        """Put both into one connector."""
        one.tips += [tip for tip in two.tips if tip not in one.tips]
        self.joints[two.at].remove(two)
        return one

    def lay(self, start: Joint, steps: Sequence[Step], label: Label) -> list[Joint]:
        """The joints that a wire passes, with the one it starts from."""
        passed = [start]
        for step in steps:
            step.cable.mark(step.word, (step.leg,), label)
            passed[-1].tips.append(step.departing)
            passed.append(self.joint(step.end, label, step.arriving))
        return passed

    def at(self, place: str) -> Iterator[tuple[Cable, int]]:
        """The cables that come to a place, with its index in their run."""
        for cable in self.cables:
            if place in cable.places:
                yield cable, cable.places.index(place)

    def ends(self, place: str) -> dict[str, int]:
        """How many ends each conductor has in a place."""
        found = {}
        for cable, index in self.at(place):
            for word in cable.words:
                last = cable.reach.get(word, len(cable.legs))
                if index <= last:
                    found[f"{cable.id} {word}"] = (index > 0) + (index < last)
        return found
