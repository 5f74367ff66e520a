"""The shipped faces as numbers: frames apart, inside the safe area, off holes and folds."""

from __future__ import annotations

from itertools import combinations
from pathlib import Path

import pytest

from cardgen.cards.card import CardKind
from cardgen.layout import lay_out, load_layouts
from cardgen.layout.face import Face, Show, at_scale
from cardgen.layout.geometry import frame
from cardgen.layout.items import TextLine
from cardgen.layout.stock import Stock
from tests.for_each import for_each
from tests.layout.cards import STAMP, flag, shipped

PAIRS = [
    (face, stock)
    for face in shipped().faces
    for stock in shipped().stocks.values()
    if stock.format == face.format
]
pair = for_each(("face", "stock"), PAIRS)


def test_every_kind_of_card_has_a_face() -> None:
    assert {face.kind for face in shipped().faces} == set(CardKind)


def test_every_stock_has_a_face() -> None:
    assert {face.format for face in shipped().faces} == {
        stock.format for stock in shipped().stocks.values()
    }


@for_each("face", shipped().faces)
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


ROLLS_AND_SMALLER = ("roll-50x75", "shipping-1", "shipping-2", "shipping-3")


@pytest.mark.parametrize(
    "face", [f for f in shipped().faces if f.kind is CardKind.VALVE_TAG], ids=lambda f: f.format
)
def test_the_color_word_leads_all_that_is_read_in_the_hand(face: Face) -> None:
    """At least 20 minutes of arc at 0.6 m (NUREG-0700) on a card and larger; the rest 0.8 of it."""
    (body,) = (c for c in face.columns if any(b.show is Show.CONDUCTOR for b in c.blocks))
    by_field = {block.field: block for block in body.blocks}
    for scale in range(body.scales):
        color = at_scale(by_field["hot"].capitals, scale)
        assert color == at_scale(by_field["common"].capitals, scale)
        assert color >= (2.0 if face.format in ROLLS_AND_SMALLER else 0.0058 * 600)
        for block in body.blocks:
            secondary = block.small if block.show is Show.CONDUCTOR else block.capitals
            share = 1.0 if face.format in ROLLS_AND_SMALLER else 0.8
            if block.field != "water":  # a warning is read before anything else
                assert at_scale(secondary, scale) <= share * color, (block.field, scale)


@pytest.mark.parametrize(
    "face", [f for f in shipped().faces if f.kind is CardKind.VALVE_TAG], ids=lambda f: f.format
)
def test_which_one_is_the_largest_and_then_where(face: Face) -> None:
    first = {block.field: block.capitals[0] for c in face.columns for block in c.blocks}
    others = max(height for field, height in first.items() if field not in ("headline", "box"))
    assert first["headline"] > first["box"] >= 0.85 * others


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


def test_a_conductor_that_a_face_of_ones_own_shows_as_text_has_its_cable(tmp_path: Path) -> None:
    """Red is in every cable: without the name of its cable nobody finds the wire."""
    (tmp_path / "faces").mkdir()
    (tmp_path / "faces" / "mine.yaml").write_text(
        """\
kind: flag
format: flag
columns:
  - frame: {x: 2 mm, y: 2 mm, width: 24 mm, height: 8 mm}
    blocks: [{field: conductor, capitals: 2 mm, rule: ours}]
""",
        encoding="utf-8",
    )
    layouts, problems = load_layouts(tmp_path)
    assert problems == ()
    done, problems = lay_out(
        [flag()], layouts=layouts, stock=layouts.stocks["flag-letter"], stamp=STAMP
    )
    assert not problems
    said = {item.text for page in done for item in page.items if isinstance(item, TextLine)}
    assert "A-K1 red RD" in " ".join(said).replace("\u00a0", " ")
