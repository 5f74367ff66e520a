"""What may be the hot of a valve of which the job says that it is not known, found by hand.

A ===[K1 white, red, blue, green, brown, black]=== VB-1 === SB-1
     SB-1 ===[K2 white, red, blue]=== VB-2 === VB-3                SB-1 ===[K3 pink]=== VB-4

A1 is on K1 red in VB-1; the file lists K1 black as a spare.  Left for A2 in VB-1 are K1 blue, green
and brown; for A3 in VB-3 the same as far as SB-1, and from there K2 red and blue.  K3 leads away
from both; K1 red beyond VB-1 is what is left of the hot of A1.
"""

from __future__ import annotations

from tests.jobs import edit, examined

JOB = """\
job: {code: NK-02, site: South park, revision: 1, date: 2026-03-01}
record: {address: 'https://jobs.example.com', key: 7K2M9Q4T8XWB}
coils:
  usual: {supply: 24 V AC, resistance: 30 ohm, inrush: 0.40 A, holding: 0.23 A, minimum: 20 V}
controllers:
  A:
    place: garage wall
    supply: 24 V AC
    stations: 8
    coil: usual
    common: [K1 white, K2 white]
cables:
  K1:
    gauge: 18 AWG
    colors: [white, red, blue, green, brown, black]
    run: [A, 85 ft, VB-1, 60 ft, SB-1]
  K2: {gauge: 18 AWG, colors: [white, red, blue], run: [SB-1, 40 ft, VB-2, 30 ft, VB-3]}
  K3: {gauge: 18 AWG, colors: [pink], run: [SB-1, 40 ft, VB-4]}
boxes:
  SB-1: {kind: splice box}
  VB-1: {}
  VB-2: {kind: pull box}
  VB-3: {}
  VB-4: {kind: pull box}
stations:
  A1: {area: front lawn, box: VB-1, hot: K1 red}
  A2: {area: front bed, box: VB-1, hot: not known}
  A3: {area: back bed, box: VB-3, hot: Not  Known}
spares: {SP-1: {conductor: K1 black}}
"""
MASTER_VALVE = "master valves: {MV: {controllers: A, box: VB-1, hot: not known}}\n"
NEAR, FAR = ("K1 blue", "K1 green", "K1 brown"), ("K2 red", "K2 blue")


def candidates(text: str) -> dict[str, tuple[str, ...]]:
    """By conductor, whose hot it may be."""
    found = examined(text)
    assert found.facts is not None and not found.has_errors
    return {
        stretch.conductor.name: tuple(use.of for use in stretch.uses)
        for stretch in found.facts.maybe_hots
    }


def test_what_leads_from_the_terminal_to_the_valve_may_be_its_hot() -> None:
    assert candidates(JOB) == {
        **dict.fromkeys(NEAR, ("A2", "A3")),
        **dict.fromkeys(FAR, ("A3",)),
    }


def test_where_the_hot_is_known_nothing_may_be_it() -> None:
    near = edit(JOB, "hot: not known", "hot: K1 blue")
    assert candidates(near) == {
        **dict.fromkeys(("K1 green", "K1 brown"), ("A3",)),
        **dict.fromkeys(FAR, ("A3",)),
    }
    assert candidates(edit(near, "hot: Not  Known", "hot: [K1 brown, K2 red]")) == {}


def test_of_one_that_is_left_nothing_is_concluded() -> None:
    text = edit(JOB, "[white, red, blue]", "[white, red]")
    text = edit(text, "blue, green, brown, black", "blue, black")
    assert candidates(text) == {"K1 blue": ("A2", "A3"), "K2 red": ("A3",)}
    assert examined(text).circuits.keys() == {"A1"}


def test_joints_as_built_part_what_is_not_joined() -> None:
    """Only K1 green goes on in SB-1; in the box of A2 nothing tells its hot from the others."""
    joints = (
        "joints:\n"
        "  VB-1: [[K1 white, A1, A2], [K1 red in, A1]]\n"
        "  SB-1: [[K1 white, K2 white], [K1 green, K2 blue], [K1 blue]]\n"
        "  VB-2: [[K2 white]]\n"
    )
    assert candidates(JOB + joints) == {
        **dict.fromkeys(("K1 blue", "K1 brown"), ("A2",)),
        **dict.fromkeys(("K1 green", "K2 blue"), ("A2", "A3")),
    }


