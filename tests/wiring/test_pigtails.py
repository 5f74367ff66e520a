"""A joint that goes on in a further connector by a pigtail; and which C a wire is on.

Ways and ohms by hand; ohms per 1000 ft of solid copper at 20 C from NBS Handbook 100.
"""

from __future__ import annotations

import pytest

from cardgen.electrics.loops import hot_to_hot
from cardgen.examine import Examined
from cardgen.owners import station
from cardgen.wiring.wiring_parts import Leg, Step, ThroughPigtail
from tests.checks.trench import found_in, marked
from tests.jobs import examined
from tests.wiring.trench import job

OHMS_PER_FT = {14: 2.525 / 1000, 18: 6.385 / 1000}

CABLES = """
cables:
  K1:
    gauge: 18 AWG
    colors: [white, red, brown, gray, tan, green]
    run: [A, 100 ft, VB-1, 50 ft, VB-2]
  K2: {gauge: 18 AWG, colors: [white, red, blue], run: [A, 80 ft, VB-3]}
boxes: {VB-1: {}, VB-2: {}, VB-3: {}}
connectors: {small: {takes: [2-3 x 18 AWG, 2-3 x 18 AWG + 1 x 14 AWG, 1 x 14 AWG + 1 x 18 AWG]}}
stations:
  A1: {area: a, box: VB-1, hot: K1 red}
  A2: {area: b, box: VB-1, hot: K1 brown}
  A3: {area: c, box: VB-2, hot: K1 gray}
  A4: {area: d, box: VB-3, hot: K2 red}
"""
PIGTAILS = """\
pigtails:
  PT-1: {at: VB-1, gauge: 14 AWG, color: white, length: 24 in}
  PT-2: {at: A, gauge: 14 AWG}
"""
JOINTS = """\
joints:
  VB-1:
    - [K1 red in, A1]
    - [K1 brown in, A2]
    - [K1 white in, A1, PT-1]
    - [PT-1, K1 white out, A2]
  A:
    - [C, PT-2]
    - [PT-2, K1 white, K2 white]
    - ['1', K1 red]
    - ['2', K1 brown]
    - ['3', K1 gray]
    - ['4', K2 red]
"""
BOTH = "[K1 white, K2 white]"
GOOD = job(CABLES + PIGTAILS + JOINTS, BOTH)


def told(found: Examined, text: str) -> list[str]:
    return [one.split(maxsplit=1)[1] for one in found_in(text, found.problems)]


def words(steps: tuple[Step, ...]) -> str:
    return " ".join(
        s.end if isinstance(s, Leg) else s.pigtail.id if isinstance(s, ThroughPigtail) else s.sensor
        for s in steps
    )


def test_a_common_goes_on_through_pigtails() -> None:
    found = examined(GOOD)
    assert told(found, GOOD) == []
    assert {name: words(circuit.back) for name, circuit in found.circuits.items()} == {
        "A1": "PT-2 VB-1",
        "A2": "PT-2 VB-1 PT-1",
        "A3": "PT-2 VB-1 PT-1 VB-2",
        "A4": "PT-2 VB-3",
    }


def test_a_pigtail_has_ohms_where_its_length_is_said() -> None:
    readings = examined(GOOD).facts.readings  # type: ignore[union-attr]
    wire = 200 * OHMS_PER_FT[18]
    pigtail = 2 * OHMS_PER_FT[14]
    assert readings["A1"].ohms == pytest.approx(30 + wire, abs=2e-4)
    assert readings["A2"].ohms == pytest.approx(30 + wire + pigtail, abs=2e-4)


