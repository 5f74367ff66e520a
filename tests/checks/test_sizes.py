"""Lengths and gauges that look like slips of the pen."""

from __future__ import annotations

import random
import statistics

import pytest

from tests.checks.bases import completed
from tests.checks.trench import assert_problems
from tests.jobs import examined

LEGS = """
coils:
  usual: {supply: 24 V AC, resistance: 30 ohm}
cables:
  K1:
    gauge: 18 AWG
    colors: [white, red, blue, tan]
    run: [A, %s, VB-1, %s, VB-2, 80 ft, PB-1, 90 ft, PB-2]
boxes: {VB-1: {}, VB-2: {}, PB-1: {kind: pull box}, PB-2: {kind: pull box}}
"""


def test_a_nought_too_many_in_a_leg() -> None:
    """The others are 85, 80 and 90 ft: the usual one is 85 ft, and 600 / 85 = 7.1."""
    marked = "600 ft # <- warning leg-out-of-scale @ 600 ft\n      "
    found = assert_problems(LEGS % ("85 ft", marked))
    assert (
        found[0].sentence == "this leg is 600 ft, 7 times as long as is usual in this job (85 ft)"
    )


@pytest.mark.parametrize(
    ("home_run", "leg"),
    [
        ("500 ft", "100 ft"),  # home runs are long, up to six times as long as the rest
        ("85 ft", "250 ft"),  # less than three times
        ("20 ft", "190 ft"),  # up to 60 m nothing is asked
    ],
)
def test_legs_that_are_long_with_good_reason(home_run: str, leg: str) -> None:
    assert_problems(LEGS % (home_run, leg))


@pytest.mark.parametrize(
    ("run", "is_told"),
    [
        ("10 m, VB-1, 60 m, VB-2, 10 m, PB-1", False),  # up to 60 m nothing is asked
        ("10 m, VB-1, 61 m, VB-2, 10 m, PB-1", True),
        ("100 m, VB-1, 300 m, VB-2, 100 m, PB-1", False),  # three times
        ("100 m, VB-1, 301 m, VB-2, 100 m, PB-1", True),
        ("600 m, VB-1, 100 m, VB-2, 100 m, PB-1", False),  # a home run: six times
        ("601 m, VB-1, 100 m, VB-2, 100 m, PB-1", True),
        ("100 m, VB-1, 600 m, VB-2", False),  # one other leg says as little of the usual
        ("100 m, VB-1, 601 m, VB-2", True),
    ],
)
def test_just_as_long_as_is_not_asked_about(run: str, is_told: bool) -> None:
    """All of these figures are assumed."""
    text = completed(
        f"""
coils: {{usual: {{supply: 24 V AC, resistance: 30 ohm}}}}
cables: {{K1: {{gauge: 18 AWG, colors: [white, red, blue, tan], run: [A, {run}]}}}}
boxes: {{VB-1: {{}}, VB-2: {{}}, PB-1: {{kind: pull box}}}}
""".lstrip()
    )
    assert ("leg-out-of-scale" in {p.code for p in examined(text).problems}) is is_told


@pytest.mark.parametrize(
    ("leg", "problem"),
    [("900 m", ""), ("901 m", " # <- warning leg-out-of-scale @ 901 m")],
)
def test_the_only_leg_of_a_job_may_be_900_m_long(leg: str, problem: str) -> None:
    """A reel or two (assumed): there is no other leg to compare it with."""
    assert_problems(f"""
        coils:
          usual: {{supply: 24 V AC, resistance: 30 ohm}}
        cables:
          K1:
            gauge: 18 AWG
            colors: [white, red, blue, tan]
            run: [A, {leg}, VB-1]{problem}
        boxes: {{VB-1: {{}}}}
        stations: {{A1: {{area: lawn, box: VB-1, hot: K1 red}}}}
    """)


