"""What the values of several stations show together: the worked row of four boxes.

Computed from the wire table, common practice: healthy 32.6 34.5 37.7 41.5, two of each.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

from cardgen.asbuilt import BuiltValve
from cardgen.results import OL, Kind, Measured, compare, oldest_first
from cardgen.words import english
from tests.results.valves import read, row_of_boxes, step

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
            "5, 6, 7, 8 read higher by about the same 60 Ω: a bad splice in the common they share, "
            "between B2 and B3."
        )
    ]


def test_a_bad_splice_of_one_hot_is_no_pattern() -> None:
    assert told(*HEALTHY[:3], 94.5, *HEALTHY[4:]) == []


def test_two_hots_that_touch() -> None:
    assert told(*HEALTHY[:4], 23.0, 37.7, 23.0, 41.4) == [
        "5 and 7 read equally low: their hots touch somewhere."
    ]


def test_two_that_are_two_ohms_apart_are_alike() -> None:
    """A meter and its leads differ by as much from day to day (assumed)."""
    found = [told(*HEALTHY[:4], 22.0, 37.7, low, 41.4) for low in (20.0, 20.1, 19.7)]
    touching = "5 and 7 read equally low: their hots touch somewhere."
    assert found == [[touching], [touching], []]


def test_one_low_is_no_touch() -> None:
    assert told(*HEALTHY[:4], 22.7, *HEALTHY[5:]) == []


def test_the_common_exchanged_with_a_hot() -> None:
    assert told(64.5, 64.5, 34.5, 64.5, 67.7, 67.7, 71.5, 71.5) == [
        (
            "All of A read about double, only 3 does not: 3 and the common look swapped at the "
            "terminals."
        )
    ]


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
    assert compare(readings(*(OL,) * 8), rings) == ()


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
