"""The conductors that a station names, as a way from its terminal to its boxes."""

from __future__ import annotations

import pytest

from cardgen.wiring.wiring_parts import Load
from tests.wiring.trench import job, wired

CABLES = """
cables:
  K1: {gauge: 18 AWG, colors: [white, red], run: [A, 1 ft, VB-1, 1 ft, VB-2, 1 ft, VB-3]}
  K2: {gauge: 18 AWG, colors: [tan, pink], run: [VB-2, 1 ft, VB-4]}
  K3: {gauge: 18 AWG, colors: [gold], run: [VB-5, 1 ft, VB-4]}
boxes: {VB-1: {}, VB-2: {}, VB-3: {}, VB-4: {}, VB-5: {}}
"""


def load(station: str) -> Load:
    wiring, _ = wired(job(f"{CABLES}stations: {{A1: {{area: a, {station}}}}}"))
    return next(iter(wiring.loads.values()))


def hops(station: str) -> list[str]:
    """Conductor and places of each hop."""
    hot = load(station).hot
    assert hot is not None
    return [
        f"{h.conductor.name}: {h.conductor.places[h.start]} to {h.conductor.places[h.end]}"
        for h in hot.hops
    ]


@pytest.mark.parametrize(
    ("station", "expected"),
    [
        ("box: VB-2, hot: K1 red", ["K1 red: A to VB-2"]),
        ("box: VB-4, hot: [K1 red, K2 pink]", ["K1 red: A to VB-2", "K2 pink: VB-2 to VB-4"]),
        (  # the last is traveled against its run
            "box: VB-5, hot: [K1 red, K2 pink, K3 gold]",
            ["K1 red: A to VB-2", "K2 pink: VB-2 to VB-4", "K3 gold: VB-4 to VB-5"],
        ),
        (
            "hot: K1 red, valves: {A1a: {box: VB-3}, A1b: {box: VB-1}}",
            ["K1 red: A to VB-3"],
        ),
        (
            "hot: [K1 red, K2 pink], valves: {A1a: {box: VB-1}, A1b: {box: VB-4}}",
            ["K1 red: A to VB-2", "K2 pink: VB-2 to VB-4"],
        ),
    ],
)
def test_ways_that_arrive(station: str, expected: list[str]) -> None:
    assert hops(station) == expected
    hot = load(station).hot
    assert hot is not None
    assert hot.fault is None


@pytest.mark.parametrize(
    ("station", "sentence"),
    [
        (
            "box: VB-4, hot: K1 red",
            "A1's hot leaves on K1 red and stops in 'VB-3'; nothing carries it to 'VB-4'",
        ),
        ("box: VB-4, hot: K2 pink", "K2 pink does not reach 'A'"),
        ("box: VB-4, hot: [K1 red, K3 gold]", "K1 red and K3 gold never meet in one box"),
        (
            "hot: [K1 red, K2 pink], valves: {A1a: {box: VB-3}, A1b: {box: VB-4}}",
            "A1's hot leaves on K1 red and stops in 'VB-4'; nothing carries it to 'VB-3'",
        ),
    ],
)
def test_ways_that_do_not(station: str, sentence: str) -> None:
    hot = load(station).hot
    assert hot is not None and hot.fault is not None
    assert (hot.fault.code, hot.fault.sentence) == ("hot-stops", sentence)
