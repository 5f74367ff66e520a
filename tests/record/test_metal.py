"""What the pages say of a conductor is what metal makes of it, stretch by stretch.

Every expectation is counted by hand on the joints as they are written in each job.
"""

from __future__ import annotations

import re
from functools import lru_cache
from pathlib import Path

from tests.jobs import edit, sample
from tests.record.records import BOTH, made, tree, words

HEAD = """
job: {code: METAL-1, site: Test yard, revision: 1, date: 2026-03-14}
record: {address: https://jobs.example.com, key: 7Q2F9KX4M3T8}
palettes: {five: [white, red, blue, green, yellow]}
coils:
  usual: {supply: 24 V AC, resistance: 30 ohm, inrush: 0.40 A, holding: 0.23 A, minimum: 20 V}
"""
# White and three hots in one cable through three boxes; green goes on from A1's hot in VB-1.
LIVE = f"""{HEAD}
controllers:
  A: {{place: wall, supply: 24 V AC, stations: 4, coil: usual, common: K1 white}}
cables:
  K1: {{gauge: 18 AWG, palette: five, run: [A, 85 ft, VB-1, 60 ft, VB-2, 40 ft, VB-3]}}
boxes: {{VB-1: {{place: walk}}, VB-2: {{}}, VB-3: {{place: fence}}}}
stations:
  A1: {{area: lawn, box: VB-1, hot: K1 red}}
  A2: {{area: beds, box: VB-3, hot: K1 blue}}
joints:
  VB-1:
    - [K1 red in, K1 green out, A1]
    - [K1 white, A1]
"""
# Two hots exchange their colors in VB-1: red and blue of one cable.
EXCHANGED = f"""{HEAD}
controllers:
  A: {{place: wall, supply: 24 V AC, stations: 4, coil: usual, common: K1 white}}
cables:
  K1: {{gauge: 18 AWG, palette: five, run: [A, 85 ft, VB-1, 60 ft, VB-2]}}
boxes: {{VB-1: {{place: walk}}, VB-2: {{place: fence}}}}
stations:
  A3: {{area: lawn, box: VB-2, hot: K1 red}}
  A4: {{area: beds, box: VB-2, hot: K1 blue}}
joints:
  VB-1:
    - [K1 red in, K1 blue out]
    - [K1 blue in, K1 red out]
  VB-2:
    - [K1 blue, A3]
    - [K1 red, A4]
    - [K1 white, A3, A4]
"""
# The white of K1 ends at A1 in VB-1; from VB-2 on it is fed by K2: between them it is dead.
CUT = f"""{HEAD}
controllers:
  A: {{place: wall, supply: 24 V AC, stations: 4, coil: usual, common: [K1 white, K2 white]}}
cables:
  K1: {{gauge: 18 AWG, palette: five, run: [A, 85 ft, VB-1, 60 ft, VB-2, 40 ft, VB-3]}}
  K2: {{gauge: 18 AWG, palette: five, band: tape, run: [A, 150 ft, VB-2]}}
boxes: {{VB-1: {{place: walk}}, VB-2: {{place: oak}}, VB-3: {{place: fence}}}}
stations:
  A1: {{area: lawn, box: VB-1, hot: K1 red}}
  A2: {{area: beds, box: VB-3, hot: K1 blue}}
joints:
  VB-1:
    - [K1 red in, A1]
    - [K1 white in, A1]
  VB-2:
    - [K2 white, K1 white out]
  VB-3:
    - [K1 blue, A2]
    - [K1 white, A2]
"""


@lru_cache
def files(text: str) -> dict[str, bytes]:
    return dict(made(text, Path("nowhere"), BOTH).files)


def page(text: str, name: str) -> str:
    """The words of a page from its own contents to the cautions."""
    found = words(files(text)[f"{name}/index.html"])
    return found.partition(" Cautions ")[0].partition(" Precauciones ")[0]


def part(text: str, name: str, start: str, end: str = "$") -> str:
    """What stands on a page below a heading, up to the next."""
    found = re.search(f"{start} (.*?)(?: {end}|$)", page(text, name))
    assert found, page(text, name)
    return found[1]


