"""What flags, legends and box tags say stretch by stretch; every expectation is counted by hand.

The yards are drawn above their tests: in each one conductor is several things on its way.
"""

from __future__ import annotations

from functools import cache
from textwrap import dedent

from cardgen.cards import Card, CardKind, cards_of
from tests.cards.printables import cards, plain_rows, printable, read, rows
from tests.jobs import edit, sample

HEAD = """\
job: {code: STR-1, site: Stretches, revision: 1, date: 2026-03-14}
record: {address: https://jobs.example.com, key: 7Q2F9KX4M3T8}
coils: {usual: {supply: 24 V AC, resistance: 30 ohm}}
palettes: {six: [white, red, yellow, green, blue, brown]}
"""


def controller(name: str, common: str, more: str = "") -> str:
    said = f"place: wall, supply: 24 V AC, stations: 4, coil: usual, common: {common}{more}"
    return f"  {name}: {{{said}}}\n"


def yard(controllers: str, body: str) -> str:
    return f"{HEAD}controllers:\n{controllers}{dedent(body)}"


@cache
def made(text: str) -> dict[CardKind, dict[str, Card]]:
    kinds = (CardKind.FLAG, CardKind.LEGEND, CardKind.BOX_TAG, CardKind.VALVE_TAG)
    found = cards_of(printable(text), kinds)
    return {kind: {card.id: card for card in found[kind]} for kind in kinds}


def flagged(text: str, conductor: str) -> list[str]:
    """The flags of one conductor: what, where, which way, and the color in which it goes on."""
    found = []
    for card in made(text)[CardKind.FLAG].values():
        if read(card.fields["conductor"]) == conductor:
            way = card.fields.get("from_to", card.fields.get("way"))
            other = card.fields.get("conductor_2")
            onward = f", {read(other)}" if other else ""
            found.append(f"{card.fields['headline']} at {card.at}: {read(way)}{onward}")
    return found


def spares(text: str, legend: str = "A") -> list[tuple[str, ...]]:
    fields = made(text)[CardKind.LEGEND][legend].fields
    return plain_rows(fields["spares"]) if "spares" in fields else []


def strip(text: str, legend: str = "A") -> list[tuple[str, str, str]]:
    """Terminal, what is said, color."""
    table = rows(made(text)[CardKind.LEGEND][legend].fields["terminals"])
    return [(row["terminal"], row["area"], row["wire color here"]) for row in table]


# On terminal 1: red to VB-1, joined there with A1 and with green, which goes on to VB-2.  Green is
# free as far as VB-1, beyond it is live.
LIVE_STUB = yard(
    controller("A", "K1 white"),
    """\
    cables:
      K1: {gauge: 18 AWG, palette: six, run: [A, 40 ft, VB-1, 30 ft, VB-2]}
    boxes: {VB-1: {place: lawn}, VB-2: {place: hedge}}
    stations:
      A1: {area: lawn, box: VB-1, hot: K1 red}
      A2: {area: hedge, box: VB-2, hot: K1 blue}
    joints:
      VB-1: [[K1 red in, K1 green out, A1], [K1 white in, K1 white out, A1]]
    """,
)


def test_what_a_joint_makes_live_is_no_spare() -> None:
    # Before, green was a spare from A to VB-2 on legend and flags.
    assert flagged(LIVE_STUB, "K1 green") == [
        "A1 at VB-1: VB-1 → VB-2, K1 red",
        "A1 at VB-2: VB-1 → VB-2",
        "SP-K1-4 at A: contr. A → VB-1",
        "SP-K1-4 at VB-1: contr. A → VB-1",
    ]
    assert flagged(LIVE_STUB, "K1 red") == [
        "A1 at A: contr. A → VB-1",
        "A1 at VB-1: contr. A → VB-1, K1 green",
        "DEAD at VB-1: VB-1 → VB-2",
        "DEAD at VB-2: VB-1 → VB-2",
    ]
    assert spares(LIVE_STUB) == [
        ("K1 yellow", "VB-2"),
        ("K1 green", "VB-1"),
        ("K1 brown", "VB-2"),
    ]


# A -- yellow -- VB-1        VB-2 -- yellow -- VB-3 [A1]
#                  '-- brown --'
RIDES_ON_BROWN = yard(
    controller("A", "K1 white"),
    """\
    cables:
      K1: {gauge: 18 AWG, palette: six, run: [A, 40 ft, VB-1, 30 ft, VB-2, 20 ft, VB-3]}
    boxes: {VB-1: {place: lawn}, VB-2: {place: hedge}, VB-3: {place: gate}}
    stations:
      A1: {area: gate, box: VB-3, hot: K1 yellow}
    joints:
      VB-1: [[K1 yellow in, K1 brown out]]
      VB-2: [[K1 brown in, K1 yellow out]]
    """,
)