def test_volts_are_lost_in_a_pigtail_too() -> None:
    text = GOOD.replace("resistance: 30 ohm", "resistance: 30 ohm, inrush: 0.4 A, holding: 0.2 A")
    facts = examined(text).facts
    assert facts is not None
    wire, pigtail = 200 * OHMS_PER_FT[18], 2 * OHMS_PER_FT[14]
    inrush = {name: facts.readings[name].volts[name] for name in ("A1", "A2")}
    assert inrush["A1"] == pytest.approx(24 - 0.4 * wire, abs=2e-4)
    assert inrush["A2"] == pytest.approx(24 - 0.4 * (wire + pigtail), abs=2e-4)
    holding = facts.running["A2"].low["A2"]
    assert holding == pytest.approx(24 - 0.2 * (wire + pigtail), abs=2e-4)


def test_two_valves_on_both_sides_of_a_pigtail_meet() -> None:
    found = examined(GOOD)
    assert found.network is not None
    band = hot_to_hot(found.circuits["A1"], found.circuits["A2"], found.network)
    assert band is not None
    assert band[0] == pytest.approx(60 + 200 * OHMS_PER_FT[18] + 2 * OHMS_PER_FT[14], abs=3e-4)
    assert hot_to_hot(found.circuits["A1"], found.circuits["A3"], found.network) is None


def test_two_pigtails_side_by_side_are_a_ring() -> None:
    """Two alike in parallel have half the ohms."""
    text = GOOD.replace("  PT-2:", "  PT-3: {at: VB-1, gauge: 14 AWG, length: 24 in}\n  PT-2:")
    text = text.replace("PT-1]", "PT-1, PT-3]").replace("[PT-1,", "[PT-3, PT-1,")
    found = examined(text)
    assert found.circuits["A2"].ring
    ohms = found.facts.readings["A2"].ohms  # type: ignore[union-attr]
    assert ohms == pytest.approx(30 + 200 * OHMS_PER_FT[18] + OHMS_PER_FT[14], abs=2e-4)


def test_a_hot_goes_on_through_a_pigtail() -> None:
    body = CABLES.replace("hot: K1 gray", "hot: [K1 gray, K1 tan]")
    joints = JOINTS.replace("  A:\n", "    - [K1 gray in, PT-3]\n    - [PT-3, K1 tan out]\n  A:\n")
    pigtails = PIGTAILS + "  PT-3: {at: VB-1, gauge: 18 AWG}\n"
    text = job(body + pigtails + joints, BOTH)
    found = examined(text)
    assert words(found.circuits["A3"].hot) == "VB-1 PT-3 VB-2"
    assert told(found, text) == ["note color-change @ VB-1"]


@pytest.mark.parametrize("hot", ["[K2 blue, K3 pink]", "K2 blue"])
def test_a_hot_is_carried_on_through_a_pigtail(hot: str) -> None:
    """Whether the station names what goes on behind the pigtail or leaves it to the joints."""
    text = job(
        CABLES.replace(
            "boxes: {",
            "  K3: {gauge: 18 AWG, colors: [gold, pink], "
            "run: [VB-3, 10 ft, VB-4]}\nboxes: {VB-4: {}, ",
        )
        + f"  A5: {{area: e, box: VB-4, hot: {hot}}}\n"
        + PIGTAILS
        + "  PT-3: {at: VB-3, gauge: 18 AWG}\n"
        + JOINTS.replace("    - ['4', K2 red]\n", "    - ['4', K2 red]\n    - ['5', K2 blue]\n")
        + "  VB-3:\n    - [K2 red, A4]\n    - [K2 white, A4, K3 gold]\n"
        "    - [K2 blue, PT-3]\n    - [PT-3, K3 pink]\n",
        "[K1 white, K2 white, K3 gold]",
    )
    found = examined(text)
    assert words(found.circuits["A5"].hot) == "VB-3 PT-3 VB-4"
    assert [one for one in told(found, text) if one.startswith("error")] == []
    assert found.facts is not None
    assert found.facts.users["K3 pink"] == {station("A5")}


