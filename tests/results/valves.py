"""Valves with what a job expects of them: coils of 30 ohms on 18 AWG, in a row of four boxes."""

from __future__ import annotations

import uuid
from dataclasses import replace
from itertools import count, pairwise

from cardgen.asbuilt import Band, BuiltValve, ConductorMark
from cardgen.asbuilt.model.built_valves import BuiltStep, Elsewhere
from cardgen.results import Kind, Measured
from tests.outside.tables import number

# ohm per 1000 ft, 18 AWG at 20 C, there and back; from the wire table (tests/outside).
_18 = {"awg": "18", "construction": "solid", "quantity": "resistance", "unit": "ohm/kft"}
LOOP_18 = 2 * number("awg_resistance", "value", **_18, basis="wire table")
COMMON = ConductorMark(cable="K1", word="white", code="WH", base="white")
FEET = {"B1": 200, "B2": 350, "B3": 600, "B4": 900}


_VALVE = BuiltValve(
    id="A1",
    station="A1",
    kind="valve",
    area="front lawn",
    box="B1",
    controller="A",
    terminal="1",
    isolators=(),
    hot=None,
    hot_at_controller=None,
    back=COMMON,
    own_return=False,
    ohms=None,
    coil=None,
    volts=(20.5, 23.1),
    milliamperes=230,
    beside=(),
    others=(),
    latching=False,
    normally_open=False,
    polarity=(),
    decoder=None,
    device="",
    notes=(),
    hot_way=(),
    back_way=(),
    ring=False,
)


def valve(feet: float, *, name: str = "A1", ohms: float = 30.0, coils: int = 1) -> BuiltValve:
    """So many coils of that resistance, all at one distance by 18 AWG."""
    loop = LOOP_18 * feet / 1000 + ohms / coils
    return replace(
        _VALVE,
        id=name,
        station=name,
        ohms=around(loop, ohms / coils),
        coil=around(ohms, ohms),
        others=(Elsewhere(id="another", box="B1"),) * (coils - 1),
    )


def around(expected: float, coil: float) -> Band:
    spread = 0.15 * coil + 1  # as the readings are printed
    return Band(expected=expected, low=expected - spread, high=expected + spread)


def row_of_boxes() -> dict[str, BuiltValve]:
    """Stations 1 to 8, two in each box, one common from box to box."""
    found = {}
    for index in range(8):
        box = f"B{index // 2 + 1}"
        places = ["A", *list(FEET)[: index // 2 + 1]]
        way = tuple(step(*pair) for pair in pairwise(places))
        name = str(index + 1)
        found[name] = replace(valve(FEET[box], name=name), box=box, back_way=way)
    return found


def step(start: str, end: str) -> BuiltStep:
    return BuiltStep(conductor=COMMON, contact="", start=start, end=end, length="")


_numbers = count(1)


def read(
    value: float, kind: Kind = Kind.CONTROLLER, valve: str = "A1", when: str = "2026-04-30"
) -> Measured:
    return Measured(
        id=str(uuid.UUID(int=next(_numbers))),
        when=when,
        record_key="7Q2F9KX4M3T8",
        box="B1",
        valve=valve,
        kind=kind,
        value=value,
    )
