"""Volts while holding lie between plain arithmetic and the vector sum; milliamperes add up."""

from __future__ import annotations

import cmath

import pytest

from cardgen.electrics.alternating import voltages
from cardgen.examine import examine_text
from tests.jobs import edit, sample

LONG_RUN = """
job: {code: DEMO-1, site: Demo Court, revision: 1, date: 2026-03-14}
record: {address: https://jobs.example.com, key: 7Q2F9KX4M3T8}
coils: {usual: {supply: 24 V AC, resistance: 30 ohm, inrush: 0.36 A, holding: 0.23 A}}
controllers: {A: {place: shed, supply: 24 V AC, stations: 4, coil: usual, common: K white}}
cables: {K: {gauge: 18 AWG, colors: [white, red, blue], run: [A, 850 ft, VB-1]}}
boxes: {VB-1: {}}
stations: {A1: {area: lawn, box: VB-1, hot: K red}}
"""


def test_a_long_run_reads_more_than_arithmetic_says() -> None:
    """850 ft of 18/18 with 30 ohm and 0.23 A: 21.5 V by arithmetic, 23.2 V on the meter.

    Common practice, no source, for the two figures; worked out by hand below from
    Z = 24 / 0.23 = 104.3 ohm, X = 99.9 ohm, wire 10.85 ohm: |30 + 10.85 + j99.9| = 107.9 ohm.
    """
    facts = examine_text(LONG_RUN).facts
    assert facts
    running = facts.running["A1"]
    assert round(running.low["A1"], 1) == 21.5
    assert round(running.high["A1"], 1) == 23.2
    assert running.milliamperes == pytest.approx(230)


def test_a_pure_resistance_gives_both_figures_alike() -> None:
    """With X = 0 the two sums are the same only at the current that then flows."""
    found = voltages([("s", "a", 10 + 0j), ("a", "0", 30 + 0j)], {"s": 24 + 0j, "0": 0j})
    assert found["a"] == pytest.approx(18)


def test_a_divider_of_complex_impedances() -> None:
    z = cmath.rect(104.3, 1.28)
    found = voltages([("s", "a", 5 + 0j), ("a", "b", z), ("b", "0", 5 + 0j)], {"s": 24, "0": 0})
    assert abs(found["a"] - found["b"]) == pytest.approx(24 * abs(z) / abs(10 + z))


def test_a_master_valve_adds_its_current_on_the_shared_common() -> None:
    """The common of 400 ft carries the master valve's 0.23 A as far as its own box at 50 ft."""
    text = LONG_RUN.replace("850 ft, VB-1", "50 ft, VB-0, 350 ft, VB-1").replace(
        "boxes: {VB-1: {}}",
        "boxes: {VB-1: {}, VB-0: {}}\n"
        "master valves: {MV: {controllers: A, box: VB-0, hot: K blue}}",
    )
    facts = examine_text(text).facts
    assert facts
    running = facts.running["A1"]
    per_foot = 6.385 / 1000  # 18 AWG at 20 C, 20 C wire table
    drop = 0.23 * 800 * per_foot + 0.23 * 50 * per_foot
    assert running.low["A1"] == pytest.approx(24 - drop, abs=0.002)
    assert running.milliamperes == pytest.approx(460)
    assert running.high["A1"] > running.low["A1"]


RING = """
job: {code: DEMO-1, site: Demo Court, revision: 1, date: 2026-03-14}
record: {address: https://jobs.example.com, key: 7Q2F9KX4M3T8}
coils: {usual: {supply: 24 V AC, resistance: 30 ohm, inrush: 0.36 A, holding: 0.23 A}}
controllers:
  A: {place: shed, supply: 24 V AC, stations: 4, coil: usual, common: [K1 white, K2 pink]}
cables:
  K1: {gauge: 18 AWG, colors: [white, red, blue], run: [A, 400 ft, VB-1, 400 ft, VB-2]}
  K2: {gauge: 18 AWG, colors: [pink, gray], run: [A, 800 ft, VB-2]}
boxes: {VB-1: {}, VB-2: {}}
stations: {A1: {area: lawn, box: VB-1, hot: K1 red}}
joints: {VB-2: [[K1 white, K2 pink]]}
"""


def test_a_ring_carries_the_current_both_ways() -> None:
    """By hand: 400 ft of hot; 400 ft of common beside 1,200 ft of it, which is 300 ft."""
    facts = examine_text(RING).facts
    assert facts and facts.circuits["A1"].ring
    wire = 6.385 / 1000 * (400 + 300)  # 18 AWG at 20 C, 20 C wire table
    impedance = complex(30, ((24 / 0.23) ** 2 - 30**2) ** 0.5)
    running = facts.running["A1"]
    assert running.low["A1"] < 24 - 0.23 * wire  # as if one way had to carry all of it
    assert running.high["A1"] == pytest.approx(
        24 * abs(impedance) / abs(impedance + wire), abs=0.002
    )


def test_a_normally_open_master_valve_is_not_on_while_a_station_runs() -> None:
    facts = examine_text(sample("heron")).facts
    assert facts
    assert facts.running["A1"].milliamperes == pytest.approx(230 + 350)  # with the pump relay


@pytest.mark.parametrize("valve", ["P1", "D1"])
def test_nothing_is_told_of_latching_coils_and_decoders(valve: str) -> None:
    facts = examine_text(sample("sandpiper" if valve == "P1" else "heron")).facts
    assert facts and valve not in facts.running


def test_a_coil_whose_ohms_and_amperes_cannot_belong_together_has_no_figure() -> None:
    text = edit(LONG_RUN, "resistance: 30 ohm", "resistance: 300 ohm")
    facts = examine_text(text).facts
    assert facts and not facts.running


def test_a_station_whose_hot_is_not_known_takes_no_volts_from_another() -> None:
    """Nor does a master valve that has its circuit; only one without leaves them unknown."""
    text = LONG_RUN.replace("hot: K red}}", "hot: K red}, A2: {area: b, box: VB-1, hot: %s}}")
    alone, beside = (examine_text(text % hot).facts for hot in ("not known", "K blue"))
    assert alone and beside
    assert alone.running["A1"] == beside.running["A1"]
    text = LONG_RUN + "master valves: {MV: {controllers: A, box: VB-1, hot: not known}}\n"
    unclear = examine_text(text).facts
    assert unclear and "A1" not in unclear.running
