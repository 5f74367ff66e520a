"""The smallest size of a cable that serves what is behind a leg."""

from __future__ import annotations

import pytest

from cardgen.allot import allot
from cardgen.allot.gauges import coils_by_cable, with_sizes
from cardgen.electrics.legs import warm
from cardgen.examine import examine_text
from cardgen.units import Gauge, GaugeSystem
from tests.allot.yards import job
from tests.jobs import edit, sample

LONG = """\
controllers:
  A: {place: hut, supply: 24 V AC, stations: 8, coil: usual, common: K1 white}
cables:
  K1: {gauge: 14 AWG, colors: [white, red, blue], run: [A, 400 ft, VB-1, 600 ft, VB-2]}
boxes:
  VB-1: {place: front walk}
  VB-2: {place: front bed}
stations:
  A1: {area: lawn, box: VB-1}
  A2: {area: bed, box: VB-2}
"""


def least(text: str) -> list[str]:
    return [str(leg.least) for leg in allot(text).legs]


def test_each_leg_is_judged_by_what_is_behind_it() -> None:
    # 24 V less 20 V at 0.40 A: 10 ohm out and back. A2 is 1000 ft away, so 5 ohm per 1000 ft each
    # way, and 16 AWG has 4.02; 18 AWG has 6.39. A1 is 400 ft away: 12.5 ohm, and 20 AWG has 10.15.
    assert least(job(LONG)) == ["16 AWG", "16 AWG"]
    assert least(job(LONG.partition("  A2:")[0])) == ["20 AWG", "None"]


def test_square_millimeters_where_the_job_is_metric() -> None:
    text = job(LONG).replace("400 ft", "120 m").replace("600 ft", "180 m")
    # 300 m: 10 ohm / 0.6 km is 16.7 ohm/km; 1 mm2 has 18.1 at most, 1.5 mm2 has 12.1.
    assert least(text) == ["1.5 mm2", "1.5 mm2"]
    assert least(text.replace("14 AWG", "2.5 mm2")) == ["1.5 mm2", "1.5 mm2"]
    # 150 m: 33.3 ohm/km; 0.5 mm2 has 36.0 at most, 0.75 mm2 has 24.5 (IEC 60228, class 1).
    near = text.replace("120 m", "60 m").replace("180 m", "90 m")
    assert least(near) == ["0.75 mm2", "0.75 mm2"]


def test_a_warm_conductor_needs_to_be_thicker() -> None:
    text = job(LONG).replace("600 ft", "830 ft")  # 1230 ft: 4.07 ohm per 1000 ft at most
    assert least(text) == ["16 AWG", "16 AWG"]


@pytest.mark.parametrize("left_out", [", minimum: 20 V", "inrush: 0.40 A, "])
def test_not_known_where_data_is_missing(left_out: str) -> None:
    assert least(edit(job(LONG), left_out, "")) == ["None", "None"]


def test_no_size_serves_a_coil_that_is_too_far() -> None:
    text = job(LONG).replace("600 ft", "9000 ft")
    found = examine_text(text.replace("box: VB-1}", "box: VB-1, hot: K1 red}"))
    assert found.facts is not None
    (problem,) = [p for p in allot(text).problems if p.code == "volts-too-low"]
    assert problem.span.line == len(text.splitlines())


@pytest.mark.parametrize("name", ["larkspur", "quarry", "heron"])
def test_the_size_of_the_job_passes_where_the_check_passes(name: str) -> None:
    legs = [leg for leg in allot(sample(name)).legs if leg.least]
    assert legs
    for leg in legs:
        gauges = [leg.cable.gauge, *(single.gauge for single in leg.cable.singles)]
        assert leg.least is not None
        assert any(g and g.value and g.value.size <= leg.least.size for g in gauges)


def test_a_thinner_cable_than_the_smallest_fails_the_check() -> None:
    text = job(LONG).replace("box: VB-1}", "box: VB-1, hot: K1 red}")
    text = text.replace("box: VB-2}", "box: VB-2, hot: K1 blue}")
    for gauge, fails in (("16 AWG", False), ("18 AWG", True)):
        found = examine_text(text.replace("14 AWG", gauge))
        assert ("volts-too-low" in {p.code for p in found.problems}) is fails
        assert found.facts is not None
        assert [leg.least for leg in with_sizes(found.facts, allot(text).legs)] == [
            leg.least for leg in allot(text).legs
        ]


@pytest.mark.parametrize("name", ["larkspur", "quarry", "heron"])
def test_volts_with_the_size_of_the_job_are_those_of_the_reading(name: str) -> None:
    found = examine_text(sample(name))
    assert found.facts is not None
    coils = [coil for of_cable in coils_by_cable(found.facts).values() for coil in of_cable]
    assert coils
    for coil in coils:
        sizes = {leg.conductor.gauge for _, leg in coil.drops}
        size = sizes.pop()
        if not sizes and size is not None and coil.volts is not None:
            volts = coil.volts_with(size, warm(found.facts.network))
            assert volts == pytest.approx(coil.volts)


def test_a_size_changes_the_volts_as_a_job_of_that_size_does() -> None:
    """The check's own volts of a changed job, by way of what runs beside the station."""
    text = job(LONG).replace("[white,", "[gray, white,")
    text = text.replace("stations: 8", "stations: 8, stations at once: 2")
    text = text.replace("box: VB-1}", "box: VB-1, hot: K1 red}")
    text = text.replace("box: VB-2}", "box: VB-2, hot: K1 blue}")
    text += "master valves:\n  MV-1: {controllers: A, box: VB-1, hot: K1 gray}\n"
    thick, thin = examine_text(text), examine_text(text.replace("14 AWG", "16 AWG"))
    assert thick.facts is not None
    for coil in coils_by_cable(thick.facts)["K1"]:
        changed = coil.volts_with(Gauge(16, GaugeSystem.AWG), warm(thick.facts.network))
        wanted = [v for r in thin.readings.values() for v in r.volts.values()]
        assert any(changed == pytest.approx(v) for v in wanted)
