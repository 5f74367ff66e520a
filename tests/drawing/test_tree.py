"""The drawing in words: each cable from its controller, box by box, with all that is in it."""

from __future__ import annotations

from collections import Counter

import pytest
from hypothesis import given, settings

from cardgen.drawing import outline
from cardgen.drawing.drawing_parts import BoxLine, HomeRun, LineKind
from cardgen.examine import examine_text
from tests.checks.bases import completed
from tests.drawing.drawings import homes_of, of_sample
from tests.jobs import SAMPLES, edit, sample
from tests.property.jobs import Wish, plans, random_plan
from tests.property.plan import Plan

LARKSPUR = """\
CONTROLLER A · garage wall · 24 V AC
  white WH · terminal C · common A
  sensor RAIN · rain sensor · garage eave · on SEN
  A-K1, 85 ft (26 m), 7 × 18 AWG, for A1 to A3 and A6
  VB-1 · front walk · 12 x 17 in
    red RD · terminal 1 · valve A1 · front lawn west, spray
    blue BU · terminal 2 · valve A2 · front lawn east, spray
    white WH · common A · for A1 and A2
  A-K1, 60 ft (18 m), 7 × 18 AWG, for A3 and A6
  VB-2 · front bed · 12 x 17 in
    green GN · terminal 3 · valve A3 · front beds, drip
    yellow YE · terminal 6 · valve A6 · side beds, drip
    white WH · common A · for A3 and A6 · ends here
    orange OG · spare · ends here
    brown BN · spare · ends here
    dead · red RD, blue BU: cut in VB-1

CONTROLLER A · garage wall · 24 V AC
  white WH · terminal C · common A
  sensor RAIN · rain sensor · garage eave · on SEN
  A-K2, yellow tape, 140 ft (43 m), 5 × 18 AWG, for A4 and A5
  VB-3 · back lawn edge · 12 x 17 in
    red RD · terminal 4 · valve A4 · back lawn north, rotor
    blue BU · terminal 5 · valve A5 · back lawn south, rotor
    white WH · common A · for A4 and A5 · ends here
    green GN · spare · ends here
    yellow YE · spare · ends here
"""

QUARRY_A_K1 = """\
CONTROLLER A · pedestal, left · 24 V AC
  white WH · terminal C · common A
  A-K1, 220 ft (67 m), 13 × 18 AWG, for A1 to A8 and MV-1
  SB-1 · behind the entry sign · splice box · 12 x 17 in
    white WH · joined to A-S1 white WH · common A
    red RD · joined to A-S1 red RD (flag A1) · A1
    blue BU · joined to A-S1 red RD (flag A2) · A2 · color changes
    green GN · joined to A-S1 red RD (flag A3) · A3 · color changes
    yellow YE · joined to A-S1 red RD (flag A4) · A4 · color changes
    orange OG · joined to A-S1 red RD (flag A5) · A5 · color changes
    brown BN · joined to A-S1 red RD (flag A6) · A6 · color changes
    black BK · joined to A-S1 red RD (flag A7) · A7 · color changes
    pink PK · joined to A-S1 red RD (flag A8) · A8 · color changes
    violet VT · joined to A-S2 black BK (flag MV) · MV-1 · color changes
    gray GY · joined to A-S2 black BK (flag MV-RTN) · MV-1 · color changes
    tan TN · spare SP-1 · ends here
    light-blue LB · spare SP-2 · ends here
    A-S1, 80 ft (24 m), 11 × 14 AWG, for A1 to A8
    VB-1 · entry lawn · 12 x 17 in
      red RD (flag A1) · terminal 1 · valve A1 · entry lawn N · at controller A-K1 red
      red RD (flag A2) · terminal 2 · valve A2 · entry lawn S · at controller A-K1 blue
      red RD (flag A3) · terminal 3 · valve A3 · entry beds drip · at controller A-K1 green
      white WH · common A · for A1 to A3
    A-S1, 90 ft (27 m), 8 × 14 AWG, for A4 to A8
    VB-2 · parking island 2 · 12 x 17 in
      red RD (flag A4) · terminal 4 · valve A4 · parking island 1 · at controller A-K1 yellow
      red RD (flag A5) · terminal 5 · valve A5 · parking island 2 · at controller A-K1 orange
      red RD (flag A6) · terminal 6 · valve A6 · parking island 3 · at controller A-K1 brown
      white WH · common A · for A4 to A6
    A-S1, 130 ft (40 m), 5 × 14 AWG, for A7 and A8
    VB-3 · walk lawn at the stairs · 12 x 17 in
      red RD (flag A7) · terminal 7 · valve A7 · walk lawn W · at controller A-K1 black
      red RD (flag A8) · terminal 8 · valve A8 · walk lawn E · at controller A-K1 pink
      white WH · common A · for A7 and A8 · ends here
      orange OG (flag SP) · spare SP-3 · ends here
      blue BU (flag SP-COM) · spare SP-4 · reserved for spare common · ends here
      also in this box, shown separately: B-K1
      the commons of A and B must not touch
    A-S2, 60 ft (18 m), 2 × 14 AWG, for MV-1
    MVB-1 · beside the backflow cage · 12 x 17 in
      black BK (flag MV) · MV of A and B, isolating relays · master valve MV-1 · at controller A-K1 violet
      black BK (flag MV-RTN) · isol. relays · return of MV-1
"""  # noqa: E501


