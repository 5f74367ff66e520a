"""The judges of a diagnosis are judged: metal, meter and faults, by hand and by the job file."""

from __future__ import annotations

import math

import pytest

from cardgen.examine import examine_text
from tests.diagnosis.ground import circuit_of, common_end, hot_end, job_text
from tests.diagnosis.kinds import KINDS, STRANGE, inject, together
from tests.diagnosis.metal import added, bridged, ohms_of, split
from tests.diagnosis.plans import OHMS_PER_FOOT, random_plan
from tests.diagnosis.trade_yard import COMMON, PLAN, hot
from tests.diagnosis.walks import Day, Truth, day_of, ends_of, first_valves, truth_of
from tests.outside.networks import ohms_between

SEEDS = range(12)
# A twin in two boxes is a way beside the common between them, which no reading of the job counts.
BESIDE = 0.005  # of the value
SOUND = circuit_of(PLAN)


@pytest.mark.parametrize("seed", SEEDS)
def test_the_metal_of_a_yard_is_that_of_its_job_file(seed: int) -> None:
    """Both were written by one plan; cardgen's own trace of the text comes to the same ohms."""
    plan = random_plan(seed)
    examined = examine_text(job_text(plan))
    assert examined.facts and not examined.has_errors, examined.problems[:3]
    ends = {v.id: ends_of(v) for v in plan.valves.values()}
    found = ohms_of(circuit_of(plan), ends.values())
    for valve in plan.valves.values():
        expected = examined.facts.readings[valve.station].ohms
        assert found[ends[valve.id]] == pytest.approx(expected, rel=BESIDE), valve.id


def test_yards_have_all_that_is_to_be_tried() -> None:
    plans = [random_plan(seed) for seed in range(60)]
    assert {feature for plan in plans for feature in plan.features} == {
        *("tree", "middle legs", "ring", "twin", "master valve", "sensor", "shared boxes"),
        *("several controllers", "several home runs", "two kinds of coils"),
    }
    sizes = [len(first_valves(plan)) for plan in plans]
    assert min(sizes) <= 6 and max(sizes) >= 100


def test_every_kind_of_fault_finds_a_yard_for_it() -> None:
    plans = [random_plan(seed) for seed in range(12)]
    for kind in (*KINDS, *STRANGE):
        assert any(inject(plan, kind, 1) for plan in plans), kind


def test_ngspice_against_another_solver() -> None:
    """The same yard with a touch, by the pseudo-inverse of its Laplacian (networkx, numpy)."""
    circuit, first = split(SOUND, ("leg", hot(5), "B2", "B3"), 0.25)
    circuit, second = split(circuit, ("leg", hot(7), "B2", "B3"), 0.25)
    circuit = bridged(circuit, first, second, 7.0)
    resistors = [(e.one, e.two, e.ohms or 1e-7) for e in circuit.values()]
    for one in ("A:5", "A:7", "A:8"):
        found = ohms_of(circuit, [(one, common_end("A"))])[one, common_end("A")]
        assert found == pytest.approx(ohms_between(resistors, one, common_end("A")), rel=1e-5)


def test_a_bad_splice_adds_its_ohms_to_all_behind_it_and_to_no_other() -> None:
    circuit = added(SOUND, ("splice", COMMON, "B3", "in"), 60.0)
    ends = {v.id: ends_of(v) for v in PLAN.valves.values()}
    sound, bad = ohms_of(SOUND, ends.values()), ohms_of(circuit, ends.values())
    more = {valve: round(bad[pair] - sound[pair], 6) for valve, pair in ends.items()}
    assert more == {f"A{n}": 60.0 if n >= 5 else 0.0 for n in range(1, 9)}


def test_what_is_open_reads_open_and_what_is_warm_reads_more() -> None:
    ends = [(hot_end(PLAN.valves["A1"]), common_end("A"))]
    broken = added(SOUND, ("coil", "A1"), math.inf)
    assert ohms_of(broken, ends)[ends[0]] == math.inf
    cold = 30 + 2 * 200 * OHMS_PER_FOOT["18 AWG"]
    # Ohms of copper rise 0.393 % for each degree from 20 C (IEC 60028, 1925).
    assert ohms_of(SOUND, ends, 45.0)[ends[0]] == pytest.approx(cold * (1 + 0.00393 * 25))


def test_the_meter_is_within_an_ohm_or_a_hundredth() -> None:
    truth = truth_of(PLAN, 3)
    shown = [truth.shown(30.0) for _ in range(500)]
    assert 29.0 <= min(shown) < 29.1 and 30.9 < max(shown) <= 31.0
    far = [truth.shown(500.0) for _ in range(500)]
    assert 495.0 <= min(far) < 495.5 and 504.5 < max(far) <= 505.0
    assert truth.shown(math.inf) == math.inf


def test_batch_coil_and_day_change_what_is_read() -> None:
    day = Day(celsius=20.0, batches={"usual": 1.1}, coils=dict.fromkeys(PLAN.valves, 0.95))
    truth = Truth(plan=PLAN, circuit=SOUND, day=day, meter=truth_of(PLAN, 0).meter)
    ends = ends_of(PLAN.valves["A1"])
    wire = 2 * 200 * OHMS_PER_FOOT["18 AWG"]
    assert truth.ohms([ends])[ends] == pytest.approx(30 * 1.1 * 0.95 + wire)
    days = [day_of(PLAN, seed) for seed in range(200)]
    assert all(-5 <= d.celsius <= 45 and 0.9 <= d.batches["usual"] <= 1.1 for d in days)


def test_two_faults_are_put_in_together_unless_they_change_the_same_part() -> None:
    one, two = inject(PLAN, "coil open", 1), inject(PLAN, "common resistive", 1)
    assert one and two
    both = together(SOUND, (one, two))
    assert both and set(one.circuit) | set(two.circuit) == set(both)
    assert together(SOUND, (one, one)) is None
