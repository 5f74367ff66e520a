"""How many free conductors reach a box."""

from __future__ import annotations

from cardgen.checks.spares import reaching
from cardgen.wiring.uses import Stretch
from tests.checks.trench import assert_problems
from tests.jobs import edit, examined, sample

ONE_CABLE = """
cables:
  K1: {gauge: 18 AWG, colors: [white, red, blue, green], run: [A, 85 ft, VB-1, 60 ft, VB-2]}
stations:
  A1: {area: front lawn, box: VB-1, hot: K1 red}
  A2: {area: front bed, box: VB-2, hot: K1 blue}
boxes:
  VB-1: {place: front walk}
  VB-2: {place: front bed, spares: %s
"""


def test_as_many_as_are_asked_for() -> None:
    assert_problems(ONE_CABLE % "1}")
    assert_problems(ONE_CABLE % "0}")


def test_one_too_few() -> None:
    (problem,) = assert_problems(ONE_CABLE % "2} # <- warning spares-too-few @ 2")
    assert problem.sentence == "'VB-2' asks for 2 spares and one reaches it from a controller"
    assert problem.help == (
        "K1 has 1 free there: lay a cable with more conductors, or ask for fewer"
    )


def free_in(text: str) -> int:
    found = examined(text)
    assert found.facts is not None
    whole = [
        Stretch(conductor=c, start=0, end=len(c.legs), uses=())
        for c in found.facts.wiring.conductors.values()
    ]
    return reaching(whole, found.facts.job.controllers, "VB-1", 99)


def test_nothing_is_said_of_spares_where_a_cable_cannot_be_read() -> None:
    body = (ONE_CABLE % "2}").replace("gauge: 18 AWG", "gauge: 17 AWG")
    assert_problems(
        body.replace("60 ft, VB-2]}", "60 ft, VB-2]} # <- error gauge-not-made @ 17 AWG")
    )


def test_conductors_without_a_job() -> None:
    assert free_in(sample("larkspur")) == 7  # all of A-K1 pass VB-1, used or not
    assert free_in(sample("quarry")) == 11  # all singles of A-S1; A-K1 has 13


def test_a_splice_is_no_hindrance_but_the_home_run_counts() -> None:
    found = examined(edit(sample("quarry"), "{place: parking island 2,", "{spares: 9, place: p,"))
    (problem,) = [p for p in found.problems if p.code == "spares-too-few"]
    # A-S1 has its two spare singles, A-K1 tan and light-blue
    assert "and 2 reach it" in problem.sentence


def test_a_conductor_that_a_joint_makes_live_reaches_no_box_as_a_spare() -> None:
    """Green and yellow are named by nothing; green is on the hot of A1 all the same."""
    found = assert_problems("""
        boxes: {VB-1: {place: walk}, VB-2: {place: bed, spares: 2}} # <- warning spares-too-few @ 2
        joints:
          VB-1:
            - [K1 white, A1]
            - [K1 red in, K1 green, A1] # <- warning live-stub @ [
    """)
    assert found[0].sentence == "'VB-2' asks for 2 spares and one reaches it from a controller"