def lines(homes: tuple[HomeRun, ...]) -> list[BoxLine]:
    return [
        line
        for home in homes
        for some in (home.lines, *(stop.lines for stop in home.stops))
        for line in some
    ]


def test_larkspur_in_words() -> None:
    assert "\n".join(outline(home) for home in of_sample("larkspur")) == LARKSPUR


def test_the_first_home_run_of_quarry_in_words() -> None:
    assert outline(of_sample("quarry")[0]) == QUARRY_A_K1


@pytest.mark.parametrize(
    ("name", "cables"),
    [
        ("larkspur", [["A-K1"], ["A-K2"]]),
        ("quarry", [["A-K1", "A-S1", "A-S2"], ["A-K2"], ["B-K1"]]),
        ("sandpiper", [["P-K1"]]),
        (
            "heron",
            [
                *(["A-N"], ["A-S"], ["A-M"], ["A-P"], ["A-F"]),
                *(["B-E"], ["B-W"], ["C-1"], ["C-2"], ["D-M", "D-E", "D-W"]),
            ],
        ),
    ],
)
def test_each_cable_that_leaves_a_controller_is_a_home_run(
    name: str, cables: list[list[str]]
) -> None:
    assert [[run.cable for run in home.runs] for home in of_sample(name)] == cables


def test_home_runs_go_by_controller_in_whatever_order_the_cables_are_written() -> None:
    text = completed(
        """\
cables:
  K2: {gauge: 18 AWG, colors: [gray, brown, black, orange], run: [B, 140 ft, VB-3, 90 ft, VB-2]}
  K1: {gauge: 18 AWG, colors: [white, red, blue, green], run: [A, 85 ft, VB-1, 60 ft, VB-2]}
""",
        "two controllers",
    )
    assert [home.run.cable for home in homes_of(text)] == ["K1", "K2"]


@pytest.mark.parametrize("name", SAMPLES)
def test_every_coil_stands_in_its_box_once(name: str) -> None:
    facts = examine_text(sample(name)).facts
    assert facts
    found = {
        line.name.rpartition(" ")[2]: stop.title
        for home in of_sample(name)
        for stop in home.stops
        for line in stop.lines
        if line.kind is LineKind.VALVE
    }
    assert found == {load.id: load.box for load in facts.wiring.loads.values()}


def said(name: str, start: str) -> list[str]:
    """The lines of a sample's drawing that begin like this, without their indent."""
    every = "\n".join(outline(home) for home in of_sample(name)).splitlines()
    return [line.strip() for line in every if line.strip().startswith(start)]


def test_twins_name_each_other() -> None:
    assert said("quarry", "blue BU · terminal 10") == [
        "blue BU · terminal 10 · valve A10a · plaza lawn · twin, with A10b in VB-4",
        "blue BU · terminal 10 · valve A10b · plaza lawn · twin, with A10a in VB-4",
    ]


