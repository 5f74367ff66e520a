"""Small yards, traced by hand: each card says of a stretch what its joints make of it.

18 AWG is 6.385 ohm per 1000 ft (NBS Handbook 100, table 1): a loop of 2 x 100 ft reads 1.28.
"""

from __future__ import annotations

from cardgen.asbuilt import Role, Use
from cardgen.cards import Card, CardKind, cards_of
from cardgen.cards.card import Splice
from tests.cards.printables import listed, plain_rows, printable, read, rows
from tests.jobs import sample

HEAD = """\
job: {code: EX-1, site: Example, revision: 1, date: 2026-03-14}
record: {address: https://jobs.example.com, key: 7Q2F9KX4M3T8}
coils:
  usual: {supply: 24 V AC, resistance: 30 ohm, inrush: 0.40 A, holding: 0.23 A}
connectors:
  small: {takes: [2-6 x 18 AWG]}
"""
CONTROLLER = """\
controllers:
  A: {place: wall, supply: 24 V AC, stations: 8, coil: usual, common: K1 white}
"""


def cards(text: str, kind: CardKind) -> dict[str, Card]:
    return {card.id: card for card in cards_of(printable(HEAD + text), (kind,))[kind]}


def titles(text: str, box: str) -> list[tuple[str, str]]:
    """Each joint of a box: its title and the change of color in it."""
    value = cards(text, CardKind.SPLICE_CARD)[box].fields["splices"]
    assert isinstance(value, tuple)
    splices = [each for each in value if isinstance(each, Splice)]
    parts = [(each.title.split("  ")[1], each.about.split(" · ")) for each in splices]
    return [(title, about[0] if len(about) > 2 else "") for title, about in parts]


def table(text: str, box: str, name: str) -> list[tuple[str, ...]]:
    fields = cards(text, CardKind.SPLICE_CARD)[box].fields
    return plain_rows(fields[name]) if name in fields else []


def spare_list(text: str) -> dict[str, list[dict[str, str]]]:
    """The rows of spares and those of what is dead."""
    fields = cards(text, CardKind.SPARE_LIST)["spares"].fields
    return {name: rows(fields[name]) for name in ("spares", "dead") if name in fields}


def ways(found: list[dict[str, str]]) -> list[tuple[str, str, str, str, str]]:
    keys = ("conductor", "from", "through", "last box", "expected loop Ω")
    return [(row[keys[0]], row[keys[1]], row[keys[2]], row[keys[3]], row[keys[4]]) for row in found]


def schedule(text: str, conductor: str) -> list[tuple[str, str, str, str]]:
    """From, to, length and use of each stretch."""
    found = rows(cards(text, CardKind.SCHEDULE)["conductor schedule A"].fields["rows"])
    mine = [row for row in found if row["conductor"] == conductor]
    return [(row["from"], row["to"], row["length"], row["use"]) for row in mine]


# ---- a conductor that only a joint puts to use ---------------------------------------------

# Nobody says that green is in use, but in VB-1 it touches A1's hot.
TOUCHED = (
    CONTROLLER
    + """\
cables:
  K1: {gauge: 18 AWG, colors: [white, red, green, blue], run: [A, 100 ft, VB-1, 100 ft, VB-2]}
boxes: {VB-1: {}, VB-2: {}}
stations:
  A1: {area: lawn, box: VB-1, hot: K1 red}
  A2: {area: beds, box: VB-2, hot: K1 blue}
joints:
  VB-1:
    - [K1 white in, K1 white out, A1]
    - [K1 red in, K1 green in, K1 green out, A1]
"""
)


def test_what_touches_a_hot_is_that_hot_and_no_spare() -> None:
    assert schedule(TOUCHED, "K1 green") == [("A", "VB-2", "200 ft (61 m)", "hot A1")]
    assert table(TOUCHED, "VB-2", "capped") == [("K1 red", "dead"), ("K1 green", "hot A1")]
    assert ways(spare_list(TOUCHED).get("spares", [])) == []
    # Red feeds the joint; green is fed both ways from it.
    assert titles(TOUCHED, "VB-1") == [("COMMON A", ""), ("HOT A1", "color change: red to green")]


