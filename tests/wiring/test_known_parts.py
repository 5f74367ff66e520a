"""A hot of which one end is known: what is said stands, what is not said is not concluded.

Counted by hand in the job of tests/wiring/test_maybe_hots.py, where K1 green, blue and brown of six
come free from A by VB-1 to SB-1, and K2 red and blue from there by VB-2 to VB-3, the box of A3.
"""

from __future__ import annotations

import pytest

from cardgen.wiring.uses import Role
from tests.jobs import edit, examined
from tests.wiring.test_maybe_hots import FAR, JOB

HOT, MAYBE = (Role.HOT, "A3"), (Role.MAYBE_HOT, "A3")


def with_hot(words: str) -> str:
    return edit(JOB, "Not  Known", words)


def uses(text: str) -> dict[str, list[tuple[Role, str]]]:
    """By stretch, what it is."""
    found = examined(text)
    assert found.facts is not None and not found.has_errors
    return {
        f"{name}: {stretch.first} to {stretch.last}": [(use.role, use.of) for use in stretch.uses]
        for name, stretches in found.facts.uses.stretches.items()
        for stretch in stretches
    }


def test_a_wire_on_the_terminal_is_known_as_far_as_the_first_box() -> None:
    """Beyond VB-1 it may go on as green, or in another that comes there."""
    found = uses(with_hot("[K1 green, not known]"))
    assert found["K1 green: A to VB-1"] == [HOT]
    assert found["K1 green: VB-1 to SB-1"] == [MAYBE]
    for name in ("K1 blue", "K1 brown"):
        assert found[f"{name}: A to SB-1"] == [(Role.MAYBE_HOT, "A2"), MAYBE]
    assert all(found[f"{name}: SB-1 to VB-3"] == [MAYBE] for name in FAR)


def test_how_far_it_is_known_can_be_said() -> None:
    """From SB-1 on it is in K2; so what is left in K1 may only be the hot of A2."""
    found = uses(with_hot("[K1 green to SB-1, not known]"))
    assert found["K1 green: A to SB-1"] == [HOT]
    assert found["K1 blue: A to SB-1"] == [(Role.MAYBE_HOT, "A2")]
    assert all(found[f"{name}: SB-1 to VB-3"] == [MAYBE] for name in FAR)


def test_a_wire_on_the_coil_is_known_as_far_as_the_box_before() -> None:
    found = uses(with_hot("[not known, K2 red]"))
    assert found["K2 red: VB-2 to VB-3"] == [HOT]
    assert found["K2 red: SB-1 to VB-2"] == found["K2 blue: SB-1 to VB-3"] == [MAYBE]
    assert found["K1 green: A to SB-1"] == [(Role.MAYBE_HOT, "A2"), MAYBE]


def test_both_ends_are_known_and_not_what_is_between() -> None:
    found = uses(with_hot("[K1 green to SB-1, not known, K2 red from VB-2]"))
    assert found["K1 green: A to SB-1"] == found["K2 red: VB-2 to VB-3"] == [HOT]
    assert found["K2 red: SB-1 to VB-2"] == found["K2 blue: SB-1 to VB-3"] == [MAYBE]
    assert examined(with_hot("[K1 green, not known, K2 red]")).circuits.keys() == {"A1"}


def test_several_are_known_on_one_side() -> None:
    found = uses(with_hot("[K1 green, K2 red, not known]"))
    assert found["K1 green: A to SB-1"] == found["K2 red: SB-1 to VB-2"] == [HOT]
    assert found["K2 red: VB-2 to VB-3"] == [MAYBE]
    found = uses(with_hot("[not known, K1 green, K2 blue]"))
    assert found["K1 green: VB-1 to SB-1"] == found["K2 blue: SB-1 to VB-3"] == [HOT]
    assert found["K1 green: A to VB-1"] == [(Role.MAYBE_HOT, "A2"), MAYBE]


def test_in_brackets_alone_it_is_the_same_as_without() -> None:
    assert uses(with_hot("[not known]")) == uses(JOB)


def test_the_valves_of_a_twin_share_what_is_known_at_them() -> None:
    """One in VB-3, one in VB-2: the wire passes VB-2, and where it comes from nobody knows."""
    twin = "valves: {T1: {box: VB-2}, T2: {box: VB-3}}, hot: [not known, K2 red]"
    text = edit(JOB, "box: VB-3, hot: Not  Known", twin)
    found = examined(edit(text, "VB-2: {kind: pull box}", "VB-2: {}"))
    assert found.facts is not None and not found.has_errors
    leads = {load.id: load.hot_lead for load in found.facts.wiring.loads.values()}
    network = found.facts.network
    assert network.group(leads["T1"]) == network.group(leads["T2"])
    (stretch,) = found.facts.uses.stretches["K2 red"]
    assert (stretch.first, stretch.last) == ("SB-1", "VB-3")


@pytest.mark.parametrize(
    ("hot", "code", "words"),
    [
        ("[K1 green, not known, not known]", "value", "'not known' is twice in one hot"),
        ("[K3 pink, not known]", "hot-stops", "K3 pink does not reach 'A'"),
        ("[not known, K3 pink]", "hot-stops", "K3 pink does not reach 'VB-3'"),
        ("[K1 green, K9 red, not known]", "unknown-name", "K9"),
        ("[K1 red, not known]", "conductor-used-twice", "'K1 red' is given to A1 and to A3"),
        ("[K1 green, not sure]", "value", "'not sure' is not a value"),
    ],
)
def test_what_cannot_be_is_told(hot: str, code: str, words: str) -> None:
    problems = [p for p in examined(with_hot(hot)).problems if p.code != "not-known"]
    assert [problem.code for problem in problems] == [code]
    assert words in problems[0].sentence


def test_one_wire_from_end_to_end_has_no_gap() -> None:
    text = edit(JOB, "box: VB-1, hot: not known", "box: VB-1, hot: [K1 blue, not known, K1 blue]")
    problems = [p for p in examined(text).problems if p.code != "not-known"]
    assert [problem.code for problem in problems] == ["hot-unclear"]
    assert problems[0].help.startswith("leave 'not known' out")
