"""What the values of several stations show together: the worked row of four boxes.

Computed from the wire table, common practice: healthy 32.6 34.5 37.7 41.5, two of each.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest

from cardgen.asbuilt import BuiltValve
from cardgen.results import OL, Kind, Measured, compare, oldest_first
from cardgen.words import english
from tests.results.valves import read, row_of_boxes, step, valve

HEALTHY = (32.6, 32.6, 34.5, 34.5, 37.7, 37.7, 41.5, 41.5)


def readings(*values: float) -> list[Measured]:
    return [read(value, valve=str(index)) for index, value in enumerate(values, 1)]


def told(*values: float) -> list[str]:
    found = compare(readings(*values), row_of_boxes())
    return [english()(f"together.{p.name}", **p.values).printed for p in found]


def names(*values: float) -> list[str]:
    return [pattern.name for pattern in compare(readings(*values), row_of_boxes())]


def test_healthy_says_nothing() -> None:
    assert told(*HEALTHY) == []


def test_a_broken_common_is_placed() -> None:
    assert told(*HEALTHY[:4], OL, OL, OL, OL) == [
        (
            "5, 6, 7, 8 read OL together and others do not: their common or their whole cable is "
            "open between B2 and B3."
        )
    ]


def test_all_open() -> None:
    assert told(*(OL,) * 8) == ["Every value of A is OL."]


def test_one_open_is_no_pattern() -> None:
    assert told(*HEALTHY[:4], OL, *HEALTHY[5:]) == []


def test_two_open_that_share_nothing_of_their_own() -> None:
    assert names(OL, *HEALTHY[1:7], OL) == ["common-open-somewhere"]


def test_a_bad_splice_of_the_common_is_placed() -> None:
    assert told(*HEALTHY[:4], 97.7, 97.7, 101.5, 101.5) == [
        (
            "5, 6, 7, 8 read higher by about the same 60 Ω. That fits a bad splice in the common "
            "they share, between B2 and B3."
        )
    ]


def test_a_bad_splice_before_the_last_box_is_placed() -> None:
    assert names(*HEALTHY[:6], 101.5, 101.5) == ["common-high"]


def test_one_that_is_alone_behind_a_splice_is_no_pattern() -> None:
    """8 without 7: it may as well be its own hot."""
    assert compare([*readings(*HEALTHY[:6]), read(101.5, valve="8")], row_of_boxes()) == ()


def test_of_several_that_are_too_high_the_middle_is_told() -> None:
    """By 62, 57, 58 and 60 ohms."""
    (found,) = told(*HEALTHY[:4], 99.7, 94.7, 99.5, 101.5)
    assert found.startswith("5, 6, 7, 8 read higher by about the same 60 Ω.")


def test_a_bad_splice_of_one_hot_is_no_pattern() -> None:
    assert told(*HEALTHY[:3], 94.5, *HEALTHY[4:]) == []


def test_two_hots_that_touch() -> None:
    assert told(*HEALTHY[:4], 23.0, 37.7, 23.0, 41.4) == [
        "5 and 7 read equally low. That fits two hots that touch."
    ]


def test_two_that_are_two_ohms_apart_are_alike() -> None:
    """A meter and its leads differ by as much from day to day (assumed)."""
    found = [told(*HEALTHY[:4], 22.0, 37.7, low, 41.4) for low in (20.0, 20.1, 19.7)]
    touching = "5 and 7 read equally low. That fits two hots that touch."
    assert found == [[touching], [touching], []]


def test_one_low_is_no_touch() -> None:
    assert told(*HEALTHY[:4], 22.7, *HEALTHY[5:]) == []


def test_the_common_exchanged_with_a_hot() -> None:
    assert told(64.5, 64.5, 34.5, 64.5, 67.7, 67.7, 71.5, 71.5) == [
        (
            "1, 2, 4, 5, 6, 7, 8 read about double and 3 does not: 3 and the common look swapped "
            "at the terminals."
        )
    ]


def test_two_that_are_double_show_an_exchanged_common_and_one_does_not() -> None:
    assert names(64.5, 64.5, 34.5) == ["all-double"]
    assert compare([read(64.5, valve="1"), read(34.5, valve="3")], row_of_boxes()) == ()


def test_two_hots_of_twins_that_touch() -> None:
    """In B3 behind 7.7 ohms of wire: 15 ohms of two coils beside 3.8 and 15 of the others."""
    twins = {"5": valve(600, name="5", coils=2), "7": valve(900, name="7", coils=2)}
    found = compare([read(16.0, valve="5"), read(16.0, valve="7")], row_of_boxes() | twins)
    assert [pattern.name for pattern in found] == ["touching"]


def test_two_stations_exchanged_at_the_terminals() -> None:
    assert told(41.5, *HEALTHY[1:7], 32.6) == [
        "1 and 8 look swapped: each reads the other's distance."
    ]


def test_in_one_box_an_exchange_cannot_be_seen() -> None:
    # O14: swapped hots change no reading where the distance is the same.
    assert told(HEALTHY[1], HEALTHY[0], *HEALTHY[2:]) == []


def test_the_newest_value_of_a_valve_counts() -> None:
    old = [read(OL, valve=str(number), when="2026-01-01") for number in (5, 6)]
    both = oldest_first([*readings(*HEALTHY), *old])
    assert compare(both, row_of_boxes()) == ()
    assert [pattern.name for pattern in compare([*both, *old], row_of_boxes())] == [
        "common-open-somewhere"
    ]


def test_other_kinds_strange_valves_and_rings_are_left_out() -> None:
    valves = row_of_boxes()
    rings = {name: replace(each, ring=True) for name, each in valves.items()}
    assert compare([read(OL, valve="nobody"), read(OL, valve="no one")], valves) == ()
    coils = [read(OL, Kind.COIL, valve=str(number)) for number in range(1, 9)]
    assert compare(coils, valves) == ()
    dead = readings(*HEALTHY[:4], OL, OL, OL, OL)
    assert compare(dead, rings) == ()


def test_each_pattern_says_what_to_do_next() -> None:
    texts = english().catalogues[0].texts
    for key in texts:
        section, _, name = key.partition(".")
        assert section != "together" or f"next.{name}" in texts


def branched() -> dict[str, BuiltValve]:
    """1 in B1; beyond it the common forks in B2: 2 in B3, 3 in B4."""
    row = row_of_boxes()
    ways = {"1": ("A", "B1"), "2": ("A", "B1", "B2", "B3"), "3": ("A", "B1", "B2", "B4")}
    return {
        name: replace(row[name], back_way=tuple(step(*pair) for pair in pairwise(way)))
        for name, way in ways.items()
    }


def test_a_break_before_a_fork_is_placed_before_the_fork() -> None:
    (found,) = compare(readings(32.6, OL, OL), branched())
    assert found.name == "common-open"
    assert (found.values["start"], found.values["end"]) == ("B1", "B2")


def test_one_that_reads_the_other_s_value_is_no_exchange() -> None:
    """1 reads what 8 should; 8 reads something that is nobody's."""
    assert names(41.5, *HEALTHY[1:7], 97.7) == []
    assert names(97.7, *HEALTHY[1:7], 32.6) == []


