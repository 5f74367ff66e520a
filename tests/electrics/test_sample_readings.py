"""What the sample jobs should read, to the printed digit, worked out apart from the program.

Each was summed by hand from the wire table, 20 C: 18 AWG 6.385, 14 AWG 2.525, 12 AWG 1.588 ohm
per 1000 ft, 30 ohm coils; volts by plain arithmetic at 0.40 A from 24 V.
"""

from __future__ import annotations

import pytest

from tests.jobs import examined, sample

# Stations (from, to) with their ohms and the volts at their coils.
Row = tuple[str, int, int, float, float]

LARKSPUR: tuple[Row, ...] = (
    ("A", 1, 2, 31.1, 23.6),  # 85 ft of 18/18
    ("A", 3, 3, 31.9, 23.3),  # 145 ft
    ("A", 4, 5, 31.8, 23.3),  # 140 ft
    ("A", 6, 6, 31.9, 23.3),
)
QUARRY: tuple[Row, ...] = (
    ("A", 1, 3, 33.2, 22.7),  # 220 ft of 18/18, then 80 ft of 14/14
    ("A", 4, 6, 33.7, 22.5),
    ("A", 7, 8, 34.3, 22.3),
    ("A", 9, 9, 32.3, 23.1),
    ("A", 10, 10, 17.3, 22.2),  # a twin: two coils side by side, and both currents
    ("A", 11, 12, 35.2, 21.9),
    ("A", 13, 14, 37.2, 21.1),
    ("B", 1, 2, 31.8, 23.3),
    ("B", 3, 5, 34.2, 22.3),
    ("B", 6, 8, 36.0, 21.6),
    ("B", 9, 10, 38.8, 20.5),
)
HERON: tuple[Row, ...] = (
    # Home run A-N, hots 14 AWG, common 12 AWG.
    ("A", 1, 3, 30.7, 23.7),
    ("A", 4, 6, 31.6, 23.3),
    ("A", 7, 9, 32.6, 22.9),
    ("A", 10, 12, 33.9, 22.4),
    ("A", 13, 15, 34.7, 22.1),
    ("A", 16, 18, 35.8, 21.7),
    ("A", 19, 21, 37.1, 21.2),
    ("A", 22, 24, 38.3, 20.7),
    # A-S
    ("A", 25, 27, 30.6, 23.8),
    ("A", 28, 30, 31.4, 23.4),
    ("A", 31, 33, 32.5, 23.0),
    ("A", 34, 36, 33.5, 22.6),
    ("A", 37, 39, 34.7, 22.1),
    ("A", 40, 42, 36.2, 21.5),
    ("A", 43, 45, 37.3, 21.1),
    ("A", 46, 48, 38.6, 20.5),
    # B-E, both 14 AWG, behind the contact of the rain sensor
    ("B", 1, 3, 30.5, 23.8),
    ("B", 4, 6, 31.3, 23.5),
    ("B", 7, 9, 32.4, 23.1),
    ("B", 10, 12, 33.7, 22.5),
    ("B", 13, 15, 34.9, 22.0),
    ("B", 16, 18, 36.4, 21.4),
    # B-W
    ("B", 19, 21, 30.6, 23.8),
    ("B", 22, 24, 31.8, 23.3),
    ("B", 25, 27, 32.7, 22.9),
    ("B", 28, 30, 34.3, 22.3),
    ("B", 31, 33, 35.8, 21.7),
    ("B", 34, 36, 37.6, 21.0),
    # C-1, both 18 AWG
    ("C", 1, 3, 30.8, 23.7),
    ("C", 4, 6, 32.2, 23.1),
    ("C", 7, 9, 34.0, 22.4),
    ("C", 10, 12, 35.9, 21.7),
    # C-2, 14 and 12 AWG
    ("C", 13, 15, 31.7, 23.3),
    ("C", 16, 18, 33.3, 22.7),
    ("C", 19, 21, 35.2, 21.9),
    ("C", 22, 24, 37.3, 21.1),
)
SPECIALS = {
    # The master valve on its own pair: 220 ft of 18/18, then 60 ft of 14/14.
    "quarry": {"MV-1": (33.1, 22.8)},
    # 260 ft of 14/14; the relay 25 ft of 12/12 at 0.60 A, 45 ohm.
    "heron": {"MV-A": (31.3, 23.5), "PUMP-A": (45.1, 24.0)},
    "larkspur": {},
}


@pytest.mark.parametrize(
    ("name", "rows"), [("larkspur", LARKSPUR), ("quarry", QUARRY), ("heron", HERON)]
)
def test_each_station_reads_what_the_hand_sum_says(name: str, rows: tuple[Row, ...]) -> None:
    expected = {
        f"{controller}{number}": (ohms, volts)
        for controller, first, last, ohms, volts in rows
        for number in range(first, last + 1)
    }
    found = examined(sample(name)).readings
    measured = {
        owner: (round(r.ohms, 1), round(min(r.volts.values()), 1))
        for owner, r in found.items()
        if r.ohms is not None
    }
    assert measured == expected | SPECIALS[name]


def test_the_latching_job_has_ohms_and_no_volts() -> None:
    # 5 ohm coils; 2, 45 and 60 ft of 14/14.
    expected = {"P1": 5.0, "P2": 5.0, "P3": 5.2, "P4": 5.2, "MV-P": 5.3}
    found = examined(sample("sandpiper")).readings
    assert {owner: round(r.ohms or 0, 1) for owner, r in found.items()} == expected
    assert all(not r.volts for r in found.values())


def test_valves_on_a_two_wire_path_read_nothing_at_the_controller() -> None:
    assert not any(owner.startswith("D") for owner in examined(sample("heron")).readings)


TREE = """\
job: {code: TREE-8, site: Worked tree, revision: 1, date: 2026-03-14}
record: {address: https://jobs.example.com, key: 7Q2F9KX4M3T8}
coils:
  usual: {supply: 24 V AC, resistance: 30 ohm}
controllers:
  A: {place: wall, supply: 24 V AC, stations: 8, coil: usual, common: K1 white}
cables:
  K1:
    gauge: 18 AWG
    colors: [white, red, blue, green, yellow, orange, brown, black, tan, gray]
    run: [A, 200 ft, B1, 150 ft, B2, 250 ft, B3, 300 ft, B4]
boxes: {B1: {}, B2: {}, B3: {}, B4: {}}
stations:
  A1: {area: a, box: B1, hot: K1 red}
  A2: {area: b, box: B1, hot: K1 blue}
  A3: {area: c, box: B2, hot: K1 green}
  A4: {area: d, box: B2, hot: K1 yellow}
  A5: {area: e, box: B3, hot: K1 orange}
  A6: {area: f, box: B3, hot: K1 brown}
  A7: {area: g, box: B4, hot: K1 black}
  A8: {area: h, box: B4, hot: K1 tan}
"""


def test_the_healthy_row_of_the_worked_tree() -> None:
    # 12.77 ohm per 1000 ft of loop: 200 ft 2.55, 350 ft 4.47, 600 ft 7.66, 900 ft 11.49.
    found = [round(r.ohms or 0, 1) for r in examined(TREE).readings.values()]
    assert found == [32.6, 32.6, 34.5, 34.5, 37.7, 37.7, 41.5, 41.5]
