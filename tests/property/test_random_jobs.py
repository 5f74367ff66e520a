"""Random jobs: right ones check clean, one break gives one code, and order means nothing."""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Callable, Iterable
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from cardgen.examine import Examined, examine_text
from cardgen.problems import Verdict
from cardgen.wiring.wiring_parts import Leg, Step
from tests.outside.networks import ohms_between
from tests.property.breaks import BREAKS, Break, joint_of
from tests.property.cables import OHMS_PER_KFT
from tests.property.jobs import Wish, plans, random_plan
from tests.property.plan import Metal, Plan, Way, to_text

some = settings(max_examples=20)
many = settings(max_examples=40)

COIL_OHMS, RELAY_OHMS = 30.0, 45.0
WIRE_TABLE = 3e-4  # its four figures, against the defining rule
SPOTS = 6  # jobs to be spoiled for each break


# Lengths and gauges are drawn at random here, so that some are asked about with good reason.
ASKED = ("leg-out-of-scale", "gauge-odd")


def faults(found: Examined) -> list[str]:
    return [
        f"{p.code}: {p.sentence}"
        for p in found.problems
        if p.verdict is not Verdict.NOTE and p.code not in ASKED
    ]


def codes(found: Examined) -> Counter[tuple[str, str]]:
    return Counter((p.verdict.value, p.code) for p in found.problems)


def legs(steps: Iterable[Step]) -> Way:
    return [(s.conductor.name, s.start, s.end) for s in steps if isinstance(s, Leg)]


def ways(found: Examined) -> dict[str, tuple[Way, Way]]:
    return {name: (legs(c.hot), legs(c.back)) for name, c in found.circuits.items()}


def numbers(found: Examined) -> dict[str, tuple[float | None, dict[str, float]]]:
    return {
        name: (
            None if r.ohms is None else round(r.ohms, 6),
            {load: round(volts, 6) for load, volts in r.volts.items()},
        )
        for name, r in found.readings.items()
    }


# -- right jobs --------------------------------------------------------------------------------


@many
@given(plans())
def test_a_right_job_is_clean_and_each_coil_has_one_circuit_from_terminal_to_common(
    plan: Plan,
) -> None:
    found = examine_text(plan.text)
    assert faults(found) == []
    assert_circuits(plan, found)


@pytest.mark.parametrize("seed", range(3))
def test_a_right_job_of_two_hundred_stations(seed: int) -> None:
    plan = random_plan(Wish(seed=seed, stations=200, controllers=3, splices=0.8, sharing=0.3))
    found = examine_text(plan.text)
    assert faults(found) == []
    assert_circuits(plan, found)


def assert_circuits(plan: Plan, found: Examined) -> None:
    expected = {
        load: (hot.way_to(box), back.way_to(box)) for load, (hot, back, box) in plan.loads().items()
    }
    assert ways(found) == expected
    for load, (hot, _, _) in plan.loads().items():
        circuit = found.circuits[load]
        assert hot.start is not None
        assert (circuit.load.hot_end.of, circuit.load.back_end.of) in {
            (hot.start[0], hot.start[0]),
            (load, load),  # an isolator's output
        }
        assert circuit.load.terminal in (hot.start[1], "MV")


# -- readings ----------------------------------------------------------------------------------


@some
@given(plans(20))
def test_ohms_are_those_of_the_network_by_another_solver(plan: Plan) -> None:
    found = examine_text(plan.text)
    expected = {
        metal.owner: ohms_by_networkx(plan, metal)
        for metal in plan.metals
        if metal.kind == "hot" and metal.leads
    }
    measured = {name: reading.ohms for name, reading in found.readings.items()}
    assert measured == pytest.approx(expected, rel=WIRE_TABLE)


def ohms_by_networkx(plan: Plan, hot: Metal) -> float:
    """Between terminal and C, with nothing on them but the coils of this one."""
    back = plan.backs[hot.leads[0][1]]
    resistors = {}
    for metal in (hot, back):
        for box in {box for box, _ in hot.leads}:
            for leg in metal.way_to(box):
                ohms = plan.lengths[leg] / 1000 * OHMS_PER_KFT[plan.gauges[leg[0]]]
                ends = (metal.kind, leg[1]), (metal.kind, leg[2])
                resistors[leg[0], *sorted(leg[1:])] = (*ends, ohms)
    coil = RELAY_OHMS if hot.owner.startswith("PUMP") else COIL_OHMS
    for box, load in hot.leads:
        resistors[load, box, ""] = ((hot.kind, box), (back.kind, box), coil)
    assert hot.start is not None
    return ohms_between(resistors.values(), (hot.kind, hot.start[0]), (back.kind, hot.start[0]))