def test_master_valve_relay_and_sensor_with_their_own_returns() -> None:
    assert said("heron", "black BK") [:4] == [
        "black BK (flag MV) · terminal MV · master valve MV-A · normally open: power closes",
        "black BK (flag MV-RTN) · terminal C · return of MV-A",
        "black BK (flag PUMP) · terminal PUMP · relay PUMP-A · starts the pump",
        "black BK (flag PUMP-RTN) · terminal C · return of PUMP-A",
    ]  # fmt: skip
    assert said("heron", "red RD, black BK") == [
        "red RD, black BK · SEN · sensor FLOW-A · flow sensor · main line at FS-1"
    ]


def test_decoders_with_their_addresses_and_the_tee_of_the_path() -> None:
    assert said("heron", "decoder DC-203") == [
        "decoder DC-203 · address 203 · valve D3 · maple slope trees"
    ]
    assert said("heron", "red RD · joined to") == [
        "red RD · joined to D-E red RD and D-W red RD · path 1 of D"
    ]
    assert said("heron", "surge unit") == ["surge unit, grounded here"] * 3


def test_a_sensor_in_the_common_is_told_at_both_home_runs() -> None:
    words = "sensor RAIN-B · rain sensor · hall roof · its contact is in common B"
    assert said("heron", "sensor RAIN-B") == [words, words]


def test_a_box_that_all_conductors_pass_says_so() -> None:
    assert said("heron", "all conductors") == ["all conductors pass through: do not cut"] * 2


def test_an_extension_belongs_to_the_cable_it_is_joined_with() -> None:
    """Two home runs come to VB-5; what begins there is spliced to the second."""
    text = sample("quarry")
    text = edit(text, "  SP-7: {conductor: B-K1 tan, to: VB-8}\n", "")
    text = edit(text, "box: VB-5, hot: B-K1 orange", "box: VB-8, hot: B-K1 orange")
    text = edit(text, "common: B-K1 white", "common: [B-K1 white, B-X black]")
    text = edit(
        text,
        "\nboxes:\n",
        "  B-X: {gauge: 18 AWG, colors: [red, black], run: [VB-5, 60 ft, VB-9]}\n"
        "\nboxes:\n  VB-9: {place: far corner}\n",
    )
    text = edit(
        text,
        "\nmaster valves:\n",
        "  B11: {area: corner, box: VB-9, hot: [B-K1 tan, B-X red]}\n\nmaster valves:\n",
    )
    homes = {home.run.cable: home for home in homes_of(text)}
    assert [run.cable for run in homes["A-K2"].runs] == ["A-K2"]
    assert [run.cable for run in homes["B-K1"].runs] == ["B-K1", "B-X"]
    assert outline(homes["B-K1"]).splitlines()[13:19] == [
        "    tan TN · joined to B-X red RD · B11 · color changes",
        "    white WH · joined to B-X black BK · common B · for B3 and B4 · color changes",
        "    also in this box, shown separately: A-K2",
        "    the commons of A and B must not touch",
        "    B-X, 60 ft (18 m), 2 × 18 AWG, for B11",
        "    VB-9 · far corner",
    ]


def test_a_return_on_a_cable_of_another_home_run_is_told_at_the_valve() -> None:
    plan = random_plan(Wish(seed=2, stations=5, split=1.0))
    facts = examine_text(plan.text).facts
    assert facts
    told = 0
    for home in homes_of(plan.text):
        mine = {run.cable for run in home.runs}
        lines = (line for stop in home.stops for line in stop.lines)
        for line in (line for line in lines if line.kind is LineKind.VALVE):
            back = facts.circuits[line.name.rpartition(" ")[2]].back_at_valve
            apart = back.cable.id not in mine
            words = f"returns on {back.cable.id} {back.insulation.word}"
            assert (words in line.text) == apart
            told += apart
    assert told == 5


@settings(max_examples=30)
@given(plans())
def test_random_jobs_every_coil_once_and_every_leg_once(plan: Plan) -> None:
    facts = examine_text(plan.text).facts
    assert facts
    homes = homes_of(plan.text)
    coils = Counter(line.name.rpartition(" ")[2] for line in lines(homes) if _is_coil(line))
    assert coils == Counter(list(facts.wiring.loads))
    legs = Counter((s.stretch.cable, s.title) for home in homes for s in home.stops)
    run = [(c.id, stop.at) for c in facts.job.cables.values() for stop in c.run[1:]]
    assert legs == Counter(run)


def _is_coil(line: BoxLine) -> bool:
    return line.kind is LineKind.VALVE
