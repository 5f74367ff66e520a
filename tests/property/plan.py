"""What a random job is meant to be: which ends of conductors and coils are one piece of metal.

terminal --[piece: A-K1 red]--+--[piece: A-S1 red A7]-- lead of A7      one *metal*
                            box
From the metals follow every joint and every circuit, by a way of its own that owes nothing to
the program under test.
"""

from __future__ import annotations

import json
from collections import deque
from collections.abc import Iterable, Iterator
from copy import deepcopy
from dataclasses import dataclass, field
from typing import Any

Way = list[tuple[str, str, str]]  # conductor, from, to


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """One conductor from the first of its places to the one at index `last`, where its use ends.

    Attributes:
        reach: index of the last place to which the conductor itself goes.
    """

    conductor: str
    places: tuple[str, ...]
    last: int
    reach: int

    def ends_at(self, place: str) -> list[str]:
        """Its ends in use there, in the words of a joint."""
        if place not in self.places[: self.last + 1]:
            return []
        index = self.places.index(place)
        ends = [f"{self.conductor} in"] * (index > 0)
        return ends + [f"{self.conductor} out"] * (index < self.last)

    def words_at(self, place: str) -> list[str]:
        """The same, shortened to the bare name where that means just these ends."""
        ends = self.ends_at(place)
        index = self.places.index(place) if ends else 0
        whole = (index > 0) + (index < self.reach)
        return [self.conductor] if ends and len(ends) == whole else ends


@dataclass(slots=True, kw_only=True)
class Metal:
    """All that should conduct together.

    Attributes:
        start: the controller where it lands, and its terminal in the words of a joint.
        leads: box and load of each coil lead on it.
    """

    owner: str
    kind: str
    start: tuple[str, str] | None
    pieces: list[Piece] = field(default_factory=list)
    leads: list[tuple[str, str]] = field(default_factory=list)

    def joint_at(self, place: str) -> list[str]:
        """What lies in its connector there; empty if there is none."""
        leads = [load for box, load in self.leads if box == place]
        starts = [self.start[1]] if self.start and self.start[0] == place else []
        touching = [p for p in self.pieces if p.ends_at(place)]
        if not leads and not starts and len(touching) == 1:
            return []  # passes uncut, or ends capped
        ends = [words for p in touching for words in p.words_at(place)]
        return [*starts, *ends, *leads]

    def way_to(self, place: str) -> Way:
        """The legs from its start to a place."""
        assert self.start
        came: dict[str, tuple[str, str, str]] = {}
        queue = deque([self.start[0]])
        while queue:
            here = queue.popleft()
            for leg in self._legs_from(here):
                if leg[2] != self.start[0] and leg[2] not in came:
                    came[leg[2]] = leg
                    queue.append(leg[2])
        way: Way = []
        while place != self.start[0]:
            way.insert(0, came[place])
            place = came[place][1]
        return way

    def _legs_from(self, here: str) -> Iterator[tuple[str, str, str]]:
        for piece in self.pieces:
            for one, two in zip(piece.places[: piece.last], piece.places[1:], strict=False):
                if here == one:
                    yield piece.conductor, one, two
                elif here == two:
                    yield piece.conductor, two, one


@dataclass(slots=True, kw_only=True)
class Plan:
    """A job file as plain data, with the metals that it should come to.

    Attributes:
        sections: as in the file, by section and id.
        backs: by load, the metal of its way back.
        gauges, lengths: by conductor, and by conductor and leg (from, to) in feet.
    """

    sections: dict[str, Any]
    metals: list[Metal] = field(default_factory=list)
    backs: dict[str, Metal] = field(default_factory=dict)
    gauges: dict[str, str] = field(default_factory=dict)
    lengths: dict[tuple[str, str, str], float] = field(default_factory=dict)

    @property
    def text(self) -> str:
        return to_text(self.sections)

    def copy(self) -> dict[str, Any]:
        return deepcopy(self.sections)

    def metal(self, owner: str, kind: str = "hot") -> Metal:
        return next(m for m in self.metals if (m.owner, m.kind) == (owner, kind))

    def loads(self) -> dict[str, tuple[Metal, Metal, str]]:
        """By load: the metal of its hot, that of its way back, its box."""
        return {
            load: (metal, self.backs[load], box)
            for metal in self.metals
            if metal.kind == "hot"
            for box, load in metal.leads
        }

    def joints_at(self, place: str) -> list[list[str]]:
        """Every connector there; what lands on one terminal is one joint."""
        joints: list[list[str]] = []
        terminals: dict[str, list[str]] = {}
        for metal in self.metals:
            joint = metal.joint_at(place)
            if len(joint) < 2:
                continue
            if metal.start and metal.start[0] == place and metal.start[1] in terminals:
                terminals[metal.start[1]].extend(joint[1:])
                continue
            if metal.start and metal.start[0] == place:
                terminals[metal.start[1]] = joint
            joints.append(joint)
        return joints


def to_text(sections: dict[str, Any]) -> str:
    """The job file, one entry on a line."""
    return "\n".join(_lines(sections)) + "\n"


def _lines(sections: dict[str, Any]) -> Iterable[str]:
    for section, body in sections.items():
        if section in ("job", "record") or not isinstance(body, dict):
            yield f"{section}: {json.dumps(body)}"
            continue
        if body:
            yield f"{section}:"
        for name, entry in body.items():
            yield f"  {name}: {json.dumps(entry)}"
