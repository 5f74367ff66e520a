"""Ohms from what a station carries under load, against arithmetic by hand."""

from __future__ import annotations

import math

import pytest

from cardgen.diagnosis import FaultKind, diagnose
from cardgen.diagnosis.loaded import loop_ohms, supply_volts
from cardgen.results import Kind
from tests.diagnosis.ground import common_end, hot_end
from tests.diagnosis.metal import Element
from tests.diagnosis.running import HERTZ, running
from tests.diagnosis.small_yard import TREE, as_built_of, measured, walk
from tests.diagnosis.trade_yard import trade_yard

# Coil: 24 V / 0.23 A = 104.3 ohm of impedance, 30 of resistance, so 99.9 of reactance.
SOUND = 34.5


def ohms(
    kind: Kind, value: float, read: float | None = None, text: str = TREE
) -> tuple[float, float] | None:
    asbuilt = as_built_of(text)
    assert asbuilt.network is not None
    valve = asbuilt.valve["A4"]
    coil = next(coil for coil in asbuilt.network.coils if coil.valve == "A4")
    return loop_ohms(measured("A4", kind, value), valve, coil, SOUND, read)


def test_half_the_volts_are_some_hundred_and_fifty_ohms_more() -> None:
    """24 V, and 12 under load: |Z| = 208.7 ohm, so 183.2 of resistance, 149 more than sound."""
    found = ohms(Kind.VOLTS, 12.0)
    assert found is not None
    assert found[0] == pytest.approx(math.sqrt(208.7**2 - 99.9**2), abs=0.5)
    assert found[0] - SOUND == pytest.approx(149, abs=1)


def test_the_current_of_a_sound_loop_is_its_ohms_within_the_supply() -> None:
    """|34.5 + j 99.9| = 105.7 ohm: 227 mA; at a supply 5 % low 216 mA."""
    for kind in (Kind.MILLIAMPERES, Kind.HOT_MILLIAMPERES):
        sound, low = ohms(kind, 227.0), ohms(kind, 216.0)
        assert sound is not None and low is not None
        assert sound[0] == pytest.approx(SOUND, abs=1)
        assert abs(low[0] - SOUND) < low[1]


def test_volts_at_the_terminals_make_it_exact() -> None:
    """21.6 V at the terminals: 204 mA are sound there, and at 24 V some 28 ohm too many."""
    rough = ohms(Kind.HOT_MILLIAMPERES, 204.0)
    exact = ohms(Kind.HOT_MILLIAMPERES, 204.0, 21.6)
    assert rough is not None and exact is not None
    assert exact[0] == pytest.approx(SOUND, abs=2)
    assert rough[0] == pytest.approx(62, abs=1)
    # One standard deviation: 2 % of 105.9^2 / 34.5; 10 % / root 3 of 117.6^2 / 62.
    assert exact[1] == pytest.approx(6.4, abs=0.1)
    assert rough[1] == pytest.approx(12.9, abs=0.1)


def test_twice_the_current_is_half_the_ohms() -> None:
    found = ohms(Kind.MILLIAMPERES, 454.0)
    assert found is not None
    assert found[0] == pytest.approx(SOUND / 2, abs=1)


@pytest.mark.parametrize("kind", [Kind.VOLTS, Kind.MILLIAMPERES])
def test_nothing_flows_is_ol(kind: Kind) -> None:
    assert ohms(kind, 0.0) == (math.inf, 1.0)


def test_what_is_no_value_under_load_is_none() -> None:
    assert ohms(Kind.CONTROLLER, 34.5) is None


def test_the_tolerance_of_the_supply_is_that_of_the_job() -> None:
    """Of 5 % one standard deviation is 2.9 %: at 216 mA |Z| = 111 ohm and R = 48.5, 7.3 ohm.

    12,346 * 0.0289 / 48.5 = 7.35; twice that at 10 %, which is also assumed where nothing is said.
    """
    narrow = TREE.replace("    stations: 8\n", "    supply tolerance: +/-5 %\n    stations: 8\n")
    said, assumed = (
        ohms(Kind.HOT_MILLIAMPERES, 216.0, text=narrow),
        ohms(Kind.HOT_MILLIAMPERES, 216.0),
    )
    assert said is not None and assumed is not None
    assert said[1] == pytest.approx(7.35, abs=0.1)
    assert assumed[1] == pytest.approx(2 * said[1], rel=0.01)


def test_twenty_four_volts_off_and_twelve_on_is_a_bad_joint() -> None:
    """The volts with nothing on are those of the supply; 149 ohm more, as above."""
    off = measured("A4", Kind.OPEN_VOLTS, 24.0)
    on = measured("A4", Kind.VOLTS, 12.0)
    found = diagnose(as_built_of(), [*walk({4: 183.0}), off, on])
    (suspect,) = found.suspects
    assert suspect.faults[0].kind is FaultKind.RESISTIVE
    assert suspect.faults[0].ohms == pytest.approx(149, abs=3)
    # Without the ohms of the walk the volts alone say the same, and place it no better.
    alone = diagnose(as_built_of(), [off, on])
    assert FaultKind.RESISTIVE in {s.faults[0].kind for s in alone.suspects}
    assert not alone.is_healthy


def test_the_volts_read_that_day_count_for_the_whole_walk() -> None:
    """At the terminals in one row of it, or at the valve with nothing on; few are none at all."""
    walked = [
        measured("A1", Kind.VOLTS, 20.9, conditions="terminals 21.6 V"),
        measured("A2", Kind.OPEN_VOLTS, 23.0),
        measured("A3", Kind.OPEN_VOLTS, 8.0),
    ]
    day = "2026-11-01"
    assert supply_volts(walked, as_built_of()) == {(day, "A"): 21.6, (day, "A2"): 23.0}


def test_the_mains_are_those_of_the_holding_current() -> None:
    """A coil of 99.9 ohm of reactance at 60 Hz has 83.3 at 50: |34.5 + j 83.3| = 90.1, 266 mA.

    By ngspice a coil of that inductance carries at 60 Hz what the job file says it holds with.
    """
    plan = trade_yard()
    valve = plan.valves["A1"]
    bare = {
        ("coil", "A1"): Element(hot_end(valve), common_end("A"), 30.0),
        ("lead", "A1", "hot"): Element(hot_end(valve), "A1 lead 1", 0.0),
        ("lead", "A1", "back"): Element(common_end("A"), "A1 lead 2", 0.0),
    }
    assert HERTZ == 60
    assert running(bare, [valve], holding=0.23).milliamperes["A1"] == pytest.approx(230, abs=0.5)
    sixty, fifty = ohms(Kind.HOT_MILLIAMPERES, 227.0), ohms(Kind.HOT_MILLIAMPERES, 266.0)
    assert sixty is not None and fifty is not None
    assert sixty[0] == pytest.approx(SOUND, abs=1)
    assert fifty[0] < SOUND - 4  # so a data sheet for 50 Hz would look like a fault here
