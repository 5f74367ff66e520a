"""Check what a terminal, a controller and its transformer give against all that runs at once."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence

from cardgen.checks.jumpers import run_together
from cardgen.checks.terminals import most_valves
from cardgen.english_lists import english_list
from cardgen.facts import Facts
from cardgen.faults.terminal_faults import (
    CONTROLLER_OVERLOADED,
    TERMINAL_OVERLOADED,
    TRANSFORMER_OVERLOADED,
)
from cardgen.job.job_parts import Controller
from cardgen.light_dataclass import dataclass
from cardgen.problems import Problem
from cardgen.units import beside as told_beside
from cardgen.units import plain
from cardgen.wiring.wiring_parts import Load, LoadKind

_SLACK = 1e-9


@dataclass(frozen=True, slots=True)
class _Start:
    """The coils of one terminal when they start, with what holds beside them, in amperes."""

    loads: tuple[Load, ...]
    own: float
    total: float

    @property
    def is_station(self) -> bool:
        return _is_station(self.loads)

    @property
    def names(self) -> tuple[str, ...]:
        return tuple(dict.fromkeys(load.owner.id for load in self.loads))


_Groups = dict[str, list[tuple[Load, ...]]]


def _groups(facts: Facts) -> _Groups:
    """By controller the coils that run together."""
    found: _Groups = defaultdict(list)
    for loads in run_together(facts):
        found[loads[0].controller].append(loads)
    return found


def _starts(facts: Facts, controller: Controller, every: _Groups) -> Iterator[_Start]:
    """Everything that starts: a station while master valve and relay hold, these while stations do.

    With several stations at once the others hold already, those that take most.
    """
    groups = every[controller.id]
    most = sorted(((_held(g), g) for g in groups if _is_station(g)), key=lambda pair: -pair[0])
    most = most[: controller.stations_at_once + 1]  # one of them may be the one that starts
    always = [load for loads in groups for load in loads if load.runs_beside_stations]
    for loads in groups:
        own = _starting(facts, loads)
        if own is None:
            continue
        station = _is_station(loads)
        runs = station or any(load.runs_beside_stations for load in loads)
        held = [amperes for amperes, g in most if g is not loads]
        count = controller.stations_at_once - station if runs else 0
        beside = [load for load in always if runs and load not in loads]
        yield _Start(loads, own, own + _held(beside) + sum(held[:count]))


def _is_station(loads: Iterable[Load]) -> bool:
    return any(load.kind is LoadKind.VALVE for load in loads)


def _held(loads: Iterable[Load]) -> float:
    return sum(load.coil.holding or 0.0 for load in loads if load.coil)


def _starting(facts: Facts, loads: Sequence[Load]) -> float | None:
    """None where it is unknown, not the controller's, or not what runs at once."""
    starting = [load.coil.inrush for load in loads if load.coil and load.coil.inrush]
    first = loads[0]
    if len(starting) < len(loads) or first.hot_end.of != first.controller:
        return None
    if len(loads) > most_valves(facts, loads):
        return None  # that there are too many valves is told by itself
    if getattr(first.owner, "device", None) is not None:
        return max(starting)
    return sum(starting)


def overloads(facts: Facts) -> Iterator[Problem]:
    """The coils on a terminal, or all that runs together, take more than the controller gives."""
    groups = _groups(facts)
    for controller in facts.job.controllers.values():
        on_one: dict[float, list[_Start]] = defaultdict(list)
        in_all: dict[float, list[_Start]] = defaultdict(list)
        pulled: list[_Start] = []
        one, every = controller.station_limit, controller.total_limit
        for start in _starts(facts, controller, groups):
            if start.is_station and one and start.own > one + _SLACK:
                on_one[round(start.own, 6)].append(start)
            elif every and start.total > every + _SLACK:
                if start.is_station:
                    in_all[round(start.total, 6)].append(start)
                else:
                    pulled.append(start)
        for amperes, found in on_one.items():
            assert one is not None
            yield _on_one(controller, one, amperes, found)
        for amperes, found in in_all.items():
            assert every is not None
            yield _in_all(controller, every, amperes, found)
        for start in pulled if not in_all else ():  # one limit is told once
            assert every is not None
            yield _pulled(controller, every, start)


def _on_one(controller: Controller, limit: float, amperes: float, found: list[_Start]) -> Problem:
    takes, they = _each_of(found)
    return TERMINAL_OVERLOADED.at(
        found[0].loads[0].span,
        variant="linked" if any(len(s.names) > 1 for s in found) else "",
        who=takes,
        amperes=plain(amperes),
        they=they,
        controller=controller.id,
        limit=plain(limit),
    )


def _in_all(controller: Controller, limit: float, amperes: float, found: list[_Start]) -> Problem:
    names = english_list(name for start in found for name in start.names)
    one = len(found) == 1 and len(found[0].names) == 1
    who = names if one else f"each of {names}" if _apart(found) else f"{names} together"
    return CONTROLLER_OVERLOADED.at(
        found[0].loads[0].span,
        who=who,
        amperes=plain(amperes),
        controller=controller.id,
        limit=plain(limit),
    )


def _pulled(controller: Controller, limit: float, start: _Start) -> Problem:
    """A relay or a master valve pulls in at the same moment as a station."""
    return CONTROLLER_OVERLOADED.at(
        start.loads[0].span,
        variant="pulling in",
        who=english_list(start.names),
        own=plain(round(start.own, 6)),
        amperes=plain(round(start.total, 6)),
        controller=controller.id,
        limit=plain(limit),
    )


def _each_of(found: list[_Start]) -> tuple[str, str]:
    """`A1 takes ... it starts`, `each of A1 and A2 takes`, `A1 and A2 together take`."""
    names = english_list(name for start in found for name in start.names)
    if len(found) == 1 and len(found[0].names) == 1:
        return f"{names} takes", "it starts"
    if _apart(found):
        return f"each of {names} takes", "it starts"
    return f"{names} together take", "they start"


def _apart(found: list[_Start]) -> bool:
    return all(len(start.names) == 1 for start in found)


def transformers(facts: Facts) -> Iterator[Problem]:
    """All that may run together takes more than the transformer gives, the last one starting."""
    groups = _groups(facts)
    for controller in facts.job.controllers.values():
        volts, limit = controller.supply.value.volts, controller.transformer
        starts = list(_starts(facts, controller, groups))
        if volts is None or limit is None or not starts:
            continue
        worst = max(starts, key=lambda start: start.total)
        if volts * worst.total > limit + _SLACK:
            when = "its last valve starts"
            if not worst.is_station:
                when = f"{english_list(worst.names)} pulls in"
            yield TRANSFORMER_OVERLOADED.at(
                controller.span,
                controller=controller.id,
                load=told_beside(volts * worst.total, limit),
                when=when,
                limit=plain(limit),
            )
