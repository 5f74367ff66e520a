"""What every leg is, counted by hand on yards whose joints are written."""

from __future__ import annotations

from cardgen.examine import examine_text
from cardgen.facts import Facts

YARD = """
job: {{code: X-1, site: S, revision: 1, date: 2026-01-02}}
record: {{address: https://jobs.example.com, key: 7Q2F9KX4M3T8}}
palettes: {{five: [white, red, blue, green, tan]}}
coils: {{usual: {{supply: 24 V AC, resistance: 30 ohm}}}}
controllers:
  A: {{place: wall, supply: 24 V AC, stations: 4, coil: usual, common: K1 white}}
cables:
  K1: {{gauge: 18 AWG, palette: five, run: [A, 50 ft, VB-1, 50 ft, VB-2, 50 ft, VB-3]}}
boxes: {{VB-1: {{}}, VB-2: {{}}, VB-3: {{}}}}
stations:
  A1: {{area: one, box: VB-1, hot: K1 red}}
  A2: {{area: two, box: VB-3, hot: K1 blue}}
{more}
"""


def uses(more: str = "", yard: str = YARD) -> dict[str, list[tuple[str, str, str]]]:
    """By conductor without its cable: first and last place, uses as `hot A1`."""
    facts = examine_text(yard.format(more=more)).facts
    assert isinstance(facts, Facts)
    return {
        name.removeprefix("K1 "): [
            (s.first, s.last, " ".join(f"{u.role} {u.of}{u.side}" for u in s.uses))
            for s in stretches
        ]
        for name, stretches in facts.uses.stretches.items()
    }


def test_a_hot_ends_at_its_valve_and_a_common_goes_on() -> None:
    assert uses() == {
        "white": [("A", "VB-3", "common A")],
        "red": [("A", "VB-1", "hot A1"), ("VB-1", "VB-3", "")],
        "blue": [("A", "VB-3", "hot A2")],
        "green": [("A", "VB-3", "")],
        "tan": [("A", "VB-3", "")],
    }


def test_what_is_joined_with_a_hot_and_leads_nowhere_is_live() -> None:
    found = uses("joints: {VB-1: [[K1 red in, K1 green, A1], [K1 white in, K1 white out, A1]]}")
    assert found["green"] == [("A", "VB-3", "hot A1")]


def test_a_hot_that_rides_on_another_conductor_between_two_boxes() -> None:
    found = uses(
        "joints:\n"
        "  VB-1: [[K1 red in, A1], [K1 white in, K1 white out, A1], [K1 blue in, K1 tan out]]\n"
        "  VB-2: [[K1 tan in, K1 blue out]]"
    )
    assert found["blue"] == [
        ("A", "VB-1", "hot A2"),
        ("VB-1", "VB-2", ""),
        ("VB-2", "VB-3", "hot A2"),
    ]
    assert found["tan"] == [
        ("A", "VB-1", ""),
        ("VB-1", "VB-2", "hot A2"),
        ("VB-2", "VB-3", ""),
    ]


def test_a_conductor_on_a_terminal_on_which_nothing_hangs() -> None:
    found = uses("joints: {A: [[C, K1 white], [1, K1 red], [2, K1 blue], [4, K1 tan]]}")
    assert found["tan"] == [("A", "VB-3", "terminal A4")]


def test_a_master_valve_with_a_return_of_its_own() -> None:
    found = uses("master valves: {MV: {controllers: A, box: VB-2, hot: K1 green, return: K1 tan}}")
    assert found["tan"] == [("A", "VB-2", "return MV"), ("VB-2", "VB-3", "")]
    assert found["white"] == [("A", "VB-3", "common A")]


def test_a_common_cut_in_a_box_is_two_stretches() -> None:
    found = uses("joints: {VB-1: [[K1 red in, A1], [K1 white in, A1]]}")
    assert found["white"] == [("A", "VB-1", "common A"), ("VB-1", "VB-3", "")]


def test_the_hot_from_the_isolating_relays_of_a_shared_master_valve() -> None:
    """A master valve hangs on the relays alone, at its first controller."""
    shed = "  B: {{place: shed, supply: 24 V AC, stations: 4, coil: usual, common: K2 white}}\n"
    cable = "  K2: {{gauge: 18 AWG, palette: five, run: [B, 50 ft, VB-3]}}\n"
    found = uses(
        "master valves: {MV: {controllers: [A, B], isolators: [A, B], box: VB-2, "
        "hot: K1 green, return: K1 tan}}",
        YARD.replace("cables:\n", shed + "cables:\n" + cable),
    )
    assert found["green"] == [("A", "VB-2", "hot MV"), ("VB-2", "VB-3", "")]
    assert found["tan"] == [("A", "VB-2", "return MV"), ("VB-2", "VB-3", "")]


def test_a_common_is_cut_where_it_is_said_to_end_though_nothing_takes_it_there() -> None:
    two = YARD.replace("common: K1 white", "common: [K1 white to VB-2, K2 white]").replace(
        "boxes:",
        "  K2: {{gauge: 18 AWG, palette: five, band: tape, run: [A, 50 ft, VB-3]}}\nboxes:",
    )
    assert uses(yard=two)["white"] == [("A", "VB-2", "common A"), ("VB-2", "VB-3", "")]