def test_a_leg_on_another_conductor_leaves_that_free_only_before_it() -> None:
    # Before, brown was offered from A to VB-3, and yellow beside it was no dead end.
    assert flagged(RIDES_ON_BROWN, "K1 brown") == [
        "A1 at VB-1: VB-1 → VB-2, K1 yellow",
        "A1 at VB-2: VB-1 → VB-2, K1 yellow",
        "SP-K1-6 at A: contr. A → VB-1",
        "SP-K1-6 at VB-1: contr. A → VB-1",
        "DEAD at VB-2: VB-2 → VB-3",
        "DEAD at VB-3: VB-2 → VB-3",
    ]
    assert [s for s in flagged(RIDES_ON_BROWN, "K1 yellow") if s.startswith("DEAD")] == [
        "DEAD at VB-1: VB-1 → VB-2",
        "DEAD at VB-2: VB-1 → VB-2",
    ]
    assert ("K1 brown", "VB-1") in spares(RIDES_ON_BROWN)


# C -- K1 white -- VB-1 [A1]   (cut)   SB-1   (cut)   VB-3 [A3] -- K1 white -- VB-4
#  '-- K2 white -------------------------------------- VB-3
CUT_AND_FED_FROM_BEYOND = yard(
    controller("A", "[K1 white, K2 white]"),
    """\
    cables:
      K1:
        gauge: 18 AWG
        palette: six
        run: [A, 40 ft, VB-1, 30 ft, SB-1, 20 ft, VB-3, 20 ft, VB-4]
      K2: {gauge: 18 AWG, palette: six, run: [A, 40 ft, VB-3]}
    boxes:
      VB-1: {place: lawn}
      SB-1: {place: hedge, kind: splice box}
      VB-3: {place: gate}
      VB-4: {place: corner}
    stations:
      A1: {area: lawn, box: VB-1, hot: K1 red}
      A3: {area: gate, box: VB-3, hot: K1 blue}
    joints:
      VB-1: [[K1 red in, A1], [K1 white in, A1]]
      VB-3: [[K1 blue in, A3], [K2 white in, K1 white out, A3]]
    """,
)


def test_a_dead_piece_of_a_common_is_not_called_one() -> None:
    # Before, all of it was COM-A, also where nothing feeds it.
    text = CUT_AND_FED_FROM_BEYOND
    assert flagged(text, "K1 white") == [
        "COM-A at A: contr. A → VB-1",
        "COM-A at VB-1: contr. A → VB-1",
        "COM-A at VB-3: VB-3 → VB-4",
        "COM-A at VB-4: VB-3 → VB-4",
        "DEAD at VB-1: VB-1 → VB-3",
        "DEAD at VB-3: VB-1 → VB-3",
    ]
    assert "stations" not in made(text)[CardKind.BOX_TAG]["SB-1"].fields
    assert strip(text)[:2] == [
        ("C", "common for A1; 2 in one connector, pigtail to C", "K1 white"),
        ("C", "common for A3; 2 in one connector, pigtail to C", "K2 white"),
    ]
    reaches = {row[0]: row[-1] for row in spares(text)}
    assert "K1 white" not in reaches


def test_a_common_fed_from_its_far_end_leads_the_other_way() -> None:
    text = edit(CUT_AND_FED_FROM_BEYOND, "[K2 white in, K1", "[K2 white in, K1 white in, K1")
    assert sorted(flagged(text, "K1 white")) == [
        "COM-A at A: contr. A → VB-1",
        "COM-A at VB-1: VB-3 → VB-1",
        "COM-A at VB-1: contr. A → VB-1",
        "COM-A at VB-4: VB-3 → VB-4",
    ]
    names = [i for i in made(text)[CardKind.FLAG] if i.startswith("COM-A K1 white at VB-1")]
    assert names == ["COM-A K1 white at VB-1 toward A", "COM-A K1 white at VB-1 toward SB-1"]


# A -- K1 -- VB-1 -- B -- K1 -- VB-2
HALF_WAY = yard(
    controller("A", "K1 white") + controller("B", "K1 green"),
    """\
    cables:
      K1: {gauge: 18 AWG, palette: six, run: [A, 40 ft, VB-1, 30 ft, B, 20 ft, VB-2]}
    boxes: {VB-1: {place: lawn}, VB-2: {place: gate}}
    stations:
      A1: {area: lawn, box: VB-1, hot: K1 red}
      B1: {area: gate, box: VB-2, hot: K1 blue}
    """,
)


