"""Know a terminal that runs several coils: what is read at it is one reading, of all of them."""

from __future__ import annotations

from collections.abc import Mapping

from cardgen.asbuilt import AsBuilt, BuiltValve
from cardgen.results import Kind, Measured

# Read at the terminal; what is read at a coil is of that coil alone.
AT_TERMINAL = (
    Kind.CONTROLLER,
    Kind.MILLIAMPERES,
    Kind.HOT_MILLIAMPERES,
    Kind.HOT_TO_HOT,
    Kind.OTHER_COMMON,
)


def is_shared(valve: BuiltValve) -> bool:
    """Whether its terminal has other coils."""
    return bool(valve.others)


def coils_of(now: AsBuilt, terminal: str) -> tuple[BuiltValve, ...]:
    """The valves of a terminal that runs several; none of any other name."""
    found = now.stations.get(terminal, ())
    return found if len(found) > 1 else ()


def strip_order(now: AsBuilt) -> Mapping[str, int]:
    """By station, as one goes along the strip of each controller from terminal to terminal."""
    strips = (terminal for controller in now.controllers for terminal in controller.terminals)
    owners = dict.fromkeys(owner for terminal in strips for owner in terminal.owners)
    return {owner: number for number, owner in enumerate(owners)}


def with_mates(now: AsBuilt, valve: str) -> tuple[str, ...]:
    """The valve, and those on its terminal."""
    if valve not in now.valve:
        return (valve,)
    return tuple(each.id for each in now.stations[now.valve[valve].station])


def speaks_of(now: AsBuilt, measured: Measured, valve: str) -> bool:
    """Whether a value that was read at one valve is one of another, too."""
    if measured.kind not in AT_TERMINAL:
        return measured.valve == valve
    return measured.valve in with_mates(now, valve)


def subject_of(now: AsBuilt, measured: Measured) -> tuple[str, ...]:
    """What it is a value of, where the coils of one terminal are one thing."""
    _, *further = measured.subject
    return measured_at(now, measured), *further


def measured_at(now: AsBuilt, measured: Measured) -> str:
    """The terminal where that has several coils, else the valve."""
    if measured.kind in AT_TERMINAL and measured.valve in now.valve:
        station = now.valve[measured.valve].station
        if coils_of(now, station):
            return station
    return measured.valve