# A5's hot rides on brown from VB-1 to VB-2, and on yellow before and after.
MIDDLE = (
    CONTROLLER
    + """\
cables:
  K1:
    gauge: 18 AWG
    colors: [white, yellow, brown, blue]
    run: [A, 100 ft, VB-1, 100 ft, VB-2, 100 ft, VB-3]
boxes: {VB-1: {}, VB-2: {}, VB-3: {}}
stations:
  A5: {area: lawn, box: VB-3, hot: K1 yellow}
joints:
  VB-1: [[K1 yellow in, K1 brown out]]
  VB-2: [[K1 brown in, K1 yellow out]]
  VB-3: [[K1 white in, A5], [K1 yellow in, A5]]
"""
)


def test_a_conductor_is_what_it_is_stretch_by_stretch() -> None:
    assert schedule(MIDDLE, "K1 brown") == [
        ("A", "VB-1", "100 ft (30 m)", "spare SP-K1-3"),
        ("VB-1", "VB-2", "100 ft (30 m)", "hot A5"),
        ("VB-2", "VB-3", "100 ft (30 m)", "dead"),
    ]
    assert table(MIDDLE, "VB-1", "capped") == [
        ("K1 yellow", "dead → VB-2"),
        ("K1 brown", "spare SP-K1-3 → A"),
    ]
    assert table(MIDDLE, "VB-2", "capped") == [
        ("K1 yellow", "dead → VB-1"),
        ("K1 brown", "dead → VB-3"),
    ]


def test_a_spare_goes_as_far_as_it_is_free_and_what_is_dead_stands_apart() -> None:
    found = spare_list(MIDDLE)
    assert ways(found["spares"]) == [
        ("K1 brown", "A", "–", "VB-1", "1.3 (0–3)"),
        ("K1 blue", "A", "VB-1 and VB-2", "VB-3", "3.8 (2–5)"),
    ]
    assert ways(found["dead"]) == [
        ("K1 yellow", "VB-1", "–", "VB-2", "1.3 (0–3)"),
        ("K1 brown", "VB-2", "–", "VB-3", "1.3 (0–3)"),
    ]
    assert "flag" not in found["dead"][0]
    subtitle = cards(MIDDLE, CardKind.SPARE_LIST)["spares"].fields["subtitle"]
    assert str(subtitle).endswith("2 spares")


# Blue is a spare from the controller to the last box, over a joint in SB-1.
CONTINUED = (
    CONTROLLER
    + """\
cables:
  K1: {gauge: 18 AWG, colors: [white, red, blue], run: [A, 100 ft, SB-1]}
  K2: {gauge: 18 AWG, colors: [white, red, blue], run: [SB-1, 200 ft, VB-1]}
boxes: {SB-1: {kind: splice box}, VB-1: {}}
stations:
  A1: {area: lawn, box: VB-1, hot: [K1 red, K2 red]}
joints:
  SB-1: [[K1 white, K2 white], [K1 red, K2 red], [K1 blue, K2 blue]]
  VB-1: [[K2 white, A1], [K2 red, A1]]
"""
)


def test_a_spare_in_a_joint_has_its_loop_too() -> None:
    found = spare_list(CONTINUED)["spares"]
    assert [(row["conductor"], row["state"], row["expected loop Ω"]) for row in found] == [
        ("K1 blue", "in a splice in SB-1", "1.3 (0–3)"),
        ("K2 blue", "in a splice in SB-1", "2.6 (1–4)"),
    ]


# ---- commons -------------------------------------------------------------------------------

