"""Hot and common in different cables, told once for all stations of the same cables."""

from __future__ import annotations

from tests.checks.trench import assert_problems


def test_the_stations_of_one_cable_are_told_once() -> None:
    found = assert_problems("""
        cables:
          K1: {gauge: 18 AWG, colors: [white, tan], run: [A, 85 ft, VB-1, 60 ft, VB-2]}
          K2: {gauge: 18 AWG, colors: [red, blue, pink], run: [A, 85 ft, VB-1, 60 ft, VB-2]}
        stations:
          A1: {area: front lawn, box: VB-1, hot: K2 red} # <- note ways-apart @ A1
          A2: {area: side lawn, box: VB-2, hot: K2 blue}
    """)
    assert found[0].sentence == "A1 and A2 have their hots in K2 and return over K1"
    assert found[0].help == "cut K1 and they are dead too: look at both before digging"


def test_cables_that_carry_each_other_on_are_no_other_way() -> None:
    assert_problems("""
        controllers:
          A: {place: hut, supply: 24 V AC, stations: 8, coil: usual, common: [K1 white, K2 white]}
        cables:
          K1: {gauge: 18 AWG, colors: [white, red, blue, tan], run: [A, 85 ft, VB-1]}
          K2: {gauge: 18 AWG, colors: [white, blue, tan], run: [VB-1, 60 ft, VB-2]}
        stations:
          A1: {area: front lawn, box: VB-1, hot: K1 red}
          A2: {area: side lawn, box: VB-2, hot: [K1 blue, K2 blue]}
    """)
