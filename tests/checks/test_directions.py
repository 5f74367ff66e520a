"""Runs that are written toward the controller: told where there is no doubt, and only there."""

from __future__ import annotations

from tests.checks.bases import completed
from tests.checks.trench import assert_problems
from tests.jobs import examined

HEAD = """
boxes: {VB-1: {}, VB-2: {}, VB-3: {}}
stations:
  A1: {area: front lawn, box: VB-1, hot: K1 red}
"""


def test_a_run_from_the_valves_to_the_controller() -> None:
    found = assert_problems("""
        cables:
          K1:
            gauge: 18 AWG
            colors: [white, red, blue, green, yellow]
            run: [VB-2, 60 ft, VB-1, 85 ft, A] # <- error run-toward-controller @ VB-2
    """)
    assert found[0].sentence == "the run of K1 is written from 'VB-2' toward 'A', where it is fed"
    assert found[0].help == (
        "write it from the controller outward: 'run: [A, 85 ft, VB-1, 60 ft, VB-2]'"
    )


def _chain(*runs: str) -> str:
    """Cables that carry a common and a spare or two from box to box."""
    lines = [
        f"  K{number}: {{gauge: 18 AWG, colors: [white, red, blue, green], run: {run}}}"
        for number, run in enumerate(runs, 1)
    ]
    return "\n".join(("cables:", *lines, HEAD))


def told(text: str) -> list[str]:
    problems = examined(completed(text, "plain")).problems
    return [p.sentence.split()[3] for p in problems if p.code == "run-toward-controller"]


def test_in_a_chain_each_run_that_is_turned() -> None:
    cases: tuple[tuple[tuple[str, ...], list[str]], ...] = (
        (("[A, 9 ft, VB-1]", "[VB-1, 9 ft, VB-2]", "[VB-2, 9 ft, VB-3]"), []),
        (("[A, 9 ft, VB-1]", "[VB-2, 9 ft, VB-1]", "[VB-2, 9 ft, VB-3]"), ["K2"]),
        (("[A, 9 ft, VB-1]", "[VB-2, 9 ft, VB-1]", "[VB-3, 9 ft, VB-2]"), ["K2", "K3"]),
        (("[VB-1, 9 ft, A]", "[VB-1, 9 ft, VB-2]", "[VB-2, 9 ft, VB-3]"), ["K1"]),
        # Both ends are fed: a ring may be written either way around.
        (("[A, 9 ft, VB-1]", "[A, 9 ft, VB-2]", "[VB-2, 9 ft, VB-1]", "[VB-1, 9 ft, VB-3]"), []),
        # Fed through one of the two, and nobody knows which.
        (("[A, 9 ft, VB-1]", "[VB-2, 9 ft, VB-1]", "[VB-3, 9 ft, VB-1]", "[VB-2, 9 ft, VB-3]"), []),
        # Nothing feeds it: that is told by itself.
        (("[A, 9 ft, VB-1]", "[VB-3, 9 ft, VB-2]"), []),
    )
    assert [told(_chain(*runs)) for runs, _ in cases] == [cables for _, cables in cases]
