"""What a meter will read: ohms with their band, volts with the currents that run together."""

from __future__ import annotations

import pytest

from cardgen.electrics import ExpectedReading
from tests.jobs import examined

# 100 ft of 18 AWG there and back: 12.77 ohm per 1000 ft of loop.
LOOP = 1.277
JOB = """\
job: {code: READ-1, site: Readings, revision: 1, date: 2026-03-14}
record: {address: https://jobs.example.com, key: 7Q2F9KX4M3T8}
coils:
  usual: {supply: 24 V AC, resistance: 30 ohm, inrush: 0.40 A, holding: 0.20 A}
  bare: {supply: 24 V AC, resistance: 40 ohm}
controllers:
  A: {place: wall, supply: 24 V AC, stations: 8, coil: usual, common: K1 white}
cables:
  K1:
    gauge: 18 AWG
    colors: [white, red, blue, green, yellow, orange, brown]
    run: [A, 100 ft, VB-1, 100 ft, VB-2]
boxes: {VB-1: {}, VB-2: {}}
stations:
"""


def readings(stations: str, text: str = JOB) -> dict[str, ExpectedReading]:
    return dict(examined(text + stations).readings)


def volts(reading: ExpectedReading) -> list[float]:
    return [round(v, 3) for v in reading.volts.values()]


def test_ohms_are_hot_and_coil_and_common() -> None:
    found = readings("  A1: {area: a, box: VB-1, hot: K1 red}")["A1"]
    assert found.ohms == pytest.approx(30 + LOOP, abs=1e-3)


def test_the_band_is_of_the_coil_and_of_the_meter() -> None:
    # 15 % of 30 ohm, and 1 ohm.
    found = readings("  A1: {area: a, box: VB-1, hot: K1 red}")["A1"]
    assert found.ohms is not None
    assert found.low == pytest.approx(found.ohms - 5.5)
    assert found.high == pytest.approx(found.ohms + 5.5)


@pytest.mark.parametrize(("celsius", "ohms"), [(0, 27.6), (45, 32.9), (60, 34.7)])
def test_a_sound_coil_cold_or_hot_stays_in_the_band(celsius: float, ohms: float) -> None:
    """Copper changes by 0.393 % for each degree (NBS Handbook 100): 5 % would cry wolf."""
    assert round(30 * (1 + 0.00393 * (celsius - 20)), 1) == ohms
    found = readings("  A1: {area: a, box: VB-1, hot: K1 red}")["A1"]
    assert found.low is not None and found.high is not None
    assert found.low < ohms + LOOP < found.high


def test_volts_are_those_of_warm_conductors_and_ohms_those_at_20_degrees() -> None:
    """Copper changes by 0.393 % for each degree (NBS Handbook 100)."""
    warm = JOB.replace("date: 2026-03-14}", "date: 2026-03-14, warm: 50 C}")
    found = readings("  A1: {area: a, box: VB-1, hot: K1 red}", warm)["A1"]
    assert found.ohms == pytest.approx(30 + LOOP, abs=1e-3)
    (at_coil,) = found.volts.values()
    assert at_coil == pytest.approx(24 - 0.40 * LOOP * (1 + 0.00393 * 30), abs=1e-3)


def test_a_twin_reads_half_a_coil_and_takes_both_currents() -> None:
    found = readings("  A1: {area: a, hot: K1 red, valves: {A1a: {box: VB-1}, A1b: {box: VB-1}}}")[
        "A1"
    ]
    assert found.ohms == pytest.approx(15 + LOOP, abs=1e-3)
    assert found.high == pytest.approx((found.ohms or 0) + 3.25)  # 15 % of 15 ohm, and 1 ohm
    assert volts(found) == [pytest.approx(24 - 0.8 * LOOP, abs=1e-3)] * 2


def test_a_twin_in_two_boxes_is_a_network() -> None:
    found = readings("  A1: {area: a, hot: K1 red, valves: {A1a: {box: VB-1}, A1b: {box: VB-2}}}")[
        "A1"
    ]
    # The first loop, then a coil beside a loop and a coil.
    far = 30 + LOOP
    assert found.ohms == pytest.approx(LOOP + 30 * far / (30 + far), abs=2e-3)
    # 0.8 A in the first leg, 0.4 A in the second.
    near, farther = volts(found)
    assert near == pytest.approx(24 - 0.8 * LOOP, abs=1e-3)
    assert farther == pytest.approx(24 - 1.2 * LOOP, abs=1e-3)


def test_a_twin_of_which_one_valve_hangs_in_the_air_has_no_reading() -> None:
    text = "  A1: {area: a, hot: K1 red, valves: {A1a: {box: VB-1}, A1b: {box: VB-2}}}\n"
    assert readings(text + "joints: {VB-2: [[K1 white, A1b]]}") == {}


def test_a_device_in_the_circuit_leaves_no_ohms() -> None:
    found = readings("  A1: {area: a, box: VB-1, hot: K1 red, device: doubling device}")["A1"]
    assert (found.ohms, found.low, found.high) == (None, None, None)