def test_what_is_on_the_terminal_is_its_hot_as_far_as_metal_tells() -> None:
    """K1 green is on terminal 3; so A3 has K1 green and, from SB-1, K2 red or K2 blue."""
    joints = "joints: {A: [[C, K1 white], ['1', K1 red], ['3', K1 green]]}\n"
    assert candidates(JOB + joints) == {
        **dict.fromkeys(("K1 blue", "K1 brown"), ("A2",)),
        **dict.fromkeys(FAR, ("A3",)),
    }


def test_what_is_on_the_lead_of_the_valve_is_its_hot_as_far_as_metal_tells() -> None:
    joints = "joints: {VB-2: [[K2 white]], VB-3: [[K2 white, A3], [A3, K2 red], [K2 blue]]}\n"
    assert candidates(JOB + joints) == {
        **dict.fromkeys(NEAR, ("A2", "A3")),
        "K2 red": ("A3",),
    }


def test_joints_that_tell_the_whole_way_make_the_circuit() -> None:
    text = JOB + (
        "joints:\n"
        "  A: [[C, K1 white], ['1', K1 red], ['2', K1 blue]]\n"
        "  VB-1: [[K1 white in, K1 white out, A1, A2], [K1 red in, A1], [A2, K1 blue in]]\n"
    )
    found = examined(text)
    assert found.circuits.keys() == {"A1", "A2"} and found.facts is not None
    assert found.facts.half_circuits.keys() == {"A3"}


def test_a_way_comes_to_no_place_twice() -> None:
    """K4 goes from SB-1 to VB-5; only where K5 leads back to VB-2 is that a way to VB-3."""
    text = edit(JOB, "boxes:\n", "boxes:\n  VB-5: {kind: pull box}\n")
    dead_end = "  K4: {gauge: 18 AWG, colors: [violet], run: [SB-1, 40 ft, VB-5]}\n"
    back = "  K5: {gauge: 18 AWG, colors: [gray], run: [VB-5, 40 ft, VB-2]}\n"
    assert "K4 violet" not in candidates(edit(text, "  K3:", dead_end + "  K3:"))
    both = candidates(edit(text, "  K3:", dead_end + back + "  K3:"))
    assert both["K4 violet"] == both["K5 gray"] == ("A3",)
    assert "K3 pink" not in both


def test_a_ring_that_hangs_on_one_box_leads_nowhere() -> None:
    """K4, K5 and K6 lead from SB-1 to SB-1."""
    text = edit(JOB, "boxes:\n", "boxes:\n  VB-5: {kind: pull box}\n  VB-6: {kind: pull box}\n")
    ring = (
        "  K4: {gauge: 18 AWG, colors: [violet], run: [SB-1, 40 ft, VB-5]}\n"
        "  K5: {gauge: 18 AWG, colors: [gray], run: [VB-5, 40 ft, VB-6]}\n"
        "  K6: {gauge: 18 AWG, colors: [tan], run: [VB-6, 40 ft, SB-1]}\n"
    )
    assert candidates(edit(text, "  K3:", ring + "  K3:")) == candidates(text)


def test_the_hot_of_a_master_valve_or_a_relay_may_be_unknown() -> None:
    assert candidates(JOB + MASTER_VALVE)["K1 blue"] == ("A2", "A3", "MV")
    relay = "relays: {PU: {controller: A, box: VB-3, hot: not known, coil: usual}}\n"
    assert candidates(JOB + relay)["K2 red"] == ("A3", "PU")


def test_a_way_goes_through_no_conductor_twice() -> None:
    """K2 pink lies beside K1 green, the only one free; both ends of it would lead to that one."""
    beside = """\
cables:
  K1: {gauge: 18 AWG, colors: [white, red, green], run: [A, 9 ft, VB-1, 9 ft, VB-2, 9 ft, VB-3]}
  K2: {gauge: 18 AWG, colors: [pink], run: [VB-1, 10 ft, VB-2]}
boxes: {VB-1: {kind: pull box}, VB-2: {kind: pull box}, VB-3: {}}
stations:
  A1: {area: front lawn, box: VB-3, hot: K1 red}
  A2: {area: front bed, box: VB-3, hot: not known}
"""
    text = edit(JOB[: JOB.index("cables:")], "[K1 white, K2 white]", "K1 white") + beside
    assert candidates(text) == {"K1 green": ("A2",)}
