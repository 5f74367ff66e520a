"""Random jobs in which a part of a hot is not known: nothing is wrong, and nothing is made up.

What must be so whatever the job: the other circuits are as before, of this one there are no ohms
unless joints as built lead all the way, and what is named is no spare.
"""

from __future__ import annotations

import random
from collections.abc import Iterator

import pytest

from cardgen.asbuilt import as_built
from cardgen.editing import Put, edited
from cardgen.examine import Examined, examine_text
from cardgen.job.job_parts import ConductorWords
from tests.property.jobs import Wish, random_plan
from tests.property.test_random_jobs import faults, ways

SEEDS = range(12)


def plan_text(seed: int) -> str:
    rng = random.Random(seed)
    wish = Wish(
        seed=seed,
        stations=rng.randint(3, 14),
        controllers=rng.randint(1, 2),
        written=rng.choice((0.0, 0.3, 1.0)),
        twins=rng.choice((0.0, 0.2)),
        split=rng.choice((0.0, 0.5)),
    )
    return random_plan(wish).text


def forms(hot: tuple[ConductorWords, ...]) -> Iterator[list[str]]:
    """The ways to say that a part of it is not known."""
    said = [f"{w.value}{w.begins and f' from {w.begins}'}{w.ends and f' to {w.ends}'}" for w in hot]
    yield ["not known"]
    yield [*said[:1], "not known"]
    yield ["not known", *said[-1:]]
    if len(said) > 1:
        yield [*said[:1], "not known", *said[-1:]]


def jobs(seed: int) -> Iterator[tuple[str, list[str], Examined, Examined]]:
    """A station, what is said of its hot, and the job without and with that."""
    text = plan_text(seed)
    before = examine_text(text)
    assert before.job is not None
    stations = [each for each in before.job.stations.values() if each.hot]
    for station in random.Random(seed).sample(stations, min(2, len(stations))):
        for form in forms(station.hot or ()):
            changed = edited(text, [Put(path=("stations", station.id, "hot"), value=form)])
            yield station.id, form, before, examine_text(changed)


@pytest.mark.parametrize("seed", SEEDS)
def test_a_hot_that_is_known_in_part_is_no_fault_and_changes_no_other(seed: int) -> None:
    for station, form, before, found in jobs(seed):
        assert faults(found) == faults(before), (station, form)
        assert found.facts is not None
        own = {load.id for load in found.facts.loads_of[station]}
        others = {name: way for name, way in ways(before).items() if name not in own}
        assert {n: way for n, way in ways(found).items() if n not in own} == others, (station, form)
        known = as_built(found.facts)
        for name in own - found.circuits.keys():
            assert known.valve[name].ohms is None and known.valve[name].volts == ()
        spares = {spare.conductor for spare in known.spares if not spare.dead}
        assert spares.isdisjoint(form), (station, form)
