"""Stations that a program runs together: the volts are those with the worst of the others.

By hand: 100 ft of one conductor of 18 AWG has 0.6385 ohm at 20 C (NBS Handbook 100).
"""

from __future__ import annotations

import pytest

from tests.electrics.test_readings import JOB, readings

LEG = 0.6385  # ohm
FAR = 24 - 0.4 * 6 * LEG  # volts at VB-3 alone: three legs there, three back
FOUR = (
    JOB.replace("VB-2]", "VB-2, 100 ft, VB-3]")
    .replace("boxes: {VB-1: {}, VB-2: {}}", "boxes: {VB-1: {}, VB-2: {}, VB-3: {}}")
    .replace(
        "  bare:",
        "  strong: {supply: 24 V AC, resistance: 12 ohm, inrush: 1.0 A, holding: %s A}\n  bare:",
    )
)


def at_once(many: int, holding: float = 0.5) -> str:
    return (FOUR % holding).replace("stations: 8,", f"stations: 8, stations at once: {many},")


def station(number: int, box: int, color: str, coil: str = "usual") -> str:
    return f"  A{number}: {{area: a, box: VB-{box}, hot: K1 {color}, coil: {coil}}}\n"


NEAR, MIDDLE, LAST = station(1, 1, "red"), station(2, 2, "blue"), station(3, 3, "green")


@pytest.mark.parametrize(
    ("many", "stations", "lost"),
    [
        pytest.param(1, NEAR + MIDDLE + LAST, 0, id="one at a time"),
        pytest.param(2, NEAR + MIDDLE + LAST, 0.2 * 2 * LEG, id="the one that shares more legs"),
        pytest.param(2, MIDDLE + NEAR + LAST, 0.2 * 2 * LEG, id="not the first of the file"),
        pytest.param(
            2, station(1, 1, "red", "strong") + MIDDLE + LAST, 0.5 * LEG, id="or takes more current"
        ),
        pytest.param(3, NEAR + MIDDLE + LAST, 0.2 * 3 * LEG, id="both"),
        pytest.param(
            2, NEAR + station(2, 2, "blue", "bare") + LAST, 0.2 * LEG, id="one that is known"
        ),
    ],
)
def test_the_volts_of_the_last_station(many: int, stations: str, lost: float) -> None:
    (volts,) = readings(stations, at_once(many))["A3"].volts.values()
    assert volts == pytest.approx(FAR - lost, abs=2e-3)


def test_only_the_legs_that_both_use_count() -> None:
    """The far one has the longer way, but beside the first leg of the common it is its own."""
    stations = NEAR + station(2, 2, "blue", "strong") + LAST
    (volts,) = readings(stations, at_once(2, 0.22))["A1"].volts.values()
    assert volts == pytest.approx(24 - 0.4 * 2 * LEG - 0.22 * LEG, abs=1e-3)


def test_a_master_valve_opens_before_the_stations_of_a_program() -> None:
    """Two stations at once, but while it starts none of them holds."""
    master = "master valves: {MV: {controllers: A, box: VB-1, hot: K1 brown}}\n"
    (volts,) = readings(NEAR + LAST + master, at_once(2))["MV"].volts.values()
    assert volts == pytest.approx(24 - 0.4 * 2 * LEG, abs=1e-3)
