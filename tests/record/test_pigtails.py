"""The pages tell pigtails: in a box both ends, at the controller the wires that they bring to C.

By hand on the joints of the yard.
"""

from __future__ import annotations

from tests.cards.pigtails import AT_C, HEAD, TEXT, TWO_C, YARD
from tests.jobs import edit
from tests.record.records import tree, words
from tests.record.test_metal import files, page, part


def test_a_box_page_tells_both_ends_of_each_pigtail() -> None:
    joints = part(TEXT, "VB-1", "3. common A", "Pass through")
    assert joints == (
        "· connector: large"
        " white WH K1 · 18 AWG · from A"
        " white WH K1 · 18 AWG · to VB-2"
        " white WH PT-1 · 14 AWG · pigtail · 8 in · to splice 5"
        " 4. hot A5 · connector: small"
        " tan TN K1 · 18 AWG · from A"
        " PT-2, pigtail, 18 AWG, to splice 6"
        " 5. common A · connector: large"
        " white WH PT-1 · 14 AWG · pigtail · 8 in · from splice 3"
        " lead of A1"
        " white WH PT-3 · 14 AWG · pigtail · 8 in · to splice 7"
        " 6. hot A5 · connector: small"
        " PT-2, pigtail, 18 AWG, from splice 4"
        " blue BU K3 · 18 AWG · to VB-4"
        " 7. common A · connector: large"
        " white WH PT-3 · 14 AWG · pigtail · 8 in · from splice 5"
        " lead of A2"
        " white/black WH/BK K3 · 18 AWG · to VB-4"
    )


def test_every_wire_of_a_joint_has_the_same_small_picture() -> None:
    """What is in the box is many lines; the large picture is for the wires of a valve."""
    root = tree(files(TEXT)["VB-1/index.html"])
    (inside,) = (s for s in root.iter("section") if words(s).startswith("In the box"))
    looks = {
        node.get("class")
        for node in inside.iter()
        if any(str(child.tag).endswith("svg") for child in node)
    }
    assert looks == {"wire s"}


def test_in_spanish() -> None:
    found = page(TEXT, "ES_/VB-1")
    assert "blanco WH PT-1 · 14 AWG · cola (pigtail) · 8 in · va al empalme 5" in found
    assert "PT-2, cola (pigtail), 18 AWG, viene del empalme 4" in found
    assert "En un conector 2 conductores, por cola PT-C" in page(TEXT, "ES_/A")


def test_the_way_of_a_valve_goes_through_them() -> None:
    found = page(TEXT, "STATION_A5")
    assert (
        "tan TN K1 · 18 AWG · A to VB-1, 100 ft (30 m) pigtail PT-2 in VB-1"
        " blue BU K3 · 18 AWG · VB-1 to VB-4, 80 ft (24 m)" in found
    )
    assert (
        "white/black WH/BK K3 · 18 AWG · VB-1 to VB-4, 80 ft (24 m)"
        " pigtail PT-3 in VB-1 pigtail PT-1 in VB-1"
        " white WH K1 · 18 AWG · A to VB-1, 100 ft (30 m) pigtail PT-C in A" in found
    )


def test_a_controller_page_tells_what_comes_by_a_pigtail() -> None:
    assert part(TEXT, "A", "Terminal C", "Terminal 1") == (
        "Wire color here white WH K1 · 18 AWG · by pigtail PT-C Return for A1 to A3 and A5"
        " Wire color here white WH K2 · 18 AWG · by pigtail PT-C Return for A4"
        " In one connector 2 conductors, by pigtail PT-C"
    )


def test_each_wire_is_on_the_c_that_its_joint_names() -> None:
    joints = "    - [C 1, K2 white]\n    - [C 2, PT-C]\n    - [PT-C, K1 white]\n"
    text = edit(HEAD + TWO_C + YARD, AT_C, joints)
    assert part(text, "A", "Terminal C", "Terminal 1") == (
        "Wire color here white WH K2 · 18 AWG Return for A4"
        " Terminal C"
        " Wire color here white WH K1 · 18 AWG · by pigtail PT-C Return for A1 to A3 and A5"
    )
