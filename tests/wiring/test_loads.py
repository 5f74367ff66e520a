"""Which terminal a coil is on, which box it is in, what its leads are."""

from __future__ import annotations

import pytest

from tests.wiring.trench import job, said, wired

CABLES = """
cables:
  K1: {gauge: 18 AWG, colors: [white, red, blue, green], run: [A, 1 ft, VB-1]}
boxes: {VB-1: {}}
"""


@pytest.mark.parametrize(
    ("station", "terminal"),
    [
        ("A7: {area: a", "7"),
        ("A-07: {area: a", "7"),
        ("A.7: {area: a", "7"),
        ("A_7: {area: a", "7"),
        ("rose: {controller: A, terminal: 3, area: a", "3"),
        ("A7: {terminal: 2, area: a", "2"),
    ],
)
def test_the_terminal_of_a_station(station: str, terminal: str) -> None:
    wiring, problems = wired(job(f"{CABLES}stations: {{{station}, box: VB-1, hot: K1 red}}}}"))
    assert not problems
    (load,) = wiring.loads.values()
    assert (load.controller, load.terminal, load.hot_end.side) == ("A", terminal, terminal)
    assert (load.hot_lead.side, load.back_lead.side) == ("lead 1", "lead 2")


@pytest.mark.parametrize(
    ("station", "finding"),
    [
        (
            "rose: {area: a, box: VB-1, hot: K1 red}",
            "station-without-terminal: the name 'rose' does not say controller and terminal",
        ),
        (
            "B7: {area: a, box: VB-1, hot: K1 red}",
            "station-without-terminal: the name 'B7' does not say controller and terminal",
        ),
        ("A1: {area: a, hot: K1 red}", "valve-without-box: the valve of A1 is in no box"),
        ("A1: {area: a, box: VB-1}", "hot-missing: A1 has no hot wire yet"),
    ],
)
def test_stations_that_lack_something(station: str, finding: str) -> None:
    assert said(job(f"{CABLES}stations: {{{station}}}")) == [finding]


def test_a_master_valve_is_on_mv_and_on_the_common() -> None:
    body = CABLES + "master valves: {MV-A: {controllers: A, box: VB-1, hot: K1 red}}"
    load = wired(job(body))[0].loads["MV-A"]
    assert (load.terminal, load.hot_end.side, load.back_end.side) == ("MV", "MV", "C")
    assert load.back is None


def test_behind_isolators_it_is_on_no_terminal() -> None:
    body = CABLES + (
        "master valves: {MV-A: {controllers: A, isolators: A, box: VB-1, hot: K1 red, "
        "return: K1 blue}}"
    )
    load = wired(job(body))[0].loads["MV-A"]
    assert (load.hot_end.of, load.hot_end.side) == ("MV-A", "hot")
    assert (load.back_end.of, load.back_end.side) == ("MV-A", "return")


def test_a_decoder_drives_its_valve_without_a_hot() -> None:
    body = """
cables: {K1: {gauge: 14 AWG, colors: [white, black], run: [A, 1 ft, VB-1]}}
boxes: {VB-1: {}}
stations: {A1: {area: a, box: VB-1, decoder: DC-1}}
decoders: {DC-1: {box: VB-1, address: 201}}
"""
    wiring, problems = wired(job(body).replace("24 V AC, stations", "two-wire, stations"))
    assert not problems
    load = wiring.loads["A1"]
    assert load.decoder is not None
    assert load.hot is None
