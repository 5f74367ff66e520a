"""Splice cards against what the sample jobs say is joined in each box."""

from __future__ import annotations

import pytest

from cardgen.cards import Card, CardKind
from cardgen.cards.card import Splice
from cardgen.cards.splice_cards import splice_cards
from cardgen.wiring.wiring_parts import Conductor, End
from tests.cards.printables import cards, facts_of, plain_rows, printable, read, rows
from tests.jobs import SAMPLES, edit, sample


def card(name: str, box: str) -> Card:
    return cards(name, CardKind.SPLICE_CARD)[box]


def splices(name: str, box: str) -> list[Splice]:
    value = card(name, box).fields["splices"]
    assert isinstance(value, tuple)
    return [each for each in value if isinstance(each, Splice)]


def spoken(splice: Splice) -> tuple[list[str], list[str], list[str]]:
    """In, out, leads."""
    return (
        [read(wire.mark) for wire in splice.arriving],
        [read(wire.mark) for wire in splice.leaving],
        [wire.name for wire in splice.leads],
    )


def test_a_common_with_three_valves_as_built() -> None:
    first, hot, twin = splices("quarry", "VB-4")
    assert first.title == "1  COMMON A"
    assert spoken(first) == (["A-K2 white"], ["A-K2 white"], ["A9", "A10a", "A10b"])
    assert [w.about for w in first.wires] == (
        ["from A, 18 AWG", *["factory lead, 18 AWG"] * 3, "to VB-5, 18 AWG"]
    )
    assert first.about == "5 × 18 AWG · connector: small"
    assert spoken(hot) == (["A-K2 red"], [], ["A9"])
    assert (twin.title, spoken(twin)[2]) == ("3  HOT A10", ["A10a", "A10b"])
    assert card("quarry", "VB-4").fields["state"] == "AS BUILT"
    assert card("quarry", "VB-1").fields["state"] == "NOT VERIFIED"


def test_a_change_of_color_is_said_at_its_joint() -> None:
    change = splices("quarry", "SB-1")[2]
    assert change.title == "3  HOT A2"
    assert spoken(change) == (["A-K1 blue"], ["A-S1 red (flag A2)"], [])
    assert change.about == "color change: blue to red · 1 × 14 AWG + 1 × 18 AWG · connector: large"


def test_what_passes_and_what_is_capped_is_said() -> None:
    fields = card("quarry", "VB-4").fields
    assert plain_rows(fields["passing"]) == [
        ("A-K2 green", "hot A11"),
        ("A-K2 yellow", "hot A12"),
        ("A-K2 orange", "hot A13"),
        ("A-K2 brown", "hot A14"),
    ]
    assert plain_rows(fields["spares"]) == (
        [("A-K2 black", "spare SP-5"), ("A-K2 pink", "spare SP-6")]
    )
    assert plain_rows(fields["capped"]) == (
        [("A-K2 red", "dead → VB-5"), ("A-K2 blue", "dead → VB-5")]
    )
    assert plain_rows(fields["connectors"]) == [("3 × small", "accepts 2–5 × 18 AWG")]


def test_beyond_its_cut_a_hot_is_dead_and_no_spare() -> None:
    fields = card("quarry", "VB-5").fields
    assert ("A-K2 red", "VB-4 → VB-6") in plain_rows(fields["dead"])  # cut in VB-4, for A9
    assert [row[1] for row in plain_rows(fields["spares"])] == (
        ["spare SP-5", "spare SP-6", "spare SP-7", "spare SP-8"]
    )


def test_conductors_told_apart_by_flags_share_a_row() -> None:
    passing = plain_rows(card("heron", "A-01").fields["passing"])
    assert passing == [("A-N red (flags A4–A24)", "21 conductors")]


def test_two_commons_must_not_touch() -> None:
    assert card("quarry", "VB-5").fields["notes"] == ("COM-A and COM-B must not touch.",)
    assert "notes" not in card("quarry", "VB-4").fields


def test_latching_leads_have_their_color() -> None:
    hot, back, *_ = splices("sandpiper", "VB-1")
    (lead,) = hot.leads
    assert lead.mark and (lead.mark.base, lead.mark.code, lead.name) == ("red", "RD", "P1")
    (lead,) = back.leads
    assert lead.mark and lead.mark.base == "black"


def test_a_decoder_is_joined_with_both_sides_of_the_path() -> None:
    one, two = splices("heron", "DX-1")
    assert (one.title, two.title) == ("1  PATH 1 OF D", "2  PATH 2 OF D")
    assert [wire.name for wire in (*one.leads, *two.leads)] == ["DC-201", "DC-201"]
    notes = card("heron", "DX-1").fields["notes"]
    assert notes == ("DC-201: its output leads go to D1 and to nothing else.",)


def test_without_connectors_the_class_is_not_known() -> None:
    text = edit(sample("larkspur"), "connectors:\n  small: {takes: [2-5 x 18 AWG]}\n", "")
    (found, *_) = cards_in(text)
    first = found.fields["splices"]
    assert isinstance(first, tuple) and isinstance(first[0], Splice)
    assert first[0].about == "2 × 18 AWG · connector: not known"