def spares(text: str, name: str) -> str:
    """What stands on a page below the heading of its spares, dead ones left out."""
    if name == "SPARE_LIST":
        return page(text, name).partition("Dead: no controller feeds them")[0]
    return part(text, name, "Spares here")


# ---- a conductor is what it is joined to ---------------------------------------------------


def test_what_hangs_on_a_hot_beyond_its_box_is_that_hot_and_no_spare() -> None:
    """Green touches the red of A1 in VB-1: from there on it is live while A1 runs."""
    for name in ("VB-2", "VB-3"):
        assert "green" not in spares(LIVE, name), name
    assert "green GN K1 · 18 AWG · hot A1" in part(LIVE, "VB-2", "Pass through: do not cut")
    capped = part(LIVE, "VB-3", "Capped ends", "Spares here")
    assert "green GN K1 · 18 AWG · to VB-2, hot A1" in capped
    # From the controller to VB-1 nothing is on it, and its end there is capped.
    assert "green GN K1 · 18 AWG · A to VB-1, ends here" in spares(LIVE, "VB-1")
    assert "green GN K1 · 18 AWG · A to VB-1 " in spares(LIVE, "SPARE_LIST")
    assert "green GN K1 · 18 AWG · A to VB-3" not in spares(LIVE, "SPARE_LIST")


def test_a_conductor_joined_to_a_hot_uncut_is_no_spare_at_all() -> None:
    text = edit(LIVE, "K1 green out", "K1 green")
    for name in ("VB-1", "VB-2", "VB-3", "SPARE_LIST"):
        assert "green" not in spares(text, name), name
    assert "Hot A1 green GN" not in page(text, "A")  # no terminal has it by a joint of its own


# The way of A2 goes over to green in VB-1 and back to blue in VB-2.
MIDDLE = edit(
    LIVE,
    "    - [K1 red in, K1 green out, A1]\n    - [K1 white, A1]",
    "    - [K1 red in, A1]\n    - [K1 white, A1]\n    - [K1 blue in, K1 green out]\n"
    "  VB-2:\n    - [K1 green in, K1 blue out]",
)


def test_a_middle_leg_on_another_conductor_is_told_on_that_one() -> None:
    assert "green GN K1 · 18 AWG · A to VB-1 " in spares(MIDDLE, "SPARE_LIST")
    assert spares(MIDDLE, "SPARE_LIST").count("A to VB-3") == 1  # the yellow, untouched
    dead = page(MIDDLE, "SPARE_LIST").partition("Dead: no controller feeds them")[2]
    assert "blue BU K1 · 18 AWG · dead, VB-1 to VB-2" in dead
    assert "green GN K1 · 18 AWG · dead, VB-2 to VB-3" in dead
    joints = part(MIDDLE, "VB-2", "Splices", "Pass through")
    assert "1. hot A2 " in joints and "green GN" in joints and "blue BU" in joints


def test_the_middle_conductor_of_a_way_has_its_pattern_on_the_page() -> None:
    """Green is neither at the valve of A2 nor at the controller: it stands in the way alone."""
    root = tree(files(MIDDLE)["STATION_A2/index.html"])
    drawn = {node.get("id") for node in root.iter() if str(node.tag).endswith("symbol")}
    used = {node.get("href") for node in root.iter() if str(node.tag).endswith("use")}
    assert "#s-green" in used
    assert used == {f"#{name}" for name in drawn}