def test_a_controller_half_way_has_no_common_before_it() -> None:
    # Before, B's common was flagged at A, and both commons stood on the tag of VB-1.
    assert flagged(HALF_WAY, "K1 green") == [
        "COM-B at B: contr. B → VB-2",
        "COM-B at VB-2: contr. B → VB-2",
        "SP-K1-4 at A: contr. A → contr. B",
        "SP-K1-4 at B: contr. A → contr. B",
    ]
    assert list(made(HALF_WAY)[CardKind.BOX_TAG]) == ["VB-2"]  # white of A still passes there
    said = read(made(HALF_WAY)[CardKind.BOX_TAG]["VB-2"].fields["notes"])
    assert "COM-A and COM-B must not touch" in said
    assert strip(HALF_WAY, "B")[0] == ("C", "common for B1", "K1 green")


def test_a_conductor_landed_both_ways_is_flagged_on_both_sides() -> None:
    text = f"{HALF_WAY}  B2: {{area: fence, box: VB-1, hot: K1 brown}}\n"
    assert flagged(text, "K1 green") == [
        "COM-B at B: contr. B → contr. A",  # nothing cuts it in VB-1
        "COM-B at A: contr. B → contr. A",
        "COM-B at B: contr. B → VB-2",
        "COM-B at VB-2: contr. B → VB-2",
    ]


# C -- K1 white -- VB-1 -- VB-2 -- K2 white -- C
RING = yard(
    controller("A", "[K1 white, K2 white, K3 white]"),
    """\
    cables:
      K1: {gauge: 18 AWG, palette: six, run: [A, 40 ft, VB-1, 30 ft, VB-2]}
      K2: {gauge: 18 AWG, palette: six, run: [A, 40 ft, VB-2]}
      K3: {gauge: 18 AWG, palette: six, run: [A, 40 ft, VB-3]}
    boxes: {VB-1: {place: lawn}, VB-2: {place: gate}, VB-3: {place: hedge}}
    stations:
      A1: {area: lawn, box: VB-1, hot: K1 red}
      A2: {area: gate, box: VB-2, hot: K1 blue}
      A3: {area: hedge, box: VB-3, hot: K3 red}
    joints:
      VB-2: [[K1 blue in, A2], [K1 white in, K2 white in, A2]]
    """,
)


def test_the_stations_of_a_ring_are_not_divided_among_its_wires() -> None:
    # Before, K1 had A1 and K2 had A2, though each works with either of them cut.
    assert strip(RING)[:3] == [
        ("C", "common, in a ring; 3 in one connector, pigtail to C", "K1 white"),
        ("C", "common, in a ring; 3 in one connector, pigtail to C", "K2 white"),
        ("C", "common for A3; 3 in one connector, pigtail to C", "K3 white"),
    ]


# C is one piece of metal with two screws; the master valve has a return of its own.
STRIP = yard(
    controller("A", "K1 white", ", terminals: [C, 1, 2, 3, 4, C, MV]"),
    """\
    cables:
      K1: {gauge: 18 AWG, palette: six, run: [A, 40 ft, VB-1]}
    boxes: {VB-1: {place: lawn}}
    stations:
      A1: {area: lawn, box: VB-1, hot: K1 red}
    master valves:
      MV-1: {controllers: A, box: VB-1, coil: usual, hot: K1 blue, return: K1 green}
    joints:
      A: [[C, K1 white, K1 green], [1, K1 red], [MV, K1 blue], [3, K1 brown]]
    """,
)


def test_every_wire_of_a_strip_stands_on_it_once() -> None:
    # Before: white on both C and alone there, green on none, brown a spare and 3 empty.
    assert strip(STRIP) == [
        ("C", "common for A1; 2 in one connector, pigtail to C", "K1 white"),
        ("C", "return MV-1; 2 in one connector, pigtail to C", "K1 green"),
        ("1 · A1", "lawn", "K1 red"),
        ("2", "empty", ""),
        ("3", "not used, but this wire is on it", "K1 brown"),
        ("4", "empty", ""),
        ("C", "same as the first C", ""),
        ("MV · MV-1", "master valve; separate return: K1 green to C", "K1 blue"),
    ]
    assert flagged(STRIP, "K1 brown") == [
        "A 3 at A: contr. A → VB-1",
        "A 3 at VB-1: contr. A → VB-1",
    ]
    assert spares(STRIP) == [("K1 yellow", "VB-1")]


def test_the_number_in_one_connector_counts_every_return() -> None:
    # sandpiper.yaml: the whites of P1 to P4 and of the master valve on two C; before, 8 rows of 4.
    table = rows(cards("sandpiper", CardKind.LEGEND)["P"].fields["terminals"])
    said = [(row["area"], row["wire color here"]) for row in table if row["terminal"] == "C"]
    together = "5 in one connector, pigtail to C"
    assert said == [
        *((f"common for P{n}; {together}", f"P-K1 white (flag P{n})") for n in (1, 2, 3, 4)),
        (f"return MV-P; {together}", "P-K1 white (flag MV)"),
        ("same as the first C", ""),
    ]


