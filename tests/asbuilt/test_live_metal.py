"""From which controllers something can be live in a place: traced by hand.

A ===[K1]=== VB-1 ===[K2 violet, pink]=== SB-1 ===[K2]=== VB-2
B ===[K3]=== VB-1                       B ===[K4 gray, black]=== VB-2

The hot of B1 goes by VB-1 and SB-1; its common comes to VB-2 by another cable.
"""

from __future__ import annotations

from cardgen.asbuilt import as_built
from tests.checks.bases import completed
from tests.jobs import edit, examined

YARD = """\
controllers:
  A: {place: wall, supply: 24 V AC, stations: 8, coil: usual, common: K1 white}
  B: {place: shed, supply: 24 V AC, stations: 8, coil: usual, common: [K3 gray, K4 gray]}
cables:
  K1: {gauge: 18 AWG, colors: [white, red, blue, tan], run: [A, 9 ft, VB-1]}
  K2: {gauge: 18 AWG, colors: [violet, pink], run: [VB-1, 9 ft, SB-1, 9 ft, VB-2]}
  K3: {gauge: 18 AWG, colors: [gray, brown, orange], run: [B, 9 ft, VB-1]}
  K4: {gauge: 18 AWG, colors: [gray, black], run: [B, 9 ft, VB-2]}
boxes: {VB-1: {}, VB-2: {}, SB-1: {kind: splice box}}
stations:
  A1: {area: lawn, box: VB-1, hot: K1 red}
  B1: {area: beds, box: VB-2, hot: [K3 brown, K2 violet]}
"""


def live_in(text: str) -> dict[str, tuple[str, ...]]:
    facts = examined(text).facts
    assert facts is not None
    return {box.id: box.controllers for box in as_built(facts).boxes}


def test_a_hot_without_its_common_is_live_from_its_controller() -> None:
    assert live_in(completed(YARD)) == {"VB-1": ("A", "B"), "VB-2": ("B",), "SB-1": ("B",)}


def test_a_box_that_only_free_conductors_pass_is_live_from_none() -> None:
    text = edit(YARD, "hot: [K3 brown, K2 violet]", "hot: K4 black")
    assert live_in(completed(text)) == {"VB-1": ("A", "B"), "VB-2": ("B",), "SB-1": ()}


def test_the_hot_of_a_master_valve_is_live_from_all_that_share_it() -> None:
    shared = (
        "master valves: {MV: {controllers: [B, A], isolators: [A, B], box: VB-2, "
        "hot: [K3 brown, K2 violet], return: [K3 orange, K2 pink]}}\n"
    )
    text = edit(YARD, "hot: [K3 brown, K2 violet]", "hot: K4 black") + shared
    assert live_in(completed(text))["SB-1"] == ("A", "B")


def test_every_controller_that_shares_a_master_valve_is_live_from_the_others() -> None:
    """The wires to the isolating relays hang on the terminals of both."""
    shared = "master valves: {MV: {controllers: [B, A], isolators: [A, B], box: VB-1, hot: K1 tan}}"
    facts = examined(completed(YARD + shared)).facts
    assert facts is not None
    assert {c.id: c.controllers for c in as_built(facts).controllers} == {
        "A": ("A", "B"),
        "B": ("A", "B"),
    }
    alone = examined(completed(YARD)).facts
    assert alone is not None
    assert {c.id: c.controllers for c in as_built(alone).controllers} == {"A": ("A",), "B": ("B",)}


def test_a_box_with_a_controller_or_a_wire_of_a_sensor_is_live_from_that() -> None:
    text = edit(YARD, "B: {place: shed,", "B: {place: shed, box: VB-3,")
    text = edit(text, "boxes: {", "boxes: {VB-3: {}, FS-1: {kind: splice box}, ")
    cable = "  K5: {gauge: 18 AWG, colors: [black, red], shielded: yes, run: [A, 9 ft, FS-1]}\n"
    text = edit(text, "boxes:", cable + "boxes:")
    text += "sensors: {FL: {kind: flow, controllers: A, conductors: [K5 black, K5 red]}}\n"
    live = live_in(completed(text))
    assert (live["VB-3"], live["FS-1"]) == (("B",), ("A",))


def test_a_ring_is_told_where_it_comes_through() -> None:
    """The common of B goes K3, VB-1, K2 pink, VB-2 and K4 back to B; A has no ring."""
    ring = edit(YARD, "[K3 gray, K4 gray]", "[K3 gray, K2 pink, K4 gray]") + (
        "joints:\n"
        "  VB-2: [[K2 violet, B1], [K2 pink, K4 gray, B1]]\n"
        "  VB-1: [[K1 white, A1], [K1 red, A1], [K3 brown, K2 violet], [K3 gray, K2 pink]]\n"
    )
    facts = examined(completed(edit(ring, "SB-1: {kind", "PB-9: {}, SB-1: {kind"))).facts
    assert facts is not None
    assert {box.id: box.rings for box in as_built(facts).boxes} == {
        **dict.fromkeys(("VB-1", "VB-2", "SB-1"), ("B",)),
        "PB-9": (),
    }