def test_a_coil_without_currents_leaves_no_volts() -> None:
    found = readings("  A1: {area: a, box: VB-1, hot: K1 red, coil: bare}")["A1"]
    assert found.ohms == pytest.approx(40 + LOOP, abs=1e-3)
    assert dict(found.volts) == {}
    assert found.costliest is None


def test_a_controller_without_a_coil_leaves_neither() -> None:
    text = JOB.replace(", coil: usual", "")
    found = readings("  A1: {area: a, box: VB-1, hot: K1 red}", text)["A1"]
    assert (found.ohms, dict(found.volts)) == (None, {})


MASTER_VALVE = """\
  A1: {area: a, box: VB-2, hot: K1 red}
master valves:
  MV-A: {controllers: A, box: VB-1, hot: K1 blue%s}
"""


def test_a_master_valve_adds_its_holding_current_where_it_shares_the_common() -> None:
    found = readings(MASTER_VALVE % "")
    # 0.40 A both ways over 200 ft, and 0.20 A over the first 100 ft of the common.
    assert volts(found["A1"]) == [pytest.approx(24 - 0.8 * LOOP - 0.1 * LOOP, abs=1e-3)]
    assert volts(found["MV-A"]) == [pytest.approx(24 - 0.4 * LOOP, abs=1e-3)]
    assert found["A1"].ohms == pytest.approx(30 + 2 * LOOP, abs=2e-3)  # its wires are off


def test_a_master_valve_on_its_own_pair_adds_nothing() -> None:
    found = readings(MASTER_VALVE % ", return: K1 green")
    assert volts(found["A1"]) == [pytest.approx(24 - 0.8 * LOOP, abs=1e-3)]


def test_what_runs_beside_but_has_no_current_leaves_no_volts() -> None:
    found = readings(MASTER_VALVE % ", coil: bare")
    assert dict(found["A1"].volts) == {}
    assert found["A1"].ohms is not None


def test_the_costliest_leg_is_the_one_that_loses_most() -> None:
    text = JOB.replace("100 ft, VB-2", "300 ft, VB-2")
    leg = readings("  A1: {area: a, box: VB-2, hot: K1 red}", text)["A1"].costliest
    assert leg is not None
    assert (leg.start, leg.end, str(leg.length)) == ("VB-1", "VB-2", "300 ft")


RING = """\
cables:
  K1: {gauge: 18 AWG, colors: [white, red, blue], run: [A, 100 ft, VB-1, 100 ft, VB-2]}
  K2: {gauge: 18 AWG, colors: [pink, gray], run: [A, 200 ft, VB-2]}
boxes: {VB-1: {}, VB-2: {}}
stations:
  A1: {area: a, box: VB-1, hot: K1 red}
joints:
  VB-2: [[K1 white, K2 pink]]
"""


def test_a_common_fed_from_both_ends_is_solved_as_a_ring() -> None:
    text = JOB[: JOB.index("cables:")].replace("common: K1 white", "common: [K1 white, K2 pink]")
    found = examined(text + RING)
    assert found.circuits["A1"].ring
    # Common: 100 ft one way, beside 300 ft the other; hot 100 ft.
    leg = LOOP / 2
    expected = 30 + leg + 1 / (1 / leg + 1 / (3 * leg))
    assert found.readings["A1"].ohms == pytest.approx(expected, abs=1e-3)


def test_a_contact_in_the_common_has_no_ohms() -> None:
    sensor = """\
  A1: {area: a, box: VB-1, hot: K1 red}
sensors:
  RAIN: {kind: rain, controllers: A, contact: normally closed, in common: K1 white}
"""
    assert readings(sensor)["A1"].ohms == pytest.approx(30 + LOOP, abs=1e-3)


def test_volts_are_for_alternating_current_only() -> None:
    text = JOB.replace("24 V AC", "9 V DC latching")
    found = readings("  A1: {area: a, box: VB-1, hot: K1 red}", text)["A1"]
    assert found.ohms == pytest.approx(30 + LOOP, abs=1e-3)
    assert dict(found.volts) == {}


def test_meters_and_square_millimeters() -> None:
    text = JOB.replace("18 AWG", "1.5 mm2").replace("100 ft", "50 m")
    found = readings("  A1: {area: a, box: VB-1, hot: K1 red}", text)["A1"]
    assert found.ohms == pytest.approx(30 + 2 * 0.050 * 12.1)  # IEC 60228: 12.1 ohm/km


def test_direct_current_ohms_never_give_the_current() -> None:
    """24 V over 30 ohm would be 0.8 A; a coil on alternating current takes what its sheet says."""
    text = JOB.replace("inrush: 0.40 A", "inrush: 0.25 A")
    found = readings("  A1: {area: a, box: VB-1, hot: K1 red}", text)["A1"]
    assert volts(found) == [pytest.approx(24 - 0.25 * LOOP, abs=1e-3)]
