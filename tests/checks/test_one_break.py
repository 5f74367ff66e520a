"""Sound jobs with one thing changed give one new finding."""

from __future__ import annotations

from collections import Counter
from typing import NamedTuple

import pytest

from cardgen.problems import Problem, Verdict
from tests.jobs import edit, examined, sample


class Break(NamedTuple):
    """In job `name` the one `old` becomes `new`, which gives `code`."""

    what: str
    name: str
    old: str
    new: str
    code: str


SB_1 = """\
    - [A-K1 blue, A-S1 red A2]
    - [A-K1 green, A-S1 red A3]
"""
P_1 = """\
    - [P-K1 red P1, P1 red]
    - [P-K1 white P1, P1 black]
    - [P-K1 red P2, P2 red]
"""
BREAKS = (
    Break(
        "a color that is not in the cable",
        "larkspur",
        "hot: A-K2 blue",
        "hot: A-K2 brown",
        "no-such-conductor",
    ),
    Break(
        "a conductor given twice",
        "larkspur",
        "hot: A-K1 yellow",
        "hot: A-K1 blue",
        "conductor-used-twice",
    ),
    Break(
        "a box where the cable does not come",
        "larkspur",
        "box: VB-1, hot: A-K1 blue",
        "box: VB-3, hot: A-K1 blue",
        "hot-stops",
    ),
    Break(
        "a box that is not there",
        "larkspur",
        "box: VB-1, hot: A-K1 blue",
        "box: VB-11, hot: A-K1 blue",
        "unknown-name",
    ),
    Break(
        "no band on the second cable",
        "larkspur",
        "palette: five, band: yellow tape",
        "palette: seven",
        "cables-look-alike",
    ),
    Break(
        "the second common forgotten",
        "larkspur",
        "[A-K1 white, A-K2 white]",
        "A-K1 white",
        "common-stops",
    ),
    Break(
        "the sensor of the other kind",
        "larkspur",
        "controllers: A, contact: normally closed",
        "controllers: A, contact: normally open",
        "sensor-contact",
    ),
    Break(
        "the jumper left in",
        "larkspur",
        "sensor jumper: removed",
        "sensor jumper: fitted",
        "sensor-jumper",
    ),
    Break("a terminal that is not there", "larkspur", "  A6: {", "  A16: {", "no-such-terminal"),
    Break(
        "a coil that takes too much",
        "larkspur",
        "inrush: 0.40 A",
        "inrush: 0.60 A",
        "terminal-overloaded",
    ),
    Break("meters for feet", "larkspur", "60 ft, VB-2", "60 m, VB-2", "units-mixed"),
    Break("no unit", "larkspur", "140 ft", "140", "unit-missing"),
    Break(
        "a gate code in an area",
        "larkspur",
        "side beds, drip",
        "side beds, gate code 4711",
        "private-text",
    ),
    Break(
        "a connector too small",
        "larkspur",
        "2-5 x 18 AWG",
        "2-3 x 18 AWG",
        "connector-overfilled",
    ),
    Break(
        "a cable that begins nowhere",
        "larkspur",
        "run: [A, 140 ft, VB-3]",
        "run: [VB-4, 140 ft, VB-3]",
        "unknown-name",
    ),
    Break(
        "the common not joined onward in a box",
        "quarry",
        "[A-K2 white in, A-K2 white out, A9",
        "[A-K2 white in, A9",
        "common-stops",
    ),
    Break(
        "a spare that is in use",
        "quarry",
        "SP-1: {conductor: A-K1 tan",
        "SP-1: {conductor: A-K1 pink",
        "spare-in-use",
    ),
    Break(
        "two hots crossed in the splice box",
        "quarry",
        SB_1,
        "    - [A-K1 green, A-S1 red A2]\n    - [A-K1 blue, A-S1 red A3]\n",
        "hot-crossed",
    ),
    Break(
        "a hot not joined in the splice box",
        "quarry",
        "    - [A-K1 green, A-S1 red A3]\n",
        "",
        "hot-stops",
    ),
    Break(
        "the common not joined in the splice box",
        "quarry",
        "    - [A-K1 white, A-S1 white]\n",
        "",
        "common-stops",
    ),
    Break(
        "two hots in one connector",
        "quarry",
        SB_1,
        "    - [A-K1 blue, A-S1 red A2, A-K1 green, A-S1 red A3]\n",
        "hots-joined",
    ),
    Break("no isolators", "quarry", "    isolators: [A, B]\n", "", "master-valve-tied"),
    Break(
        "a valve left out of the joint of its common",
        "quarry",
        "[A-S1 white, A7, A8]\n",
        "[A-S1 white, A8]\n",
        "lead-in-no-joint",
    ),
    Break(
        "a valve named three times",
        "quarry",
        "    - [B-K1 red in, B1]\n",
        "    - [B-K1 red in, B1, B2]\n",
        "joint",
    ),
    Break("a band forgotten", "quarry", "    band: black band\n", "", "commons-look-alike"),
    Break(
        "a spare promised too far",
        "quarry",
        "A-K2 pink, to: VB-6",
        "A-K2 pink, to: VB-7",
        "spare-stops-short",
    ),
    Break(
        "the return of the master valve not joined",
        "quarry",
        "    - [A-K1 gray, A-S2 black MV-RTN]\n",
        "",
        "return-stops",
    ),
    Break(
        "a flag that is not there",
        "quarry",
        "hot: [A-K1 pink, A-S1 red A8]",
        "hot: [A-K1 pink, A-S1 red A9]",
        "no-such-conductor",
    ),
    Break(
        "a change log that is ahead",
        "quarry",
        "revision: 3, date: 2026-05-11}",
        "revision: 2, date: 2026-05-11}",
        "change-ahead",
    ),
    Break(
        "latching leads exchanged",
        "sandpiper",
        P_1,
        """\
    - [P-K1 red P1, P1 black]
    - [P-K1 white P1, P1 red]
    - [P-K1 red P2, P2 red]
""",
        "polarity-reversed",
    ),
    Break(
        "the rule for the leads forgotten",
        "sandpiper",
        "    polarity: {hot: red, common: black}\n",
        "",
        "polarity-missing",
    ),
    Break(
        "a valve left out of the joint of its hot",
        "sandpiper",
        "    - [P-K1 red P3, P3 red]\n",
        "",
        "lead-in-no-joint",
    ),
    Break(
        "coils for another supply",
        "sandpiper",
        "{supply: DC latching,",
        "{supply: 24 V AC,",
        "coil-on-wrong-supply",
    ),
    Break("valves too far away", "sandpiper", "43 ft", "143 ft", "run-too-long"),
    Break(
        "the sensor in the common",
        "sandpiper",
        "contact: normally closed, place:",
        "contact: normally closed, in common: P-K1 white P1, place:",
        "sensor-in-latching-common",
    ),
    Break(
        "hots exchanged in a box",
        "sandpiper",
        P_1,
        """\
    - [P-K1 red P2, P1 red]
    - [P-K1 white P1, P1 black]
    - [P-K1 red P1, P2 red]
""",
        "hot-crossed",
    ),
)


def codes(problems: tuple[Problem, ...]) -> Counter[tuple[str, Verdict, str]]:
    """All but the notes, which say what is so and not what is wrong."""
    return Counter((p.code, p.verdict, p.sentence) for p in problems if p.verdict != "note")


@pytest.mark.parametrize("case", BREAKS, ids=lambda case: f"{case.name}: {case.what}")
def test_one_break_gives_one_finding(case: Break) -> None:
    sound = sample(case.name)
    before = codes(examined(sound).problems)
    after = codes(examined(edit(sound, case.old, case.new)).problems)
    assert [code for code, _, _ in (after - before).elements()] == [case.code]
    assert not before - after
