"""A changed network, against the same solved anew by numpy."""

from __future__ import annotations

import random
from collections.abc import Sequence

import pytest

from cardgen.diagnosis.yard import (
    NetworkChange,
    NetworkEdge,
    Probe,
    Yard,
    along,
    between,
    in_series,
    opened,
)
from cardgen.results import OL
from tests.diagnosis.ohms_by_numpy import Resistor, ohms_by_numpy
from tests.diagnosis.small_yard import as_built_of
from tests.jobs import sample

JOBS = ("quarry", "larkspur")


def yard_of(name: str) -> Yard:
    asbuilt = as_built_of(sample(name))
    assert asbuilt.network is not None
    return Yard(asbuilt, asbuilt.network)


def probe_of(yard: Yard, valve: str) -> Probe:
    coil = yard.coil[valve]
    return Probe(valve, coil.hot_end, coil.back_end)


def solved_anew(
    yard: Yard,
    probe: Probe,
    longer: Sequence[NetworkEdge],
    more: float,
    touching: tuple[tuple[NetworkEdge, float], ...],
) -> float:
    """With edges of more ohms, and two points along edges tied with 3 ohms."""
    resistors: list[Resistor] = []
    for edge in yard.edges:
        if not yard.green.are_connected(edge.one, probe.one):
            continue
        ohms = edge.ohms + (more if edge in longer else 0.0)
        part = next((part for other, part in touching if other is edge), None)
        if part is None:
            resistors.append((edge.one, edge.two, ohms))
        else:
            on = ("on", edge.number)
            resistors += [(edge.one, on, part * ohms), (on, edge.two, (1 - part) * ohms)]
    (one, _), (two, _) = touching
    if yard.green.are_connected(one.one, probe.one):
        resistors.append((("on", one.number), ("on", two.number), 3.0))
    return ohms_by_numpy(resistors, probe.one, probe.two)


@pytest.mark.parametrize("name", JOBS)
def test_readings_of_a_changed_network_are_those_of_one_solved_anew(name: str) -> None:
    yard, chance = yard_of(name), random.Random(4)
    for _ in range(25):
        valve = chance.choice([v for v, coil in yard.coil.items() if coil.is_measured])
        one, two, *longer = chance.sample(yard.edges, 6)
        more, at = chance.choice((5.0, 60.0, 2000.0)), (chance.random(), chance.random())
        if not yard.green.are_connected(one.one, two.one):
            continue  # a tie between parts carries nothing, which the next test has
        changes = [
            *(in_series(edge, more) for edge in longer),
            between(along(one, at[0]), along(two, at[1]), 3.0),
        ]
        touching = ((one, at[0]), (two, at[1]))
        anew = solved_anew(yard, probe_of(yard, valve), longer, more, touching)
        for before in range(len(changes) + 1):
            read = yard_of(name).reading(probe_of(yard, valve), changes, before)
            assert read == pytest.approx(anew, rel=1e-6)


@pytest.mark.parametrize("name", JOBS)
def test_sound_readings_are_those_of_the_tags(name: str) -> None:
    yard = yard_of(name)
    for valve, coil in yard.coil.items():
        band = yard.asbuilt.valve[valve].ohms
        if coil.is_measured and band is not None:
            assert yard.sound(probe_of(yard, valve)) == pytest.approx(band.expected, abs=0.02)


def test_what_is_opened_reads_ol_and_what_is_tied_to_nothing_changes_nothing() -> None:
    yard = yard_of("larkspur")
    hot = next(edge for edge in yard.edges if edge.conductor == "A-K1 red")
    spare = next(edge for edge in yard.edges if edge.conductor == "A-K1 orange")
    probe = probe_of(yard, "A1")
    assert yard.reading(probe, [opened(hot)]) == OL
    tie = between(along(hot, 0.5), along(spare, 0.5), 0.0)
    assert yard.reading(probe, [tie]) == yard.sound(probe)


def test_a_coil_by_itself_knows_what_is_wrong_in_it_alone() -> None:
    yard = yard_of("larkspur")
    coil, hot = yard.coil_edge["A1"], next(e for e in yard.edges if e.conductor == "A-K1 red")
    alone = Probe("A1", coil.one, coil.two, coil=coil.number)
    assert yard.reading(alone, [in_series(coil, -28.0)]) == pytest.approx(2.0)
    assert yard.reading(alone, [opened(coil)]) == OL
    beside: list[NetworkChange] = [in_series(hot, 500.0)]
    assert yard.reading(alone, beside) == coil.ohms
