"""Ohms from what a station carries under load, against arithmetic by hand."""

from __future__ import annotations

import math

import pytest

from cardgen.diagnosis.loaded import loop_ohms
from cardgen.results import Kind
from tests.diagnosis.small_yard import as_built_of, measured

# Coil: 24 V / 0.23 A = 104.3 ohm of impedance, 30 of resistance, so 99.9 of reactance.
SOUND = 34.5


def ohms(kind: Kind, value: float, conditions: str = "") -> tuple[float, float] | None:
    asbuilt = as_built_of()
    assert asbuilt.network is not None
    valve = asbuilt.valve["A4"]
    coil = next(coil for coil in asbuilt.network.coils if coil.valve == "A4")
    return loop_ohms(measured("A4", kind, value, conditions=conditions), valve, coil, 24.0, SOUND)


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
    exact = ohms(Kind.HOT_MILLIAMPERES, 204.0, "terminals 21.6 V")
    assert rough is not None and exact is not None
    assert exact[0] == pytest.approx(SOUND, abs=2)
    assert rough[0] == pytest.approx(62, abs=1)
    assert exact[1] < rough[1] / 3


def test_twice_the_current_is_half_the_ohms() -> None:
    found = ohms(Kind.MILLIAMPERES, 454.0)
    assert found is not None
    assert found[0] == pytest.approx(SOUND / 2, abs=1)


@pytest.mark.parametrize("kind", [Kind.VOLTS, Kind.MILLIAMPERES])
def test_nothing_flows_is_ol(kind: Kind) -> None:
    assert ohms(kind, 0.0) == (math.inf, 1.0)


def test_what_is_no_value_under_load_is_none() -> None:
    assert ohms(Kind.CONTROLLER, 34.5) is None