@some
@given(plans(), st.randoms(use_true_random=False))
def test_an_unused_spare_changes_no_reading(plan: Plan, rng: random.Random) -> None:
    sections = plan.copy()
    cable = sections["cables"][rng.choice(list(sections["cables"]))]
    colors = sections["palettes"].get(cable.get("palette")) or cable.get("colors")
    if colors:
        colors.insert(rng.randint(0, len(colors)), "red/black")
    else:
        cable["singles"].append({"color": "red/black", "gauge": "14 AWG"})
    before, after = examine_text(plan.text), examine_text(to_text(sections))
    assert faults(after) == []
    assert numbers(after) == numbers(before)


@some
@given(plans(), st.randoms(use_true_random=False))
def test_ohms_grow_with_length_where_the_length_is_on_the_way(
    plan: Plan, rng: random.Random
) -> None:
    sections = plan.copy()
    name = rng.choice([name for name in sections["cables"] if not name.startswith("D-")])
    run = sections["cables"][name]["run"]
    index = rng.randrange(1, len(run), 2)
    amount, unit = run[index].split()
    run[index] = f"{float(amount) + 1:.2f} {unit}"
    before, after = examine_text(plan.text), examine_text(to_text(sections))
    ends = {run[index - 1], run[index + 1]}
    for owner, reading in after.readings.items():
        mine = [c for c in after.circuits.values() if c.load.owner.id == owner]
        longer = any(
            words.startswith(f"{name} ") and {one, two} == ends
            for c in mine
            for words, one, two in legs((*c.hot, *c.back))
        )
        old = before.readings[owner].ohms
        assert old is not None and reading.ohms is not None
        assert (reading.ohms > old + 1e-6) == longer
        assert reading.ohms >= old - 1e-9


# -- one break, one code -----------------------------------------------------------------------


@pytest.mark.parametrize("spoiled", BREAKS, ids=lambda b: b.name)
def test_one_break_gives_its_code_and_no_other_error(spoiled: Break) -> None:
    tried = 0
    for seed in range(100):
        rng = random.Random(seed)
        wish = replace(spoiled.wish, seed=seed, stations=rng.randint(4, 24))
        sections = spoiled.spoil(random_plan(wish), rng)
        if sections is None:
            continue
        found = examine_text(to_text(sections))
        errors = {p.code for p in found.problems if p.verdict is Verdict.ERROR}
        assert errors == {spoiled.code}, (wish, [p.sentence for p in found.problems])
        tried += 1
        if tried == SPOTS:
            return
    pytest.fail(f"only {tried} jobs had a spot for {spoiled.name}")


def test_a_spare_put_into_the_joint_of_a_hot_is_told_once() -> None:
    """It is live and leads nowhere; every circuit stays as it was."""
    tried = 0
    for seed in range(60):
        rng = random.Random(seed)
        plan = random_plan(Wish(seed=seed, stations=8, written=1.0))
        named = {piece.conductor for metal in plan.metals for piece in metal.pieces}
        spots = [
            (at, spare, metal)
            for spare in sorted(plan.gauges.keys() - named - {""})
            for metal in plan.metals
            for at, _ in metal.leads
            if metal.kind == "hot" and at in plan.sections["joints"] and metal.start
            if metal.start[1].isdigit()
            and at in plan.sections["cables"][spare.partition(" ")[0]]["run"]
        ]
        if not spots:
            continue
        at, spare, metal = rng.choice(spots)
        sections = plan.copy()
        joint = joint_of(sections, at, metal)
        joint.append(spare)
        before, after = examine_text(plan.text), examine_text(to_text(sections))
        assert ways(after) == ways(before)
        told = [f for f in faults(after) if not f.startswith("connector-overfilled")]
        assert len(told) == 1, told
        assert told[0].startswith(
            f"live-stub: {spare} is joined with {metal.owner}'s hot in '{at}' and leads nowhere"
        )
        tried += 1
    assert tried >= SPOTS


# -- order and make-up -------------------------------------------------------------------------