# White of K1 ends in VB-1; A2 in VB-3 returns on K2.
CUT_COMMON = """\
controllers:
  A: {place: wall, supply: 24 V AC, stations: 8, coil: usual, common: [K1 white, K2 white]}
cables:
  K1:
    gauge: 18 AWG
    colors: [white, red, blue]
    run: [A, 100 ft, VB-1, 100 ft, VB-2, 100 ft, VB-3]
  K2: {gauge: 18 AWG, colors: [white, red, green], run: [A, 300 ft, VB-3]}
boxes: {VB-1: {}, VB-2: {}, VB-3: {}}
stations:
  A1: {area: lawn, box: VB-1, hot: K1 red}
  A2: {area: beds, box: VB-3, hot: K1 blue}
joints:
  VB-1: [[K1 white in, A1], [K1 red in, A1]]
  VB-3: [[K2 white in, A2], [K1 blue in, A2]]
"""


def test_a_common_that_is_cut_is_dead_beyond() -> None:
    assert schedule(CUT_COMMON, "K1 white") == [
        ("A", "VB-1", "100 ft (30 m)", "common A"),
        ("VB-1", "VB-3", "200 ft (61 m)", "dead"),
    ]
    assert table(CUT_COMMON, "VB-3", "capped") == [
        ("K1 white", "dead"),
        ("K1 red", "dead"),
        ("K2 red", "spare SP-K2-2"),
        ("K2 green", "spare SP-K2-3"),
    ]
    # Tied to K2's common in VB-3 and measured in VB-1 against K1's: 200 + 300 + 100 ft of metal.
    assert ways(spare_list(CUT_COMMON)["dead"])[0] == ("K1 white", "VB-1", "VB-2", "VB-3", LOOP_600)


LOOP_600 = "3.8 (2–5)"  # 600 ft at 6.385 ohm per 1000 ft: 3.83


def test_the_test_sheet_says_how_far_a_conductor_is_the_common() -> None:
    sheet = cards(CUT_COMMON, CardKind.TEST_SHEET)["A"]
    found = [(row["use"], row["conductor"]) for row in rows(sheet.fields["insulation"])]
    assert found == [("common A", "K1 white, A → VB-1"), ("common A", "K2 white")]


# ---- joints --------------------------------------------------------------------------------

# Two hots exchange colors in VB-1.
EXCHANGED = (
    CONTROLLER
    + """\
cables:
  K1: {gauge: 18 AWG, colors: [white, yellow, orange], run: [A, 100 ft, VB-1, 100 ft, VB-2]}
boxes: {VB-1: {}, VB-2: {}}
stations:
  A3: {area: lawn, box: VB-2, hot: [K1 yellow, K1 orange]}
  A4: {area: beds, box: VB-2, hot: [K1 orange, K1 yellow]}
joints:
  VB-1: [[K1 yellow in, K1 orange out], [K1 orange in, K1 yellow out]]
  VB-2: [[K1 white in, A3, A4], [K1 orange in, A3], [K1 yellow in, A4]]
"""
)


def test_hots_that_exchange_colors_each_have_their_own_joints() -> None:
    assert titles(EXCHANGED, "VB-1") == [
        ("HOT A3", "color change: yellow to orange"),
        ("HOT A4", "color change: orange to yellow"),
    ]
    assert titles(EXCHANGED, "VB-2") == [("COMMON A", ""), ("HOT A3", ""), ("HOT A4", "")]


# K1 and K2 are written from the far box to the controller; K9, a spare, goes the same way.
BACKWARD = (
    CONTROLLER
    + """\
cables:
  K1: {gauge: 18 AWG, colors: [white, red, blue], run: [VB-1, 100 ft, A]}
  K2: {gauge: 18 AWG, colors: [white, red, blue], run: [VB-2, 100 ft, VB-1]}
  K9: {gauge: 18 AWG, colors: [gray], run: [A, 100 ft, VB-1, 100 ft, VB-2]}
boxes: {VB-1: {}, VB-2: {}}
stations:
  A1: {area: lawn, box: VB-2, hot: [K1 red, K2 blue]}
joints:
  VB-1: [[K1 white, K2 white], [K1 red, K2 blue]]
  VB-2: [[K2 white, A1], [K2 blue, A1]]
"""
)


