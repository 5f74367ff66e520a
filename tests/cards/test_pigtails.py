"""What a pigtail links is one piece of metal, and each end of it is told as what it is.

Every expectation is counted by hand on the joints as they are written in the yard.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from cardgen.asbuilt import AsBuilt
from cardgen.cards import Card, CardKind, cards_of
from cardgen.cards.card import Splice, Wire
from cardgen.output.job_cards import JobCards
from cardgen.output.selection import Selection
from cardgen.words import load_words
from tests.cards.pigtails import AT_C, HEAD, PT_C, TEXT, TWO_C, YARD
from tests.cards.printables import listed, printable, read, rows
from tests.jobs import edit


def cards(text: str, kind: CardKind) -> dict[str, Card]:
    return {card.id: card for card in cards_of(printable(text), (kind,))[kind]}


def built(text: str) -> AsBuilt:
    return printable(text).asbuilt


def splices(text: str, box: str) -> list[Splice]:
    value = cards(text, CardKind.SPLICE_CARD)[box].fields["splices"]
    assert isinstance(value, tuple)
    return [each for each in value if isinstance(each, Splice)]


def said(wires: tuple[Wire, ...]) -> list[str]:
    return [f"{read(w.mark) if w.mark else w.name}: {read(w.about)}" for w in wires]


def strip(text: str, terminal: str = "C") -> list[tuple[str, str]]:
    """What the legend says of a terminal, and the color there."""
    found = rows(cards(text, CardKind.LEGEND)["A"].fields["terminals"])
    mine = [row for row in found if row["terminal"].split(" · ")[0] == terminal]
    return [(row["area"], row["wire color here"]) for row in mine]


# ---- splice cards ----------------------------------------------------------------------------


def test_a_joint_is_what_its_metal_is_also_beyond_pigtails() -> None:
    assert [each.title for each in splices(TEXT, "VB-1")] == [
        "1  HOT A1",
        "2  HOT A2",
        "3  COMMON A",
        "4  HOT A5",
        "5  COMMON A",  # a lead and two pigtails, no conductor
        "6  HOT A5",
        "7  COMMON A",
    ]


def test_a_pigtail_is_drawn_in_both_joints_with_the_number_of_the_other() -> None:
    *_, third, fourth, fifth, sixth, seventh = splices(TEXT, "VB-1")
    assert said(third.leaving) == [
        "K1 white: to VB-2, 18 AWG",
        "PT-1 white: pigtail, 14 AWG, 8 in, to splice 5",
    ]
    assert said(fourth.leaving) == ["PT-2: pigtail, 18 AWG, to splice 6"]
    assert said(fifth.arriving) == ["PT-1 white: pigtail, 14 AWG, 8 in, from splice 3"]
    assert said(fifth.leads) == ["A1: factory lead, 18 AWG"]
    assert said(fifth.leaving) == ["PT-3 white: pigtail, 14 AWG, 8 in, to splice 7"]
    assert said(sixth.arriving) == ["PT-2: pigtail, 18 AWG, from splice 4"]
    assert said(seventh.arriving) == ["PT-3 white: pigtail, 14 AWG, 8 in, from splice 5"]


def test_it_counts_in_both_connectors_and_a_change_of_color_is_told_where_the_new_begins() -> None:
    assert [each.about for each in splices(TEXT, "VB-1")[2:]] == [
        "1 × 14 AWG + 2 × 18 AWG · connector: large",
        "2 × 18 AWG · connector: small",
        "2 × 14 AWG + 1 × 18 AWG · connector: large",
        "color change: tan to blue · 2 × 18 AWG · connector: small",
        "color change: white to white/black · 1 × 14 AWG + 2 × 18 AWG · connector: large",
    ]


def test_a_connector_in_a_controller_is_bought_like_those_in_boxes() -> None:
    """Large: splices 3, 5 and 7 of VB-1, and at A the one in which PT-C takes two whites."""
    counted = {line.what.split(",")[0]: line.counted for line in listed(printable(TEXT))}
    assert counted["connector: large"] == 4
    (joint,) = built(TEXT).controllers[0].connectors
    assert [member.mark.cable for member in joint.members if member.mark] == ["PT-C", "K1", "K2"]


def test_in_spanish() -> None:
    spanish, _ = load_words(("es",))
    assert spanish is not None
    found = cards_of(
        replace(printable(TEXT), words=spanish), (CardKind.SPLICE_CARD, CardKind.LEGEND)
    )
    card = next(card for card in found[CardKind.SPLICE_CARD] if card.id == "VB-1")
    value = card.fields["splices"]
    assert isinstance(value, tuple)
    fifth = value[4]
    assert isinstance(fifth, Splice)
    assert said(fifth.arriving) == [
        "PT-1 blanco: cola (pigtail), 14 AWG, 8 in, viene del empalme 3"
    ]
    assert said(fifth.leaving) == ["PT-3 blanco: cola (pigtail), 14 AWG, 8 in, va al empalme 7"]
    (legend,) = found[CardKind.LEGEND]
    first = rows(legend.fields["terminals"])[0]
    assert first["área"] == "común para A1 a A3 y A5; 2 en un conector, por cola PT-C"


def test_the_return_of_a_master_valve_stays_its_own_through_a_pigtail() -> None:
    """The lead and the pigtail alone would be the common: at C all of it is one metal."""
    master = "{controllers: A, box: VB-2, hot: K1 black, return: K1 green}"
    joints = "[[K1 black, MV-1], [MV-1, PT-R], [PT-R, K1 green], [K1 gray, A3], [K1 white, A3]]"
    text = edit(TEXT, "gray, tan]", "gray, tan, green, black]")
    text = edit(text, "stations:\n  A1", f"master valves:\n  MV-1: {master}\nstations:\n  A1")
    text = edit(text, "  PT-C:", "  PT-R: {at: VB-2, gauge: 18 AWG}\n  PT-C:")
    text = edit(text, "  A:\n    - [C,", f"  VB-2: {joints}\n  A:\n    - [MV, K1 black]\n    - [C,")
    text = edit(text, "[PT-C, K1 white, K2 white]", "[PT-C, K1 white, K2 white, K1 green]")
    titles = [each.title for each in splices(text, "VB-2")]
    assert titles[1:3] == ["2  RETURN MV-1", "3  RETURN MV-1"]
    assert strip(text)[2] == ("return MV-1; 3 in one connector, by pigtail PT-C", "K1 green")


# ---- flags -----------------------------------------------------------------------------------


def test_a_flag_tells_the_change_of_color_that_goes_through_a_pigtail() -> None:
    """K1 white goes on in its own joint: one stretch from A to VB-2, no flag between."""
    found = cards(TEXT, CardKind.FLAG)
    pairs = {
        name: (read(card.fields["conductor"]), read(card.fields["conductor_2"]))
        for name, card in found.items()
        if "conductor_2" in card.fields
    }
    assert pairs == {
        "A5 K1 tan at VB-1": ("K1 tan", "K3 blue"),
        "A5 K3 blue at VB-1": ("K3 blue", "K1 tan"),
        "COM-A K3 white/black at VB-1": ("K3 white/black", "K1 white"),
    }


def test_no_flag_hangs_on_a_pigtail() -> None:
    """Stretches: five of K1, of which red, brown and tan are cut in VB-1; two of K2, two of K3."""
    found = cards(TEXT, CardKind.FLAG)
    assert len(found) == 2 * (5 + 3 + 2 + 2)
    assert not [name for name in found if "PT-" in name]


APART = "    - ['1', K1 red]\n    - ['2', K1 brown]\n"


def test_a_flag_that_serves_two_is_found_by_both() -> None:
    """Terminals 1 and 2 are linked on purpose: one metal, and each of its flags names both."""
    tied = edit(TEXT, "coil: usual, common", "coil: usual, jumpers: [[1, 2]], common")
    tied = edit(
        tied, "    - ['1', K1 red]\n    - ['2', K1 brown]\n", "    - ['1', '2', K1 red, K1 brown]\n"
    )
    job = printable(tied)
    said = JobCards(job).texts
    flag = said["flag A1 + A2 K1 red at A"]
    assert (flag.owner, flag.names, flag.controllers) == ("A1", ("A1", "A2"), ("A",))
    taken = [Selection(stations=(name,), only=("wire-flags",)) for name in ("A1", "A2")]
    one, other = (choice.chosen(said.values()) for choice in taken)
    assert (
        one
        == other
        == {
            f"flag A1 + A2 {wire} at {at}"
            for wire in ("K1 red", "K1 brown")
            for at in ("A", "VB-1")
        }
    )


def test_each_of_two_linked_terminals_has_a_wire_of_its_own_in_the_door() -> None:
    """In VB-1 both wires and both leads are in one joint too: what feeds A1 is on either."""
    tied = edit(TEXT, "coil: usual, common", "coil: usual, jumpers: [[1, 2]], common")
    tied = edit(tied, APART, "    - ['1', '2', K1 red, K1 brown]\n")
    tied = edit(
        tied,
        "    - [K1 red in, A1]\n    - [K1 brown in, A2]\n",
        "    - [K1 red in, K1 brown in, A1, A2]\n",
    )
    assert strip(tied, "1") == [("lawn; linked with 2; runs together with A2", "K1 brown")]
    assert strip(tied, "2") == [("beds; linked with 1; runs together with A1", "K1 red")]


# ---- terminals -------------------------------------------------------------------------------

BOTH = [
    ("common for A1 to A3 and A5; 2 in one connector, by pigtail PT-C", "K1 white"),
    ("common for A4; 2 in one connector, by pigtail PT-C", "K2 white"),
]


def test_the_wires_of_a_pigtail_are_on_its_terminal_each_once() -> None:
    assert strip(TEXT) == BOTH
    (terminal,) = (t for t in built(TEXT).controller["A"].terminals if t.name == "C")
    assert [wire.by for wire in terminal.wires] == [("PT-C",), ("PT-C",)]
    assert terminal.pigtails == ("PT-C",)
    assert terminal.counts == ()  # none is assumed


def test_a_pigtail_leads_on_to_a_second_connector() -> None:
    text = edit(
        TEXT, AT_C, "    - [C, PT-C]\n    - [PT-C, K1 white, PT-D]\n    - [PT-D, K2 white]\n"
    )
    text = edit(text, "  PT-C:", "  PT-D: {at: A, gauge: 14 AWG}\n  PT-C:")
    assert strip(text) == [
        ("common for A1 to A3 and A5; by pigtail PT-C", "K1 white"),
        ("common for A4; by pigtail PT-C and PT-D", "K2 white"),
    ]


def test_the_pigtail_of_a_station_is_told_too() -> None:
    text = edit(TEXT, "    - ['4', K2 red]\n", "    - ['4', PT-4]\n    - [PT-4, K2 red]\n")
    text = edit(text, "  PT-C:", "  PT-4: {at: A, gauge: 18 AWG}\n  PT-C:")
    assert strip(text, "4") == [("court; by pigtail PT-4", "K2 red")]


SENSOR = (
    "sensors: {RS-1: {kind: rain, controllers: A, contact: normally closed, "
    "in common: [K1 white, K2 white]}}\n"
)


BEHIND = "[PT-C, K1 white, K2 white]"


def _joints(*said: str) -> str:
    return "".join(f"    - {joint}\n" for joint in said)


@pytest.mark.parametrize(
    "joints",
    [
        _joints("[C, RS-1 C side]", "[RS-1 field side, PT-C]", BEHIND),
        _joints("[C, PT-C]", "[PT-C, RS-1 C side]", "[RS-1 field side, K1 white, K2 white]"),
    ],
)
def test_behind_the_contact_of_a_sensor(joints: str) -> None:
    assert strip(edit(TEXT, AT_C, joints) + SENSOR) == BOTH


def test_each_wire_stands_on_the_c_that_its_joint_names() -> None:
    """A strip [C, C, 1 to 5]: the wires exchanged, then both on the second by a pigtail."""
    without = HEAD + TWO_C + edit(YARD, PT_C, "")
    text = edit(without, AT_C, "    - [C 2, K1 white]\n    - [C 1, K2 white]\n")
    assert strip(text) == [
        ("common for A4", "K2 white"),
        ("common for A1 to A3 and A5", "K1 white"),
    ]
    second = edit(HEAD + TWO_C + YARD, "[C, PT-C]", "[C 2, PT-C]")
    assert strip(second) == [("empty", ""), *BOTH]
    # The contact of a sensor in the common is where the C before it is.
    joints = _joints("[C 2, RS-1 C side]", "[RS-1 field side, PT-C]", BEHIND)
    assert strip(edit(HEAD + TWO_C + YARD, AT_C, joints) + SENSOR) == [("empty", ""), *BOTH]


def test_where_nothing_names_the_c_all_is_on_the_first() -> None:
    text = edit(HEAD + TWO_C + edit(YARD, PT_C, ""), AT_C, "    - [C, K1 white, K2 white]\n")
    assert strip(text) == [
        ("common for A1 to A3 and A5; 2 in one connector, pigtail to C", "K1 white"),
        ("common for A4; 2 in one connector, pigtail to C", "K2 white"),
        ("same as the first C", ""),
    ]
