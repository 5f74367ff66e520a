"""Every row of a worked table of ohms: measured by ngspice as the table says, then diagnosed.

The figures were worked out by hand for the tree in `trade_yard.py`: coil and wire in series, 6.385
ohms for each 1,000 ft of 18 AWG (wire table); what each row means is common practice, no source.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from functools import cache

import pytest

from cardgen.diagnosis import Diagnosis, FaultKind, diagnose
from cardgen.results import Kind, Measured
from tests.diagnosis.ground import circuit_of, common_end, hot_end
from tests.diagnosis.metal import Circuit, added, bridged, moved, ohms_of, split
from tests.diagnosis.scoring import kept_places, names, ways_of
from tests.diagnosis.sites import Injected
from tests.diagnosis.trade_yard import COMMON, PLAN, hot
from tests.diagnosis.walks import built_of, reading

OL = math.inf
HALF_A_DIGIT = 0.05 + 1e-6  # the table has one decimal
SOUND = circuit_of(PLAN)
B2_TO_B3 = ("leg", COMMON, "B2", "B3")
AT_430 = (430 - 350) / 250  # feet from the controller, on the leg from 350 to 600


def bad(part: tuple[str, ...], ohms: float) -> Circuit:
    return added(SOUND, part, ohms)


def touch(one: str, two: str) -> Circuit:
    circuit, first = split(SOUND, ("leg", one, "B2", "B3"), AT_430)
    circuit, second = split(circuit, ("leg", two, "B2", "B3"), AT_430)
    return bridged(circuit, first, second, 0.0)


def coil(name: tuple[str, ...], ohms: float) -> Circuit:
    first = SOUND["coil", "A5"]
    return {**SOUND, name: type(first)(first.one, first.two, ohms, copper=True)}


def at_strip(conductor: str, terminal: str) -> Callable[[Circuit], Circuit]:
    return lambda circuit: moved(circuit, ("splice", conductor, "A", "out"), one=f"A:{terminal}")


def exchanged(one: str, to: str, other: str, back: str) -> Circuit:
    return at_strip(other, back)(at_strip(one, to)(SOUND))


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """Attributes:
    walk: ohms of stations 1 to 8 at the controller; between: of hots, by `5-6`.
    kind, start, end, conductors, valves: as `Injected` has them.
    first: the kinds of which the likeliest suspect must be one.
    places: at most so many are kept.
    """

    circuit: Circuit
    walk: str
    between: Mapping[str, float] = field(default_factory=dict)
    kind: str = ""
    start: str = ""
    end: str = ""
    conductors: tuple[str, ...] = ()
    valves: tuple[str, ...] = ()
    first: tuple[FaultKind, ...] = ()
    places: int = 1

    @property
    def values(self) -> dict[str, float]:
        return {f"A{n}": float(v.replace("OL", "inf")) for n, v in enumerate(self.walk.split(), 1)}

    @property
    def injected(self) -> Injected:
        return Injected(
            kind=self.kind,
            circuit=self.circuit,
            start=self.start,
            end=self.end or self.start,
            conductors=self.conductors,
            valves=self.valves,
        )


OPENS = (FaultKind.OPEN, FaultKind.CUT)
ROWS = {
    "healthy": Row(
        circuit=SOUND,
        walk="32.6 32.6 34.5 34.5 37.7 37.7 41.5 41.5",
        between={"5-6": 67.7, "1-5": 67.7},
    ),
    "common open B2 to B3": Row(
        circuit=bad(B2_TO_B3, OL),
        walk="32.6 32.6 34.5 34.5 OL OL OL OL",
        between={"5-6": 67.7, "5-7": 71.5, "1-5": OL},
        kind="common open",
        start="B2",
        end="B3",
        conductors=(COMMON,),
        first=OPENS,
        places=2,  # the common, or the whole cable
    ),
    "common open before B1": Row(
        circuit=bad(("leg", COMMON, "A", "B1"), OL),
        walk="OL OL OL OL OL OL OL OL",
        between={"1-2": 62.6, "1-8": 71.5},
        kind="common open",
        start="A",
        end="B1",
        conductors=(COMMON,),
        first=OPENS,
        places=2,
    ),
    "common splice +60 between B2 and B3": Row(
        circuit=bad(B2_TO_B3, 60),
        walk="32.6 32.6 34.5 34.5 97.7 97.7 101.5 101.5",
        between={"5-6": 67.7},
        kind="common resistive",
        start="B2",
        end="B3",
        conductors=(COMMON,),
        first=(FaultKind.RESISTIVE,),
    ),
    "hot 4 splice +60": Row(
        circuit=bad(("splice", hot(4), "B2", "in"), 60),
        walk="32.6 32.6 34.5 94.5 37.7 37.7 41.5 41.5",
        between={"4-5": 127.7, "3-5": 67.7},
        kind="hot resistive",
        start="B2",
        conductors=(hot(4),),
        valves=("A4",),
        first=(FaultKind.RESISTIVE, FaultKind.WRONG_COIL),
        places=3,  # its hot, whole to its box; its common's lead; its coil
    ),
    "coil 5 open": Row(
        circuit=bad(("coil", "A5"), OL),
        walk="32.6 32.6 34.5 34.5 OL 37.7 41.5 41.5",
        between={"5-6": OL},
        kind="coil open",
        start="B3",
        conductors=(hot(5), COMMON),
        valves=("A5",),
        first=(FaultKind.OPEN, FaultKind.COIL_OPEN),
        places=2,
    ),
    "hot 5 open": Row(
        circuit=bad(("leg", hot(5), "A", "B1"), OL),
        walk="32.6 32.6 34.5 34.5 OL 37.7 41.5 41.5",
        between={"5-6": OL},
        kind="hot open",
        start="A",
        end="B1",
        conductors=(hot(5),),
        valves=("A5",),
        first=(FaultKind.OPEN, FaultKind.COIL_OPEN),
        places=2,
    ),
    "coil 5 shorted to 2 ohms": Row(
        circuit=coil(("coil", "A5"), 2.0),
        walk="32.6 32.6 34.5 34.5 9.7 37.7 41.5 41.5",
        between={"5-6": 39.7},
        kind="coil low",
        start="B3",
        conductors=(hot(5), COMMON),
        valves=("A5",),
        first=(FaultKind.COIL_LOW, FaultKind.HOT_ON_COMMON),
        places=4,  # or a touch with a few ohms, in any of the three legs
    ),
    "hot 6 on common at 430 ft": Row(
        circuit=touch(hot(6), COMMON),
        walk="32.6 32.6 34.5 34.5 37.6 5.5 41.5 41.5",
        kind="hot on common",
        start="B2",
        end="B3",
        conductors=(hot(6), COMMON),
        valves=("A6",),
        first=(FaultKind.HOT_ON_COMMON,),
        places=3,
    ),
    "hots 5 and 7 touch at 430 ft": Row(
        circuit=touch(hot(5), hot(7)),
        walk="32.6 32.6 34.5 34.5 23.0 37.7 23.0 41.4",
        between={"5-7": 5.5},
        kind="hots touch",
        start="B2",
        end="B3",
        conductors=(hot(5), hot(7)),
        valves=("A5", "A7"),
        first=(FaultKind.HOTS_TOUCH,),
        places=3,
    ),
    "second coil on 5": Row(
        circuit=coil(("coil", "A5", "second"), 30.0),
        walk="32.6 32.6 34.5 34.5 22.7 37.7 41.5 41.5",
        between={"5-6": 52.7},
        kind="second coil",
        start="B3",
        conductors=(hot(5), COMMON),
        valves=("A5",),
        first=(FaultKind.SECOND_COIL, FaultKind.COIL_LOW),
        places=4,
    ),
    "common and hot 3 exchanged": Row(
        circuit=exchanged(COMMON, "3", hot(3), "C"),
        walk="64.5 64.5 34.5 64.5 67.7 67.7 71.5 71.5",
        kind="common exchanged",
        start="A",
        valves=("A3",),
        first=(FaultKind.COMMON_EXCHANGED,),
    ),
    "valve 5 between hots 5 and 6": Row(
        circuit=moved(SOUND, ("lead", "A5", "back"), one="joint B3 hot A6"),
        walk="32.6 32.6 34.5 34.5 67.7 37.7 41.5 41.5",
        between={"5-6": 37.7},
        kind="between two hots",
        start="B3",
        valves=("A5", "A6"),
        first=(FaultKind.WRONG_RETURN,),
        places=4,
    ),
    "terminals 1 and 8 exchanged": Row(
        circuit=exchanged(hot(1), "8", hot(8), "1"),
        walk="41.5 32.6 34.5 34.5 37.7 37.7 41.5 32.6",
        kind="exchanged",
        start="A",
        valves=("A1", "A8"),
        first=(FaultKind.EXCHANGED,),
    ),
}
FAULTS = [name for name in ROWS if name != "healthy"]


@pytest.mark.parametrize("name", ROWS)
def test_ngspice_measures_what_the_table_says(name: str) -> None:
    row = ROWS[name]
    ends = {v.id: (hot_end(v), common_end("A")) for v in PLAN.valves.values()}
    pairs = {key: tuple(f"A:{n}" for n in key.split("-")) for key in row.between}
    found = ohms_of(row.circuit, [*ends.values(), *((one, two) for one, two in pairs.values())])
    for valve, value in row.values.items():
        assert found[ends[valve]] == pytest.approx(value, abs=HALF_A_DIGIT), valve
    for key, (one, two) in pairs.items():
        assert found[one, two] == pytest.approx(row.between[key], abs=HALF_A_DIGIT), key


@cache
def said(name: str, between: bool) -> Diagnosis:
    row = ROWS[name]
    readings = [reading(PLAN, valve, value) for valve, value in row.values.items()]
    if between:
        readings += [_between(key, value) for key, value in row.between.items()]
    return diagnose(built_of(PLAN), readings)


def _between(key: str, value: float) -> Measured:
    one, two = (f"A{number}" for number in key.split("-"))
    return Measured(
        id=key,
        when="2026-05-04",
        record_key="7Q2F9KX4M3T8",
        box="A",
        valve=one,
        kind=Kind.HOT_TO_HOT,
        value=value,
        to=two,
    )


@pytest.mark.parametrize("between", [False, True], ids=["walk", "hot to hot"])
def test_sound_values_are_called_healthy(between: bool) -> None:
    assert said("healthy", between).is_healthy
    assert not said("healthy", between).suspects


@pytest.mark.parametrize("between", [False, True], ids=["walk", "hot to hot"])
@pytest.mark.parametrize("name", FAULTS)
def test_the_fault_of_the_row_is_said_with_its_place(name: str, between: bool) -> None:
    row, ways, found = ROWS[name], ways_of(PLAN), said(name, between)
    assert not found.is_healthy and not found.is_several
    assert any(names(ways, suspect, row.injected) for suspect in found.suspects), found.suspects
    likeliest = found.suspects[0]
    assert [fault.kind for fault in likeliest.faults] == [
        kind for kind in row.first if kind is likeliest.faults[0].kind
    ]
    assert kept_places(ways, found) <= row.places


def test_hot_to_hot_tells_a_common_from_a_cut_cable() -> None:
    """Two coils and their wire between the dead: their hots are whole."""
    kinds = {fault.kind for s in said("common open B2 to B3", True).suspects for fault in s.faults}
    assert kinds == {FaultKind.OPEN}
