"""Least heights from a rule and a distance."""

from __future__ import annotations

import pytest

from cardgen.cards import CardKind
from cardgen.layout import lay_out
from cardgen.layout.face import FaceBlock, Show
from cardgen.layout.legibility import asked, rule_of
from cardgen.units import Meters
from tests.layout.cards import STAMP, shipped, valve_tag
from tests.layout.samples import sample_cards


@pytest.mark.parametrize(
    ("words", "millimeters"),
    [
        # NUREG-0700: 0.004 of the distance is the minimum; 0.006, 20 minutes of arc, preferred.
        ("NUREG-0700 minimum of 15 minutes of arc at 0.5 m", 2.0),
        ("NUREG-0700 minimum of 15 minutes of arc at 1.5 m", 6.0),
        ("NUREG-0700 preferred 20 minutes of arc at 0.6 m", 3.5),  # 0.6 m x tan(20') = 3.49 mm
        ("read at leisure, at 0.5 m (assumed)", 0.0),
        ("ISO/IEC 18004, quiet zone of 4 modules", 0.0),
        ("ours", 0.0),
    ],
)
def test_a_rule_asks_for_a_height(words: str, millimeters: float) -> None:
    assert asked(rule_of(words)) == pytest.approx(millimeters, abs=0.025)


def test_every_shipped_rule_with_a_distance_is_understood() -> None:
    for face in shipped().faces:
        for column in face.columns:
            for block in column.blocks:
                if block.rule.words.startswith("NUREG"):
                    assert block.rule.share and block.rule.meters


def blocks(kind: CardKind, format_: str, meters: float) -> dict[str, FaceBlock]:
    face = shipped().seen_from(Meters(meters)).face(kind, format_)
    assert face is not None
    return {b.field: b for c in face.columns for b in c.blocks if b.field != "code"}


def test_a_tag_read_from_farther_has_larger_id_box_and_color_and_nothing_else() -> None:
    usual, afar = (blocks(CardKind.VALVE_TAG, "ID-1", meters) for meters in (0.5, 1.1))
    for field in ("headline", "box", "hot", "common"):
        assert afar[field].least == pytest.approx(max(usual[field].least, 4.4))  # 0.004 x 1.1 m
    assert [f for f in usual if usual[f] != afar[f]] == ["box", "hot", "common"]


def test_what_does_not_hang_in_a_box_stays() -> None:
    for kind, format_ in ((CardKind.LEGEND, "legend"), (CardKind.FLAG, "flag")):
        face = shipped().face(kind, format_)
        assert shipped().seen_from(Meters(0.8)).face(kind, format_) == face


def test_what_has_no_room_then_is_told_with_the_stock_that_has() -> None:
    layouts = shipped().seen_from(Meters(1.4))
    stock = layouts.stocks["id-1-letter"]
    (problem,) = lay_out([valve_tag()], layouts=layouts, stock=stock, stamp=STAMP)[1]
    assert problem.code == "text-too-long"
    assert "mm too wide even in the smallest letters (5.6 mm)" in problem.sentence
    assert problem.help.startswith("it fits on 'a7-letter', 'shipping-tag-5'")
    assert problem.help.endswith("; or read it from nearer than 1.4 m")
    a7 = layouts.stocks["a7-letter"]
    assert lay_out([valve_tag()], layouts=layouts, stock=a7, stamp=STAMP)[1] == ()


@pytest.mark.parametrize("name", ["larkspur", "quarry", "sandpiper"])
def test_the_usual_tag_is_printed_for_eyes_two_feet_away(name: str) -> None:
    layouts = shipped().seen_from(Meters(0.6096))
    for stock in ("id-1-letter", "id-1-card"):
        some = sample_cards(name, "en")[CardKind.VALVE_TAG]
        found, problems = lay_out(some, layouts=layouts, stock=layouts.stocks[stock], stamp=STAMP)
        assert problems == ()
        assert sum(len(page.cards) for page in found) == len(some)


def test_letters_from_feet_are_told_without_a_tail_of_digits() -> None:
    """6 ft are 1.8288 m, so 7.3152 mm: told as 7.32."""
    layouts = shipped().seen_from(Meters(1.8288))
    stock = layouts.stocks["shipping-tag-1"]
    problems = lay_out([valve_tag()], layouts=layouts, stock=stock, stamp=STAMP)[1]
    assert problems
    for problem in problems:
        assert "7.3152" not in problem.sentence
        assert "7.32 mm" in problem.sentence


# ID-1 is 85.60 x 53.98 mm (ISO/IEC 7810); smaller stock has shorter letters.
ID_1_AREA = 85.6 * 53.98


def test_a_color_word_is_read_at_arms_length_on_every_valve_tag_from_id_1_up() -> None:
    """NUREG-0700, preferred: 20 minutes of arc at 0.6 m, 600 mm x tan(20') = 3.49 mm."""
    layouts = shipped()
    faces = {face.format: face for face in layouts.faces if face.kind is CardKind.VALVE_TAG}
    large = [
        stock
        for stock in layouts.stocks.values()
        if stock.format in faces and stock.card_width * stock.card_height >= ID_1_AREA - 1
    ]
    assert len(large) >= 10
    for stock in large:
        for column in faces[stock.format].columns:
            for block in column.blocks:
                assert block.show is not Show.CONDUCTOR or block.least >= 3.49, stock.name