def test_a_dead_stretch_is_told_as_dead_and_offered_to_nobody() -> None:
    assert "white" not in spares(CUT, "VB-1")
    capped = part(CUT, "VB-1", "Capped ends", "Spares here")
    assert "white WH K1 · 18 AWG · to VB-2, dead, VB-1 to VB-2" in capped
    assert "red RD K1 · 18 AWG · to VB-2, dead, VB-1 to VB-3" in capped
    passing = part(CUT, "VB-2", "Pass through: do not cut", "Capped ends")
    assert passing == "blue BU K1 · 18 AWG · hot A2 red RD K1 · 18 AWG · dead, VB-1 to VB-3"
    offered, _, dead = page(CUT, "SPARE_LIST").partition("Dead: no controller feeds them")
    assert "white" not in offered
    assert "white WH K1 · 18 AWG · dead, VB-1 to VB-2" in dead
    found = words(files(CUT)["FIND_IN_JOB/index.html"])
    offered, _, dead = found.partition("Dead: no controller feeds them")
    assert "VB-1 to VB-2" not in offered and "K1 white WH · VB-1 to VB-2" in dead


def test_dead_is_said_in_the_language_of_the_page() -> None:
    assert "muerto, VB-1 a VB-2" in page(CUT, "ES_/VB-1")
    assert "Muertos: ningún controlador los alimenta" in page(CUT, "ES_/SPARE_LIST")


# As CUT, and the white of controller B passes VB-2 too; the white of A is dead there.
TWO = f"""{HEAD}
controllers:
  A: {{place: wall, supply: 24 V AC, stations: 4, coil: usual, common: [K1 white, K2 white]}}
  B: {{place: shed, supply: 24 V AC, stations: 4, coil: usual, common: K3 white}}
cables:
  K1: {{gauge: 18 AWG, palette: five, run: [A, 85 ft, VB-1, 60 ft, VB-2, 40 ft, VB-3]}}
  K2: {{gauge: 18 AWG, palette: five, band: tape, run: [A, 190 ft, VB-3]}}
  K3: {{gauge: 18 AWG, palette: five, run: [B, 20 ft, VB-2]}}
boxes: {{VB-1: {{place: walk}}, VB-2: {{place: oak}}, VB-3: {{place: fence}}}}
stations:
  A1: {{area: lawn, box: VB-1, hot: K1 red}}
  A2: {{area: beds, box: VB-3, hot: K2 blue}}
  B1: {{area: oak ring, box: VB-2, hot: K3 red}}
joints:
  VB-1:
    - [K1 red in, A1]
    - [K1 white in, A1]
  VB-3:
    - [K2 blue, A2]
    - [K2 white, A2]
"""


def test_commons_must_not_touch_only_where_both_are_live() -> None:
    """In VB-2 the white of A comes from a cut end and goes to a capped one."""
    assert "must not touch" not in page(TWO, "VB-2")
    # Where it is whole it is live in VB-2 too, and both of them are there.
    whole = edit(TWO, "    - [K1 white in, A1]", "    - [K1 white, A1]")
    assert "Commons COM-A, COM-B must not touch." in page(whole, "VB-2")


def test_each_joint_of_exchanged_hots_is_headed_by_the_one_that_it_is() -> None:
    """Red of terminal 3 goes on in blue to A3, blue of terminal 4 in red to A4."""
    first, second = part(EXCHANGED, "VB-1", "Splices", "Pass through").split(" 2. ")
    assert "1. hot A3 · connector" in first and "A4" not in first
    assert "red RD K1 · 18 AWG · from A blue BU K1 · 18 AWG · to VB-2" in first
    assert second.startswith("hot A4 · connector") and "A3" not in second
    joints = part(EXCHANGED, "VB-2", "Splices", "Spares here")
    assert "1. hot A3 · connector: not known blue BU K1 · 18 AWG · from VB-1 lead of A3" in joints
    assert "2. hot A4 · connector: not known red RD K1 · 18 AWG · from VB-1 lead of A4" in joints


# ---- controllers ---------------------------------------------------------------------------

# B stands half way along the cable: its common and its hot leave it onward only.
HALFWAY = f"""{HEAD}
controllers:
  A: {{place: wall, supply: 24 V AC, stations: 4, coil: usual, common: K1 white}}
  B: {{place: shed, supply: 24 V AC, stations: 4, coil: usual, common: K1 yellow}}
cables:
  K1: {{gauge: 18 AWG, palette: five, run: [A, 85 ft, VB-1, 60 ft, B, 40 ft, VB-2]}}
boxes: {{VB-1: {{place: walk}}, VB-2: {{place: fence}}}}
stations:
  A1: {{area: lawn, box: VB-1, hot: K1 red}}
  B1: {{area: beds, box: VB-2, hot: K1 blue}}
"""


