"""What is looked for and what is found: stations that need a hot, and ways of conductors."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import NamedTuple

from cardgen.job.job_parts import Cable, Station
from cardgen.problems import Problem
from cardgen.units import Gauge
from cardgen.wiring.wiring_parts import Conductor, End, Hop


@dataclass(frozen=True, slots=True, kw_only=True)
class Need:
    """A station without a hot.

    Attributes:
        begin: its terminal.
        valves: by valve, the box it is in.
    """

    station: Station
    begin: End
    valves: Mapping[str, str]

    @property
    def boxes(self) -> tuple[str, ...]:
        return tuple(dict.fromkeys(self.valves.values()))


class Cost(NamedTuple):
    """What a way costs, the gravest first.

    Attributes:
        unclear: boxes in which nothing says to which of several commons the valve belongs.
        inward: stretches that go toward the start of a cable's run, which is written outward.
        foreign: conductors whose flag names something else.
        unflagged: 1 unless one of its conductors is flagged for the station.
        changes: of color.
        splices: joints of two conductors.
    """

    unclear: int
    inward: int
    foreign: int
    unflagged: int
    changes: int
    splices: int


def total(costs: Iterable[Cost]) -> Cost:
    """All of them together."""
    columns = list(zip(*costs, strict=True)) or [()] * len(Cost._fields)
    return Cost(*(sum(column) for column in columns))


@dataclass(frozen=True, slots=True, kw_only=True)
class Way:
    """Conductors from a terminal outward, with the stretch of each that is used."""

    conductors: tuple[Conductor, ...]
    hops: tuple[Hop, ...]
    cost: Cost

    @property
    def names(self) -> frozenset[str]:
        return frozenset(c.name for c in self.conductors)

    @property
    def cables(self) -> tuple[str, ...]:
        return tuple(c.cable.id for c in self.conductors)


Chosen = dict[str, Way]  # by station


def names_of(chosen: Mapping[str, Way]) -> frozenset[str]:
    return frozenset(name for way in chosen.values() for name in way.names)


@dataclass(frozen=True, slots=True, kw_only=True)
class LegNeed:
    """How many conductors one leg of a cable needs, and what it has.

    Attributes:
        others: of master valves, relays, sensors, paths.
        spares: promised on it or asked for by boxes behind it, whichever is more.
        least: the smallest size of the cable that serves every coil behind this leg; None where
            it is not known.
        none_does: no size that is made serves them all.
    """

    cable: Cable
    number: int
    start: str
    end: str
    hots: int
    commons: int
    others: int
    spares: int
    has: int
    least: Gauge | None = None
    none_does: bool = False

    @property
    def needs(self) -> int:
        return self.hots + self.commons + self.others + self.spares


@dataclass(frozen=True, slots=True, kw_only=True)
class Allotment:
    """The outcome.

    Attributes:
        ways: by station, what it is given now.
        legs: what every leg needs, with all of that.
        text: the job with it; None where it cannot be done, and `problems` say why.
    """

    ways: Mapping[str, Way]
    legs: tuple[LegNeed, ...]
    text: str | None
    problems: tuple[Problem, ...]