# ---- what was false --------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("fifth", "seventh", "is_touch"),
    [
        (23.0, 23.0, True),  # touching at 430 ft, of the worked row
        (19.8, 19.8, True),  # at the terminals: 37.7 and 41.5 side by side, by hand
        (9.7, 9.7, False),  # coils of 2 ohms left in both
        (13.0, 13.0, False),
        (30.0, 30.0, False),
        (23.0, 13.0, False),
    ],
)
def test_a_touch_reads_what_both_loops_read_side_by_side(
    fifth: float, seventh: float, is_touch: bool
) -> None:
    values = (*HEALTHY[:4], fifth, HEALTHY[5], seventh, HEALTHY[7])
    assert ("touching" in names(*values)) is is_touch


def test_all_is_said_of_all_only() -> None:
    two = [read(OL, valve="1"), read(OL, valve="7")]
    others = {
        "9": replace(valve(200, name="9"), controller="B"),
        "10": replace(valve(200, name="10"), ohms=None),  # of that no value is expected
    }
    (found,) = compare(two, row_of_boxes() | others)
    assert english()(f"together.{found.name}", **found.values).printed == (
        "2 of 8 stations of A are measured, and all of those read OL."
    )


def test_rings_count_where_all_are_open() -> None:
    rings = {name: replace(each, ring=True) for name, each in row_of_boxes().items()}
    assert [p.name for p in compare(readings(*(OL,) * 8), rings)] == ["all-open"]