@some
@given(plans(), st.randoms(use_true_random=False))
def test_the_order_of_lists_and_entries_means_nothing(plan: Plan, rng: random.Random) -> None:
    before = examine_text(plan.text)
    after = examine_text(to_text(shuffled(plan.sections, rng)))
    assert codes(after) == codes(before)
    assert ways(after) == ways(before)
    assert numbers(after) == numbers(before)


@pytest.mark.parametrize("spoiled", BREAKS, ids=lambda b: b.name)
def test_the_order_means_nothing_to_a_fault_either(spoiled: Break) -> None:
    for seed in range(3):
        rng = random.Random(seed)
        sections = spoiled.spoil(random_plan(replace(spoiled.wish, seed=seed)), rng)
        if sections is not None:
            before = examine_text(to_text(sections))
            after = examine_text(to_text(shuffled(sections, rng)))
            assert codes(after) == codes(before)
            assert ways(after) == ways(before)


# The lists that are in physical order, or in which the first stands out.
_ORDERED = {"run", "hot", "return", "conductor", "terminals", "controllers", "isolators", "colors"}


def shuffled(entry: Any, rng: random.Random, key: str = "") -> Any:
    """The same entry with every mapping, and every list without an order, in another order."""
    if isinstance(entry, dict):
        keys = rng.sample(list(entry), len(entry))
        return {k: shuffled(entry[k], rng, "" if key else k) for k in keys}
    if isinstance(entry, list) and key not in _ORDERED:
        return [shuffled(e, rng, key) for e in rng.sample(entry, len(entry))]
    return entry


@many
@given(plans())
def test_writing_out_the_usual_joints_changes_no_circuit(plan: Plan) -> None:
    assume(not plan.sections["decoders"])  # whose joints the plan does not know
    usual, as_built = plan.copy(), plan.copy()
    usual["joints"] = {}
    places = [*plan.sections["boxes"], *plan.sections["controllers"]]
    as_built["joints"] = {at: joints for at in places if (joints := plan.joints_at(at))}
    before, after = examine_text(to_text(usual)), examine_text(to_text(as_built))
    assert faults(before) == faults(after) == []
    assert ways(before) == ways(after)
    assert numbers(before) == numbers(after)


# -- anything at all ---------------------------------------------------------------------------


@settings(max_examples=150)
@given(plans(8), st.randoms(use_true_random=False))
def test_examining_never_raises_for_what_a_person_wrote(plan: Plan, rng: random.Random) -> None:
    examine_text(scrawled(plan.text, rng))


Slip = Callable[[str, random.Random], str]


def scrawled(text: str, rng: random.Random) -> str:
    """The text after a few slips of the hand: words exchanged, lines lost, letters mistyped."""
    for _ in range(rng.randint(1, 4)):
        slip: Slip = rng.choice(SLIPS)
        text = slip(text, rng)
    return text


def _exchange_words(text: str, rng: random.Random) -> str:
    parts = text.split('"')
    if len(parts) < 5:
        return text
    one, two = (rng.randrange(1, len(parts), 2) for _ in range(2))
    parts[one], parts[two] = parts[two], parts[one]
    return '"'.join(parts)


def _repeat_a_word(text: str, rng: random.Random) -> str:
    parts = text.split('"')
    if len(parts) < 5:
        return text
    one, two = (rng.randrange(1, len(parts), 2) for _ in range(2))
    parts[one] = parts[two]
    return '"'.join(parts)


def _lose_a_line(text: str, rng: random.Random) -> str:
    lines = text.splitlines(keepends=True)
    gone = rng.randrange(len(lines) + 1)
    return "".join(lines[:gone] + lines[gone + rng.choice([1, 1, 1, 30]) :])


def _move_a_line(text: str, rng: random.Random) -> str:
    lines = text.splitlines(keepends=True)
    line = rng.choice(lines) if lines else ""
    lines.insert(rng.randrange(len(lines) + 1), line)
    return "".join(lines)


def _mistype(text: str, rng: random.Random) -> str:
    index = rng.randrange(len(text) + 1)
    letter: str = rng.choice(["", *" \n-:,[]{}\"'#&*!|>%@0A\t\u2013\u00a0"])
    return text[:index] + letter + text[index + 1 :]


SLIPS: tuple[Slip, ...] = (_exchange_words, _repeat_a_word, _lose_a_line, _move_a_line, _mistype)
