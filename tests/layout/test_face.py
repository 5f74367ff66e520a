"""The shipped faces as numbers: frames apart, inside the safe area, off holes and folds."""

from __future__ import annotations

from itertools import combinations

import pytest

from cardgen.cards.card import CardKind
from cardgen.layout.face import Face, Show
from cardgen.layout.geometry import frame
from cardgen.layout.stock import Stock
from tests.layout.cards import shipped

PAIRS = [
    (face, stock)
    for face in shipped().faces
    for stock in shipped().stocks.values()
    if stock.format == face.format
]
pair = pytest.mark.parametrize(
    ("face", "stock"), PAIRS, ids=[f"{face.name} on {stock.name}" for face, stock in PAIRS]
)


def test_every_kind_of_card_has_a_face() -> None:
    assert {face.kind for face in shipped().faces} == set(CardKind)


def test_every_stock_has_a_face() -> None:
    assert {face.format for face in shipped().faces} == {
        stock.format for stock in shipped().stocks.values()
    }


@pytest.mark.parametrize("face", shipped().faces, ids=lambda face: face.name)
def test_frames_do_not_overlap(face: Face) -> None:
    for one, other in combinations(face.columns, 2):
        assert not one.frame.meets(other.frame), (one.span, other.span)


@pair
def test_frames_lie_in_the_safe_area(face: Face, stock: Stock) -> None:
    for column in face.columns:
        for shift in (0.0, *face.copies):
            assert stock.safe_area.holds(column.frame.moved(shift, 0)), column.span


@pair
def test_no_frame_lies_on_the_hole_or_a_fold(face: Face, stock: Stock) -> None:
    for column in face.columns:
        for shift in (0.0, *face.copies):
            at = column.frame.moved(shift, 0)
            assert stock.hole is None or not at.meets(stock.hole.frame.shrunk(-1))
            assert not any(at.meets(frame(x, 0, 0.1, stock.card_height)) for x in stock.folds)


def test_frames_on_the_roll_lie_on_dots() -> None:
    dot = shipped().stocks["roll-50x75"].dot
    for face in shipped().faces:
        if face.format == "roll-50x75":
            for column in face.columns:
                for edge in (column.frame.x, column.frame.y):
                    assert edge / dot == pytest.approx(round(edge / dot))


# Wanted heights on the small formats, mm (the trade's list of importance; common practice).
WANTED = {"headline": 12.0, "box": 6.0, "area": 4.0, "hot": 4.0, "common": 4.0, "ohms": 3.5}


@pytest.mark.parametrize("format_", ["ID-1", "roll-50x75", "shipping-5"])
def test_wanted_heights_follow_the_order_of_importance(format_: str) -> None:
    face = shipped().face(CardKind.VALVE_TAG, format_)
    assert face is not None
    found = {
        block.field: block.capitals
        for column in face.columns
        for block in column.blocks
        if block.show is not Show.SYMBOL
    }
    assert all(found[field] >= height for field, height in WANTED.items())


@pytest.mark.parametrize(
    "format_", ["legend", "legend-upright", "legend-small", "legend-small-upright"]
)
def test_letters_of_the_legend_never_go_below_2_5_mm(format_: str) -> None:
    face = shipped().face(CardKind.LEGEND, format_)
    assert face is not None
    assert min(block.least for column in face.columns for block in column.blocks) >= 2.5


def test_every_block_names_the_rule_of_its_least_height() -> None:
    # NUREG-0700: 15 minutes of arc are 0.004 of the distance; a rule that gives a distance holds.
    for face in shipped().faces:
        for column in face.columns:
            for block in column.blocks:
                words = block.rule.words
                assert words
                if words.startswith("NUREG-0700 minimum of 15 minutes of arc at "):
                    meters = float(words.split(" at ")[1].removesuffix(" m"))
                    assert block.least >= 0.004 * 1000 * meters - 1e-9, block.span
                if words.startswith("NUREG-0700 preferred 20 minutes of arc at "):
                    meters = float(words.split(" at ")[1].removesuffix(" m"))
                    assert block.least >= 0.0058 * 1000 * meters - 1e-9, block.span
