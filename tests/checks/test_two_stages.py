"""A typo in one place does not hide a fault elsewhere, and brings no other noise with it."""

from __future__ import annotations

from typing import NamedTuple

import pytest

from tests.checks.bases import completed
from tests.checks.trench import marked
from tests.jobs import edit, examined, sample


class Typo(NamedTuple):
    """In quarry the one `old` becomes `new`, so that an entry cannot be read."""

    what: str
    old: str
    new: str
    code: str


TYPOS = (
    Typo("a cable", "A-K2: {gauge: 18 AWG", "A-K2: {guage: 18 AWG", "unknown-key"),
    Typo("a length of a cable", "180 ft, VB-4", "180, VB-4", "unit-missing"),
    Typo("a palette", "palette: nine", "palette: ninety", "unknown-name"),
    Typo("a box", "{place: loading dock", "{plase: loading dock", "unknown-key"),
    Typo("a station", "dock beds drip, box", "dock beds drip, bocks", "unknown-key"),
    Typo("a box of a station", "drip, box: VB-6", "drip, box: VB-9", "unknown-name"),
    Typo("a hot of a station", "hot: A-K2 orange", "hot: A-K2 ornge", "no-such-conductor"),
    Typo("a joint", "[A-K2 red in, A9]", "[A-K2 red in, A99]", "joint"),
    Typo("a color in a joint", "[A-K2 red in, A9]", "[A-K2 gray in, A9]", "no-such-conductor"),
    Typo("a controller", 'place: "pedestal, left"', 'palce: "pedestal, left"', "unknown-key"),
    Typo("a coil", "resistance: 30 ohm", "resistance: 30", "unit-missing"),
    Typo("a spare", "B-K1 tan, to: VB-8", "B-K1 tan, too: VB-8", "unknown-key"),
    Typo("a master valve", "    box: MVB-1\n", "    bx: MVB-1\n", "unknown-key"),
)
# These touch the very box in which the fault is, so that nothing can be said of it.
NEAR = ("a controller", "a coil", "a box")
FAULT = ("[B-K1 white in, B-K1 white out, B1, B2]", "[B-K1 white in, B1, B2]")


def new_codes(text: str) -> list[str]:
    """What is found besides what the sound job gives, notes left out."""
    sound = {(p.code, p.sentence) for p in examined(sample("quarry")).problems}
    return [
        p.code
        for p in examined(text).problems
        if p.verdict != "note" and (p.code, p.sentence) not in sound
    ]


@pytest.mark.parametrize("typo", TYPOS, ids=lambda typo: typo.what)
def test_a_typo_alone_is_one_finding(typo: Typo) -> None:
    assert new_codes(edit(sample("quarry"), typo.old, typo.new)) == [typo.code]


@pytest.mark.parametrize(
    "typo", [t for t in TYPOS if t.what not in NEAR], ids=lambda typo: typo.what
)
def test_a_typo_and_a_broken_common_elsewhere_are_both_found(typo: Typo) -> None:
    text = edit(edit(sample("quarry"), typo.old, typo.new), *FAULT)
    assert sorted(new_codes(text)) == sorted([typo.code, "common-stops"])


def test_two_typos_and_a_fault_are_three_findings() -> None:
    text = edit(
        sample("quarry"), "A13: {area: dock beds drip, box", "A13: {area: dock beds drip, b"
    )
    text = edit(text, "hot: B-K1 violet", "hot: B-K1 voilet")
    text = edit(text, "SP-1: {conductor: A-K1 tan", "SP-1: {conductor: A-K1 pink")
    assert sorted(new_codes(text)) == ["no-such-conductor", "spare-in-use", "unknown-key"]


UNREAD = """
cables:
  K1: {gauge: 18 AWG, colors: [white, red, blue, green], run: [A, 0 ft, VB-1, 70 ft, VB-9]}
boxes: {VB-1: {%s}, VB-2: {}}
stations:
  A1: {area: lawn, box: VB-1, hot: K1 red}
  A9: {area: far lawn, box: VB-2, hot: K1 blue}
  X1: {controller: A, terminal: 1, area: lawn, box: VB-1, hot: K1 green}
"""


@pytest.mark.parametrize("broken", ["", "color: red"])
def test_a_leg_that_cannot_be_read_hides_no_other_fault(broken: str) -> None:
    """Nor does a box: names in the run and terminals are seen to all the same, in one run."""
    text = completed(UNREAD.lstrip("\n") % broken, "plain")
    found = [(p.code, marked(text, p)) for p in examined(text).problems if p.verdict == "error"]
    assert found == [
        ("out-of-range", "0 ft"),
        ("unknown-name", "VB-9"),
        *([("unknown-key", "color")] if broken else []),
        ("no-such-terminal", "A9"),
        ("terminal-used-twice", "X1"),
    ]