def test_at_a_controller_half_way_each_end_is_what_it_is_there() -> None:
    """The blue before B is free and reaches A; the blue beyond B is the hot of B1."""
    strip = page(HALFWAY, "B")
    assert "Terminal 1 B1 beds VB-2 Wire color here blue BU K1 · 18 AWG Expected" in strip
    assert "yellow YE K1 · 18 AWG Return for B1 Terminal 1" in strip
    assert strip.count("Return for B1") == 1
    assert "blue BU K1 · 18 AWG · A to B, passes here uncut" in spares(HALFWAY, "VB-1")
    assert "blue" not in spares(HALFWAY, "VB-2")


def test_each_wire_on_c_stands_once_with_what_it_is() -> None:
    """Sandpiper: four whites to valves and the return of the master valve, on two terminals C."""
    text = page(sample("sandpiper"), "P")
    strip = text[text.index("Terminals ") : text.index("Terminal MV")]
    assert strip.count("Terminal C ") == 2
    for number in range(1, 5):
        row = f"white WH P-K1 · flag P{number} · 14 AWG Return for P{number} "
        assert strip.count(f"Wire color here {row}") == 1
    assert strip.count("Return MV-P white WH P-K1 · flag MV · 14 AWG ") == 1
    assert "In one connector 5 conductors, pigtail to C" in strip


# Both commons of a ring meet again in VB-2.
RING = f"""{HEAD}
controllers:
  A: {{place: wall, supply: 24 V AC, stations: 4, coil: usual, common: [K1 white, K2 white]}}
cables:
  K1: {{gauge: 18 AWG, palette: five, run: [A, 85 ft, VB-1, 60 ft, VB-2]}}
  K2: {{gauge: 18 AWG, palette: five, band: tape, run: [A, 90 ft, VB-2]}}
boxes: {{VB-1: {{place: walk}}, VB-2: {{place: oak}}}}
stations:
  A1: {{area: lawn, box: VB-1, hot: K1 red}}
  A2: {{area: beds, box: VB-2, hot: K2 blue}}
joints:
  VB-2:
    - [K2 blue, A2]
    - [K1 white, K2 white, A2]
"""


def test_the_commons_of_a_ring_are_not_divided() -> None:
    strip = page(RING, "A")
    assert strip.count("Return for a ring: fed from more than one of these") == 2
    assert "Return for A" not in strip
    assert "In one connector 2 commons, pigtail to C" in strip


def test_on_linked_terminals_each_hot_is_that_of_both_stations() -> None:
    text = edit(LIVE, "common: K1 white}", "common: K1 white, jumpers: [[1, 2]]}")
    strip = page(text, "A")
    assert "Terminal 1 A1 lawn VB-1 Hot A1, hot A2 red RD K1 · 18 AWG" in strip
    assert "Terminal 2 A2 beds VB-3 Hot A1, hot A2 blue BU K1 · 18 AWG" in strip
    assert strip.count("Linked with 2") == strip.count("Linked with 1") == 1


# ---- what a page of a box says -------------------------------------------------------------


def test_behind_a_device_no_band_of_the_coil_is_shown() -> None:
    text = edit(LIVE, "box: VB-3, hot: K1 blue", "box: VB-3, hot: K1 blue, device: pulse box")
    found = page(text, "VB-3")
    assert "Coil, leads off no meaning" in found
    assert "24 to 36 Ω" not in found and "30.0 Ω" not in found


