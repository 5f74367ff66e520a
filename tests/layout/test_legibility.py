"""Least heights from a rule and a distance."""

from __future__ import annotations

from pathlib import Path

import pytest

from cardgen.cards import CardKind
from cardgen.layout import lay_out, load_layouts
from cardgen.layout.face import FaceBlock
from cardgen.layout.legibility import asked, rule_of
from cardgen.reading.shipped import shipped_folder
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


def test_a_tag_read_from_farther_has_larger_least_letters() -> None:
    found = blocks(CardKind.VALVE_TAG, "ID-1", 0.8)
    assert found["area"].least == pytest.approx(3.2)  # 0.004 x 0.8 m
    assert found["ohms"].capitals >= found["ohms"].least
    assert found["headline"].least == pytest.approx(5)  # of 1.25 m already
    assert found["stamp"].least == pytest.approx(2)  # at leisure


def test_what_does_not_hang_in_a_box_stays() -> None:
    for kind, format_ in ((CardKind.LEGEND, "legend"), (CardKind.FLAG, "flag")):
        face = shipped().face(kind, format_)
        assert shipped().seen_from(Meters(0.8)).face(kind, format_) == face


def test_what_has_no_room_then_is_told_with_the_stock_that_has() -> None:
    layouts = shipped().seen_from(Meters(0.7))
    stock = layouts.stocks["id-1-letter"]
    (problem,) = lay_out([valve_tag()], layouts=layouts, stock=stock, stamp=STAMP)[1]
    assert problem.code == "text-too-long"
    assert "is 1.3 mm too tall even in the smallest letters (from 2.8 mm)" in problem.sentence
    assert problem.help.startswith("it fits on 'a7-letter', 'shipping-tag-6'")
    assert problem.help.endswith("; or read it from nearer than 0.7 m")
    a7 = layouts.stocks["a7-letter"]
    assert lay_out([valve_tag()], layouts=layouts, stock=a7, stamp=STAMP)[1] == ()


def test_a_face_for_afar_takes_the_place_of_the_usual_one_from_there_on() -> None:
    def named(meters: float) -> str:
        face = shipped().seen_from(Meters(meters)).face(CardKind.VALVE_TAG, "ID-1")
        assert face is not None
        return face.name

    usual = shipped().face(CardKind.VALVE_TAG, "ID-1")
    assert usual is not None and usual.name == named(0.54) == "valve-tag-id-1"
    assert named(0.55) == named(1.0) == "valve-tag-id-1-afar"


def test_ones_own_face_goes_before_a_shipped_one_for_afar(tmp_path: Path) -> None:
    (tmp_path / "faces").mkdir()
    shipped_face = shipped_folder() / "faces" / "valve-tag-id-1.yaml"
    (tmp_path / "faces" / "ours.yaml").write_bytes(shipped_face.read_bytes())
    layouts, problems = load_layouts(tmp_path)
    assert problems == ()
    face = layouts.seen_from(Meters(0.6)).face(CardKind.VALVE_TAG, "ID-1")
    assert face is not None and face.name == "ours"


@pytest.mark.parametrize("name", ["larkspur", "quarry", "sandpiper"])
def test_the_usual_tag_is_printed_for_eyes_two_feet_away(name: str) -> None:
    layouts = shipped().seen_from(Meters(0.6096))
    for stock in ("id-1-letter", "id-1-card"):
        some = sample_cards(name, "en")[CardKind.VALVE_TAG]
        found, problems = lay_out(some, layouts=layouts, stock=layouts.stocks[stock], stamp=STAMP)
        assert problems == ()
        assert sum(len(page.cards) for page in found) == len(some)


def test_letters_from_feet_are_told_without_a_tail_of_digits() -> None:
    """2 ft are 0.6096 m, so 2.4384 mm: told as 2.44."""
    layouts = shipped().seen_from(Meters(0.6096))
    stock = layouts.stocks["shipping-tag-1"]
    problems = lay_out([valve_tag()], layouts=layouts, stock=stock, stamp=STAMP)[1]
    assert problems
    for problem in problems:
        assert "2.4384" not in problem.sentence
        assert "2.44 mm" in problem.sentence