def test_a_color_changes_in_the_way_it_is_fed_not_in_that_of_the_run() -> None:
    assert titles(BACKWARD, "VB-1") == [
        ("COMMON A", ""),
        ("HOT A1", "color change: red to blue"),
    ]


# ---- materials -----------------------------------------------------------------------------

ON_C = """\
controllers:
  A:
    place: wall
    supply: 24 V AC
    stations: 2
    terminals: [C, C, 1, 2, MV, P]
    coil: usual
    common: [K1 white, K2 white]
cables:
  K1: {gauge: 18 AWG, colors: [white, red, blue], run: [A, 100 ft, VB-1]}
  K2: {gauge: 18 AWG, colors: [white, red, blue], run: [A, 100 ft, VB-2]}
  K3: {gauge: 18 AWG, colors: [red, black], run: [A, 20 ft, VB-3]}
  K4: {gauge: 18 AWG, colors: [red, black], run: [A, 10 ft, PB-1]}
boxes: {VB-1: {}, VB-2: {}, VB-3: {}, PB-1: {}}
stations:
  A1: {area: lawn, box: VB-1, hot: K1 red}
  A2: {area: beds, box: VB-2, hot: K2 red}
master valves:
  MV-1: {controllers: A, box: VB-3, hot: K3 red, return: K3 black}
relays:
  PUMP: {controller: A, terminal: P, box: PB-1, coil: usual, hot: K4 red, return: K4 black}
"""


def at_c(text: str) -> list[tuple[str, object, str]]:
    """Connectors and pigtails at C."""
    found = [row for row in listed(printable(HEAD + text)) if row.group == "connectors"]
    told: list[tuple[str, object, str]]
    told = [(read(row.what), row.counted or row.quantity, read(row.basis)) for row in found]
    at_controllers = [row for row in told if "splice at a controller" in row[2]]
    return at_controllers + [row for row in told if row[0].startswith("pigtail")]


def test_returns_of_master_valve_and_relay_are_on_c_too() -> None:
    """Two commons and two returns: four, and the pigtail makes five in the connector."""
    connector, pigtail = at_c(ON_C)
    # a hot and a return in each of four boxes, and the one at C
    assert connector == (
        "connector: small, accepts 2–6 × 18 AWG",
        9,
        "8 splices in boxes, 1 splice at a controller; 10 % extra",
    )
    assert pigtail == ("pigtail, 18 AWG, length not given", 1, "terminal C of A")
    assert at_c(TOUCHED) == []  # one conductor needs none


def test_a_pigtail_too_many_for_the_connector_is_not_hidden() -> None:
    job = HEAD.replace("2-6 x 18 AWG", "2-4 x 18 AWG") + ON_C
    found = [row for row in listed(printable(job)) if "at a controller" in row.basis]
    assert [row.what for row in found] == ["connector, type not given"]


def test_what_is_at_a_place_as_the_file_of_larkspur_says() -> None:
    """Read off its runs: A-K1 by VB-1 to VB-2, A-K2 to VB-3; the red hot of A1 ends in VB-1."""
    known = printable(sample("larkspur")).asbuilt
    cables = {at: [cable.id for cable in known.cables_at(at)] for at in ("A", "VB-1", "VB-3", "?")}
    assert cables == {"A": ["A-K1", "A-K2"], "VB-1": ["A-K1"], "VB-3": ["A-K2"], "?": []}
    assert [valve.id for valve in known.valves_of("A")] == ["A1", "A2", "A3", "A4", "A5", "A6"]
    hot, common = Use(role=Role.HOT, of="A1"), Use(role=Role.COMMON, of="A")
    assert [each.name for each in known.carrying(hot, "VB-1")] == ["A-K1 red"]
    assert known.carrying(hot, "VB-2") == ()
    assert [each.name for each in known.carrying(common, "A")] == ["A-K1 white", "A-K2 white"]
    assert [each.name for each in known.carrying(common, "A", "A-K2")] == ["A-K2 white"]