def test_a_spare_begins_in_a_splice_box_and_does_not_pass_it() -> None:
    onward = "K9: {gauge: 18 AWG, palette: five, run: [VB-2, 30 ft, VB-3, 20 ft, VB-4]}"
    text = edit(LIVE, "VB-3: {place: fence}}", "VB-3: {place: fence}, VB-4: {}}")
    text = edit(text, "40 ft, VB-3]}", f"40 ft, VB-3]}}\n  {onward}")
    row = "red RD K9 · 18 AWG · VB-2 to VB-4, "
    assert f"{row}begins here" in spares(text, "VB-2")
    assert f"{row}passes here uncut" in spares(text, "VB-3")
    assert f"{row}ends here" in spares(text, "VB-4")


def test_a_spare_that_is_joined_in_a_box_does_not_pass_it_uncut() -> None:
    """Yellow has a yellow of another cable on it in VB-2, and goes on to VB-3."""
    onward = "K9: {gauge: 18 AWG, palette: five, run: [VB-2, 30 ft, VB-4]}"
    text = edit(LIVE, "VB-3: {place: fence}}", "VB-3: {place: fence}, VB-4: {}}")
    text = edit(text, "40 ft, VB-3]}", f"40 ft, VB-3]}}\n  {onward}")
    text += "  VB-2:\n    - [K1 yellow, K9 yellow]\n"
    assert "K1 · 18 AWG · A to VB-3, in a splice in VB-2" in spares(text, "VB-2")
    assert "K1 · 18 AWG · A to VB-3, passes here uncut, in a splice in VB-2" in spares(text, "VB-1")


def test_a_single_without_a_flag_shares_no_row_with_one_that_has_a_flag() -> None:
    """White is the common and white A2 a hot: together they would be `2 conductors`."""
    singles = (
        "{gauge: 14 AWG, color: white, to: VB-3}, "
        "{gauge: 14 AWG, color: white, flags: [A2], to: VB-3}, "
        "{gauge: 14 AWG, color: red, to: VB-1}"
    )
    text = edit(
        LIVE[: LIVE.index("joints:")], "gauge: 18 AWG, palette: five", f"singles: [{singles}]"
    )
    text = (
        edit(text, "A1: {area: lawn, box: VB-1,", "A1: {area: lawn, box: VB-3,")
        .replace("hot: K1 red", "hot: K1 white A2")
        .replace("  A2: {area: beds, box: VB-3, hot: K1 blue}\n", "")
    )
    passing = part(text, "VB-1", "Pass through: do not cut", "Spares here")
    assert "white WH K1 · 14 AWG · common A" in passing
    assert "white WH K1 · flag A2 · 14 AWG · hot A1" in passing


def test_a_box_without_a_place_has_no_dot_behind_it() -> None:
    root = tree(files(LIVE)["index.html"])
    links = {words(link) for link in root.iter("a") if "VB-" in (link.get("href") or "")}
    assert "VB-2 no valve here" in {" ".join(link.split()) for link in links}


def test_wires_of_a_sensor_that_nothing_pairs_are_named() -> None:
    """Two come to VB-3 and two go on: which with which, the job does not say."""
    cable = "{gauge: 18 AWG, palette: five, run: "
    text = edit(
        LIVE,
        "40 ft, VB-3]}",
        f"40 ft, VB-3]}}\n  F: {cable}[A, 30 ft, VB-3]}}\n  G: {cable}[VB-3, 9 ft, VB-2]}}",
    )
    wires = "[F red, F blue, G green, G yellow]"
    text += f"sensors:\n  FLOW: {{kind: flow, controllers: A, conductors: {wires}}}\n"
    inside = part(text, "VB-3", "In the box", "Spares here")
    assert "FLOW" in inside
    assert "F red RD, F blue BU, G green GN and G yellow YE" in inside
    assert "F red" not in part(text, "VB-2", "In the box", "Spares here")


def test_a_decoder_is_told_with_its_serial_number_where_the_job_has_one() -> None:
    text = edit(sample("heron"), "DC-201: {", "DC-201: {serial: 88-4021, ")
    assert "Decoder DC-201, address 201, serial 88-4021" in page(text, "DX-1")
    second = page(text, "DX-2")
    assert "Decoder DC-202, address 202" in second
    assert "Decoder DC-202, address 202," not in second
