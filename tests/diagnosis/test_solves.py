"""How much a diagnosis has to work out: counted, which does not depend on the machine.

A network is taken apart once, and for each meter and each place that may be wrong one current is
followed: twice the stations have twice the meters and hardly more places.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from itertools import pairwise

import pytest

from cardgen.diagnosis.green import Current, Green
from cardgen.diagnosis.yard import Yard
from tests.diagnosis.cases import Case, case_of

SIZES = (24, 48, 96)
SEED = 1
SLACK = 1.1  # yards are random, and some have more rings and twins


@pytest.fixture
def made(monkeypatch: pytest.MonkeyPatch) -> Counter[str]:
    """By name how often it was done."""
    counts: Counter[str] = Counter()

    def noted(name: str, work: Callable[..., object]) -> Callable[..., object]:
        def note(*given: object) -> object:
            counts[name] += 1
            return work(*given)

        return note

    for kind, work in ((Green, "__init__"), (Current, "__init__"), (Yard, "reading_between_hots")):
        name = f"{kind.__name__} {work}".removesuffix(" __init__")
        monkeypatch.setattr(kind, work, noted(name, getattr(kind, work)))
    return counts


def case(kind: str, stations: int) -> Case:
    found = case_of(SEED, [kind], stations)
    assert found is not None
    return found


@pytest.mark.parametrize("kind", ["hot resistive", "common open", "hots touch", "wrong reading"])
def test_twice_the_stations_take_twice_the_currents(kind: str, made: Counter[str]) -> None:
    currents = []
    for stations in SIZES:
        walked = case(kind, stations)
        made.clear()
        assert not walked.diagnosed().is_healthy
        assert made["Green"] == 1  # the network is taken apart once
        currents.append(made["Current"])
    for fewer, more in pairwise(currents):
        assert more <= SLACK * 2 * fewer


def test_each_station_with_each_other_takes_no_more_currents(made: Counter[str]) -> None:
    """Any hot may be on C instead: what all others read then follows from the currents that are."""
    walked = case("common exchanged", SIZES[-1])
    network = walked.ground.asbuilt.network
    assert network is not None
    legs = sum(len(conductor.ohms) for conductor in network.conductors)
    made.clear()
    assert not walked.diagnosed().is_healthy
    assert made["Yard reading_between_hots"] > SIZES[-1] ** 2 / 3  # once for each two
    # Of each leg, link, coil and meter one, and of ends that may be moved.
    assert made["Current"] < 2 * (legs + len(network.links) + 2 * len(network.coils))