@pytest.mark.parametrize(
    ("leg", "says"), [("900 m", "9 times as long as is usual"), ("901 m", "far longer than")]
)
def test_a_leg_beyond_900_m_is_called_long_whatever_the_others_are(leg: str, says: str) -> None:
    """A reel or two (assumed)."""
    found = assert_problems(f"""
        coils: {{usual: {{supply: 24 V AC, resistance: 30 ohm}}}}
        cables:
          K1:
            gauge: 18 AWG
            colors: [white, red, blue, tan]
            run: [A, 100 m, VB-1, {leg}, VB-2, 100 m, PB-1] # <- warning leg-out-of-scale @ {leg}
        boxes: {{VB-1: {{}}, VB-2: {{}}, PB-1: {{kind: pull box}}}}
    """)
    assert says in found[0].sentence


@pytest.mark.parametrize("seed", range(12))
def test_the_usual_leg_is_the_median_of_all_others(seed: int) -> None:
    """Told by `statistics`: of an even number the longer one of the two in the middle."""
    chance = random.Random(seed)
    lengths = [chance.randint(1, 99) for _ in range(chance.randint(2, 7))]
    odd = chance.randint(1, len(lengths))  # the first leg is a home run
    lengths.insert(odd, 890)
    run = ", ".join(f"{length} m, B-{number}" for number, length in enumerate(lengths))
    boxes = ", ".join(f"B-{number}: {{}}" for number in range(len(lengths)))
    text = completed(
        f"""
coils: {{usual: {{supply: 24 V AC, resistance: 30 ohm}}}}
cables: {{K1: {{gauge: 14 AWG, colors: [white, red, blue, tan], run: [A, {run}]}}}}
boxes: {{{boxes}}}
stations: {{A1: {{area: lawn, box: B-0, hot: K1 red}}}}
""".lstrip()
    )
    (told,) = (p for p in examined(text).problems if p.code == "leg-out-of-scale")
    usual = statistics.median_high(lengths[:odd] + lengths[odd + 1 :])
    assert f" usual in this job ({usual} m)" in told.sentence


HOME_RUNS = """
controllers:
  A:
    place: hut
    supply: 24 V AC
    stations: 8
    coil: usual
    common:
      - K1 white
      - K2 gray # <- note several-commons @ K2 gray
      - K3 pink
      - K4 black
cables:
  K1: # <- warning gauge-odd @ K1
    {gauge: %s AWG, colors: [white, red, tan], run: [A, 85 ft, VB-1]}
  K2: {gauge: 14 AWG, colors: [gray, red, tan], run: [A, 85 ft, VB-2]}
  K3: {gauge: 14 AWG, colors: [pink, red, tan], run: [A, 85 ft, VB-3]}
  K4: {gauge: 14 AWG, colors: [black, red, tan], run: [A, 85 ft, VB-4]}
boxes: {VB-1: {}, VB-2: {}, VB-3: {}, VB-4: {}}
stations:
  A1: {area: lawn 1, box: VB-1, hot: K1 red}
  A2: {area: lawn 2, box: VB-2, hot: K2 red}
  A3: {area: lawn 3, box: VB-3, hot: K3 red}
  A4: {area: lawn 4, box: VB-4, hot: K4 red}
"""


def test_one_cable_much_thinner_than_all_others() -> None:
    found = assert_problems(HOME_RUNS % 18)
    (odd,) = (p for p in found if p.code == "gauge-odd")
    assert odd.sentence == "the hots of K1 are 18 AWG, and those of the other 3 cables are 14 AWG"


@pytest.mark.parametrize("gauge", [14, 16, 12])
def test_one_cable_that_is_alike_or_a_little_thinner_or_thicker(gauge: int) -> None:
    assert_problems((HOME_RUNS % gauge).replace(" # <- warning gauge-odd @ K1", ""))


def test_one_jacketed_cable_beside_bundles_of_thicker_singles() -> None:
    """Singles of 14 AWG beside a multi-conductor cable of 18: common practice, no source."""
    text = HOME_RUNS % 18
    for color in ("gray", "pink", "black"):
        singles = ", ".join(f"{{color: {c}, gauge: 14 AWG}}" for c in (color, "red", "tan"))
        text = text.replace(
            f"{{gauge: 14 AWG, colors: [{color}, red, tan], ", f"{{singles: [{singles}], "
        )
    assert text.count("singles") == 3
    problems = examined(completed(text.lstrip("\n"), "plain")).problems
    assert "gauge-odd" not in {problem.code for problem in problems}