def cards_in(text: str) -> list[Card]:
    return list(splice_cards(printable(text)))


@pytest.mark.parametrize("name", SAMPLES)
def test_every_joint_of_every_box_is_on_its_card(name: str) -> None:
    """Each end of the wiring once; each conductor of a box is joined, passes or is capped."""
    facts = facts_of(name)
    wiring = facts.wiring
    for box in facts.job.boxes.values():
        joints = [j for j in wiring.joints if j.at == box.id and len(j.ends) > 1]
        if box.id == "FS-1":
            continue  # its joints are the sensor's, which stand in no line of the job
        if not joints:
            assert box.id not in cards(name, CardKind.SPLICE_CARD)
            continue
        shown = [wire for splice in splices(name, box.id) for wire in splice.wires]
        here = {e for c in wiring.conductors.values() for e in ends_in(c, box.id)}
        ends = [e for j in joints for e in j.ends if e in here or e.of not in wiring.conductors]
        assert len(shown) == len(ends)


def ends_in(conductor: Conductor, box: str) -> tuple[End, ...]:
    return conductor.ends_at(box) if box in conductor.places else ()


def test_a_single_that_goes_no_further_has_no_onward_side() -> None:
    hot = splices("sandpiper", "VB-1")[0]
    assert spoken(hot) == (["P-K1 red (flag P1)"], [], ["P1"])
    assert hot.about == "1 × 14 AWG + 1 × 18 AWG · connector: large"


def test_the_card_says_how_many_of_which_connector() -> None:
    connectors = rows(card("quarry", "VB-3").fields["connectors"])
    assert [row["conductor"] for row in connectors] == ["3 × large", "3 × small"]


# ---- sensors -------------------------------------------------------------------------------


def test_wires_of_a_sensor_are_joined_with_its_leads() -> None:
    """FS-1 holds nothing but the flow sensor's two wires."""
    red, black = splices("heron", "FS-1")
    assert (red.title, black.title) == ("1  SENSOR FLOW-A", "2  SENSOR FLOW-A")
    assert spoken(red) == (["A-F red"], [], ["FLOW-A"])
    assert spoken(black) == (["A-F black"], [], ["FLOW-A"])
    assert [wire.about for wire in red.wires] == ["from A, 18 AWG", "factory lead, not known"]
    assert red.about == "2 conductors, gauge of the leads not known"
    fields = card("heron", "FS-1").fields
    assert plain_rows(fields["connectors"]) == [("2 × not known", "")]
    assert fields["notes"] == (
        "FLOW-A: the job file does not say which lead goes where. See the maker's instructions.",
    )
    assert "capped" not in fields


FLOW_CABLE = "  A-F: {gauge: 18 AWG, palette: pair, shielded: yes, run: [A, 240 ft, FS-1]}\n"
FLOW_WIRES = "conductors: [A-F red, A-F black]"


def flow(cables: str, wires: str, box: str) -> dict[str, object]:
    """What the card of a box says where the flow sensor of heron is wired so."""
    text = edit(edit(sample("heron"), FLOW_CABLE, cables), FLOW_WIRES, f"conductors: [{wires}]")
    text = edit(text, "boxes:\n", "boxes:\n  FS-0: {kind: splice box}\n")
    return dict(next(c for c in cards_in(text) if c.id == box).fields)


def test_wires_of_a_sensor_that_go_on_are_joined_like_with_like() -> None:
    fields = flow(
        "  A-F: {gauge: 18 AWG, palette: pair, run: [A, 100 ft, FS-0]}\n"
        "  F-2: {gauge: 18 AWG, palette: pair, run: [FS-0, 100 ft, FS-1]}\n",
        "A-F red, A-F black, F-2 red, F-2 black",
        "FS-0",
    )
    assert [spoken(each) for each in fields["splices"]] == [  # type: ignore[attr-defined]
        (["A-F red"], ["F-2 red"], []),
        (["A-F black"], ["F-2 black"], []),
    ]
    assert "notes" not in fields


def test_wires_of_a_sensor_that_nothing_pairs_are_neither_joined_nor_capped() -> None:
    fields = flow(
        "  A-F: {gauge: 18 AWG, palette: pair, run: [A, 100 ft, FS-0]}\n"
        "  F-2: {gauge: 18 AWG, colors: [white, green], run: [FS-0, 100 ft, FS-1]}\n",
        "A-F red, A-F black, F-2 white, F-2 green",
        "FS-0",
    )
    assert fields["splices"] == ()
    assert "capped" not in fields and "passing" not in fields
    assert fields["notes"] == (
        (
            "FLOW-A: the job file does not say how A-F red, A-F black, F-2 white and F-2 green "
            "are joined here. Do not cap them."
        ),
    )


def test_a_conductor_of_the_sensor_cable_that_it_does_not_use_is_capped() -> None:
    cable = "  A-F: {gauge: 18 AWG, palette: pair, run: [A, 240 ft, FS-1]}\n".replace(
        "palette: pair", "colors: [red, black, green]"
    )
    fields = flow(cable, "A-F red, A-F black", "FS-1")
    assert plain_rows(fields["capped"]) == [("A-F green", "spare SP-A-F-3")]  # type: ignore[arg-type]
