"""Conductors that a joint makes live and that lead nowhere."""

from __future__ import annotations

from tests.checks.trench import assert_problems


def test_a_conductor_put_into_the_joint_of_a_hot() -> None:
    found = assert_problems("""
        joints:
          VB-2:
            - [K1 white, A2]
            - [K1 blue, K1 green, A2] # <- warning live-stub @ [
    """)
    assert found[0].sentence == (
        "K1 green is joined with A2's hot in 'VB-2' and leads nowhere: it is live up to 'A'"
    )
    assert found[0].help == "cap it separately, or say what it serves"


def test_a_conductor_that_is_live_to_both_sides_is_told_once() -> None:
    found = assert_problems("""
        joints:
          VB-1:
            - [K1 white, A1]
            - [K1 red in, K1 green, A1] # <- warning live-stub @ [
    """)
    assert found[0].sentence.endswith("and leads nowhere: it is live up to 'A' and 'VB-2'")


def test_a_hot_that_is_not_cut_at_its_valve() -> None:
    found = assert_problems("""
        joints:
          VB-1:
            - [K1 white, A1]
            - [K1 red, A1] # <- warning live-stub @ [
    """)
    assert found[0].sentence == (
        "A1's hot K1 red goes on beyond 'VB-1' and leads nowhere: it is live up to 'VB-2'"
    )
    assert "write 'K1 red in' in that joint" in found[0].help


def test_a_hot_that_comes_back_to_its_valve_goes_on_to_the_other_side() -> None:
    found = assert_problems("""
        cables:
          K1: {gauge: 18 AWG, colors: [white, red, blue, green], run: [A, 9 ft, VB-1, 9 ft, VB-2]}
          K2: {gauge: 18 AWG, colors: [red, orange], run: [A, 9 ft, VB-2]}
        stations:
          A1: {area: front lawn, box: VB-1, hot: [K2 red, K1 red]}
          A2: {area: side lawn, box: VB-2, hot: K1 blue}
        joints:
          VB-1:
            - [K1 white, A1]
            - [K1 red, A1] # <- warning live-stub @ [
    """)
    assert found[0].sentence.endswith("beyond 'VB-1' and leads nowhere: it is live up to 'A'")
    assert "write 'K1 red out' in that joint" in found[0].help


def test_a_common_that_goes_on_is_no_stub() -> None:
    assert_problems("""
        boxes: {VB-1: {place: walk}, VB-2: {kind: pull box}}
        stations: {A1: {area: front lawn, box: VB-1, hot: K1 red}}
    """)


def test_a_twin_in_two_boxes_has_no_stub() -> None:
    assert_problems("""
        stations:
          A2: # <- note twin-in-two-boxes @ A2
            area: side lawn
            hot: K1 blue
            valves: {A2a: {box: VB-1}, A2b: {box: VB-2}}
        joints:
          VB-1:
            - [K1 white, A2a]
            - [K1 blue, A2a]
    """)