def test_the_wires_of_a_sensor_are_flagged() -> None:
    # heron.yaml: FLOW-A on red and black of A-F; before, they had no flag.
    flags = cards("heron", CardKind.FLAG).values()
    said = [(c.id, c.fields["headline"]) for c in flags if c.owner == "FLOW-A"]
    assert said == [
        (f"FLOW-A A-F {color} at {at}", "FLOW-A")
        for color in ("red", "black")
        for at in ("A", "FS-1")
    ]


def test_no_two_flags_of_a_job_have_one_name() -> None:
    texts = [LIVE_STUB, RIDES_ON_BROWN, CUT_AND_FED_FROM_BEYOND, HALF_WAY, RING, STRIP]
    for text in (*texts, sample("heron"), sample("quarry")):
        job = printable(text)
        number = sum(2 * len(c.stretches) for c in job.asbuilt.conductors)
        assert len({card.id for card in cards_of(job, [CardKind.FLAG])[CardKind.FLAG]}) == number


TIED = yard(
    controller("A", "K1 white", ", jumpers: [[1, 2]]"),
    """\
cables:
  K1: {gauge: 18 AWG, colors: [white, red, blue], run: [A, 85 ft, VB-1]}
boxes: {VB-1: {}}
stations:
  A1: {area: lawn, box: VB-1, hot: K1 red}
  A2: {area: beds, box: VB-1, hot: K1 blue}
""",
)


def test_valves_on_terminals_linked_on_purpose_are_told_on_both_tags_and_in_the_door() -> None:
    tags = made(TIED)[CardKind.VALVE_TAG]
    assert tags["A1"].fields["boxed"] == ("RUNS TOGETHER WITH A2",)
    assert tags["A2"].fields["boxed"] == ("RUNS TOGETHER WITH A1",)
    notes = {terminal: area for terminal, area, _ in strip(TIED)}
    assert "runs together with A2" in notes["1 · A1"] and "linked with 2" in notes["1 · A1"]


# A ---- K1 brown ---- VB-1 ---- K1 brown ---- VB-2
#                        `------ K2 brown ---- VB-3      SP-1, reserved for VB-3
JOINED_ON = yard(
    controller("A", "[K1 white, K2 white]"),
    """\
    cables:
      K1: {gauge: 18 AWG, palette: six, run: [A, 40 ft, VB-1, 30 ft, VB-2]}
      K2: {gauge: 18 AWG, palette: six, band: tape, run: [VB-1, 40 ft, VB-3]}
    boxes: {VB-1: {place: lawn}, VB-2: {place: gate}, VB-3: {place: hedge}}
    stations:
      A1: {area: lawn, box: VB-2, hot: K1 red}
      A2: {area: hedge, box: VB-3, hot: [K1 blue, K2 red]}
    spares: {SP-1: {conductor: [K1 brown, K2 brown], to: VB-3}}
    joints:
      VB-1: [[K1 white, K2 white], [K1 blue, K2 red], [K1 brown in, K2 brown]]
    """,
)


def test_what_is_left_beyond_the_splice_of_a_promised_spare_has_another_name() -> None:
    assert flagged(JOINED_ON, "K1 brown") == [
        "SP-1 at A: contr. A → VB-1",
        "SP-1 at VB-1: contr. A → VB-1",
        "SP-K1-6 at VB-1: VB-1 → VB-2",
        "SP-K1-6 at VB-2: VB-1 → VB-2",
    ]


# Brown is free to VB-1, A2's hot from there to VB-2, and promised as a spare beyond.
PROMISED_FROM = yard(
    controller("A", "K1 white"),
    """\
    cables: {K1: {gauge: 18 AWG, palette: six, run: [A, 40 ft, VB-1, 30 ft, VB-2, 20 ft, VB-3]}}
    boxes: {VB-1: {kind: pull box}, VB-2: {}, VB-3: {kind: pull box}}
    stations: {A2: {area: lawn, box: VB-2, hot: K1 blue}}
    spares: {SP-1: {conductor: K1 brown, from: VB-2}}
    joints:
      VB-1: [[K1 blue in, K1 brown out]]
      VB-2: [[K1 brown in, A2], [K1 white in, A2]]
    """,
)


def test_a_spare_promised_from_a_box_on_gives_its_name_to_nothing_before_it() -> None:
    assert flagged(PROMISED_FROM, "K1 brown") == [
        "A2 at VB-1: VB-1 → VB-2, K1 blue",
        "A2 at VB-2: VB-1 → VB-2",
        "SP-K1-6 at A: contr. A → VB-1",
        "SP-K1-6 at VB-1: contr. A → VB-1",
        "SP-1 at VB-2: VB-2 → VB-3",
        "SP-1 at VB-3: VB-2 → VB-3",
    ]
