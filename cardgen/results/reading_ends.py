"""Know between what and what a reading is, by its kind: what has to be named, and what can be."""

from __future__ import annotations

from collections.abc import Collection, Iterator

from cardgen.results.conditions import ALL
from cardgen.results.known_names import KnownNames
from cardgen.results.measured import AT_A_BOX, BETWEEN, NONE_RAN, OF_A_CONDUCTOR, Kind, Measured

# What no valve has a part in.
OF_NO_VALVE = (Kind.COMMON_TO_COMMON, Kind.SPARE_LOOP)


def columns_of(kind: Kind) -> tuple[str, ...]:
    """Of `from`, `to` and `box` those that such a reading may name."""
    used = {
        "from": kind in OF_A_CONDUCTOR,
        "to": kind in BETWEEN or kind is Kind.WALK_TEST,
        "box": kind in AT_A_BOX,
    }
    return tuple(column for column, is_used in used.items() if is_used)


def needed_columns(kind: Kind) -> tuple[str, ...]:
    """Those without which it says nothing."""
    needed = {"from": kind in OF_NO_VALVE, "to": kind in BETWEEN, "box": kind in AT_A_BOX}
    return tuple(column for column, is_needed in needed.items() if is_needed)


def needs_valve(kind: Kind, start: str) -> bool:
    return not (kind in OF_A_CONDUCTOR and start)


def which_ran(to: str, valve: str, value: float) -> str:
    """Of a walk test: what it names, else the valve that was on, or none."""
    return to or (valve if value else NONE_RAN)


def unknown_names(said: Measured, names: KnownNames) -> Iterator[tuple[str, str]]:
    """Each name that the job does not have, with its column."""
    for column, text, known in (
        ("from", said.start, _starts(said.kind, names)),
        ("to", said.to, _ends(said.kind, names)),
        ("box", said.box, names.places),
    ):
        if text and known and text not in known:
            yield column, text
    for sensor in said.under.bypassed:
        if sensor != ALL and sensor not in names.sensors:
            yield "conditions", sensor


def _starts(kind: Kind, names: KnownNames) -> Collection[str]:
    if kind is Kind.COMMON_TO_COMMON:
        return names.controllers
    return {*names.conductors, *names.controllers, *names.valves}


def _ends(kind: Kind, names: KnownNames) -> Collection[str]:
    if kind in (Kind.COMMON_TO_COMMON, Kind.OTHER_COMMON):
        return names.controllers
    if kind in (Kind.HOT_TO_HOT, Kind.WALK_TEST):
        return {*names.valves, *names.stations, NONE_RAN}
    return names.conductors if kind in BETWEEN else ()