@pytest.mark.parametrize("value", [1500.0, 2400.0])
def test_what_still_carries_is_not_open(value: float) -> None:
    assert names(*HEALTHY[:4], *(value,) * 4) == ["common-high"]
    assert "OL" not in told(*HEALTHY[:4], *(value,) * 4)[0]


def with_sensor(*, between: str = "B2") -> dict[str, BuiltValve]:
    """A contact in the common behind B2: all of B3 and B4 hang on it."""
    contact = replace(step(between, between), conductor=None, contact="RS-1")
    valves = row_of_boxes()
    for name, each in valves.items():
        way = list(each.back_way)
        at = [n for n, leg in enumerate(way) if leg.start == between]
        if at:
            way.insert(at[0], contact)
            valves[name] = replace(each, back_way=tuple(way))
    return valves


def test_an_open_contact_in_the_common_is_thought_of() -> None:
    dead = readings(*HEALTHY[:4], OL, OL, OL, OL)
    (found,) = compare(dead, with_sensor())
    assert english()(f"together.{found.name}", **found.values).printed == (
        "5, 6, 7, 8 read OL together and others do not: the contact of RS-1 is open, or their "
        "common between B2 and B3."
    )
    bypassed = [replace(each, conditions="RS-1 bypassed") for each in dead]
    assert [p.name for p in compare(bypassed, with_sensor())] == ["common-open"]


def test_a_contact_that_all_share() -> None:
    (found,) = compare(readings(*(OL,) * 8), with_sensor(between="A"))
    assert (found.name, found.values["sensor"]) == ("all-open-sensor", "RS-1")


def test_a_second_fault_silences_no_first() -> None:
    # The common open behind B2, and the hot of 1.
    assert names(OL, *HEALTHY[1:4], OL, OL, OL, OL) == ["common-open"]
    assert told(OL, *HEALTHY[1:4], OL, OL, OL, OL)[0].startswith("5, 6, 7, 8 read OL")
    # A bad splice of the common behind B2, and another of 1's own hot.
    assert names(92.6, *HEALTHY[1:4], 57.7, 57.7, 61.5, 61.5) == ["common-high"]
    # Two that touch, and a coil of 4 with shorted turns.
    assert names(*HEALTHY[:3], 9.0, 23.0, 37.7, 23.0, 41.4) == ["touching"]
    # C and 3 exchanged, and 5 open.
    assert names(64.5, 64.5, 34.5, 64.5, OL, 67.7, 71.5, 71.5) == ["all-double"]


def test_where_several_pairs_fit_all_are_named_and_none_chosen() -> None:
    """1 and 2 read what B4 should, 7 and 8 what B1 should: who is exchanged with whom?"""
    (found,) = compare(readings(41.5, 41.5, *HEALTHY[2:6], 32.6, 32.6), row_of_boxes())
    assert (found.name, found.valves) == ("exchanged-among", ("1", "2", "7", "8"))