def test_the_gauge_of_a_pigtail_counts_in_both_connectors() -> None:
    text = GOOD.replace("PT-1: {at: VB-1, gauge: 14", "PT-1: {at: VB-1, gauge: 12")
    assert told(examined(text), text) == ["error connector-overfilled @ ["]
    (problem,) = examined(text).problems
    assert "has 1 x 12 AWG + 2 x 18 AWG (K1 white in, A1, PT-1)" in problem.sentence


def test_what_a_joint_needs_is_shown_in_the_words_of_the_file() -> None:
    """The help of an overfilled joint, put into the file as it stands, mends it."""
    body = job(CABLES, BOTH)
    found = {p.code: p for p in examined(body).problems}
    assert "'pigtails: {PT-1: {at: VB-1, gauge: 18 AWG}}'" in found["connector-overfilled"].help
    shown = found["several-commons"].help
    assert "'pigtails: {PT-1: {at: A, gauge: 18 AWG}}'" in shown
    assert "'A: [[C, PT-1], [PT-1, K1 white, K2 white]]'" in shown


C_NAMED = (
    GOOD.replace("  PT-2: {at: A, gauge: 14 AWG}\n", "")
    .replace("[C, PT-2]", "[C 1, K1 white]")
    .replace("[PT-2, K1 white, K2 white]", "[C 2, K2 white]")
)
TWO_C = C_NAMED.replace("stations: 8,", "stations: 8, terminals: [C, C, 1 to 8],")


def test_which_c_a_wire_is_on() -> None:
    found = examined(TWO_C)
    assert told(found, TWO_C) == []
    assert found.wiring is not None
    which = {
        end.of: joint.which for joint in found.wiring.joints for end in joint.ends if joint.which
    }
    assert which == {"A": 2, "K1 white": 1, "K2 white": 2}
    assert words(found.circuits["A4"].back) == "VB-3"


NOT_WRITTEN = (
    GOOD.replace("[C, PT-2]", "[C, K1 white]")
    .replace("[PT-2, K1 white,", "[C,")
    .replace("PT-2: {at: A", "PT-2: {at: VB-3")
)
APART = GOOD.replace("[PT-1, K1", "[K1")
LINKS_NOTHING = {
    "the strip of A has 2 C, so there is no 'C 3'": (TWO_C.replace("C 2", "C 3"), "C 3"),
    "the strip of A has 1 C, so there is no 'C 2'": (C_NAMED.replace("C 1", "C"), "C 2"),
    "PT-1 is in one joint of 'VB-1'": (APART, "PT-1"),
    "PT-1 is in more than two joints: a pigtail has two ends": (
        GOOD.replace("[K1 red in, A1]", "[K1 red in, A1, PT-1]"),
        "PT-1",
    ),
    "PT-1 is in no joint of 'VB-1'": (APART.replace("A1, PT-1]", "A1]"), "PT-1"),
    "both ends of PT-1 are in one joint": (
        APART.replace("A1, PT-1]", "A1, PT-1, PT-1]"),
        "PT-1",
    ),
    "'PT-1 out' is not an end of a pigtail": (
        GOOD.replace("[PT-1, K1", "[PT-1 out, K1"),
        "PT-1 out",
    ),
    "PT-1 is in 'A', not in 'VB-1'": (GOOD.replace("PT-1: {at: VB-1", "PT-1: {at: A"), "PT-1"),
    "the joints of 'VB-3' are not written, so nothing says what PT-2 links": (NOT_WRITTEN, "PT-2"),
    "'PT-1' is neither a conductor nor a valve": (
        GOOD.replace("PT-1: {at: VB-1", "PT-9: {at: VB-1"),
        "PT-1",
    ),
}


@pytest.mark.parametrize("sentence", LINKS_NOTHING)
def test_a_pigtail_that_links_nothing(sentence: str) -> None:
    text, place = LINKS_NOTHING[sentence]
    errors = [one for one in examined(text).problems if one.verdict == "error"]
    assert [(one.code, one.sentence, marked(text, one)) for one in errors] == [
        ("joint", sentence, place)
    ]
