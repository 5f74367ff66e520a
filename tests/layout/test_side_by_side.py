"""What stands beside each other: in its order, whole, level, and on as few cards as it takes."""

from __future__ import annotations

from dataclasses import replace

import pytest

from cardgen.layout.face import Column
from cardgen.layout.geometry import Mm, frame
from cardgen.layout.pieces import Misfit, Piece
from cardgen.layout.setting import Placed
from cardgen.layout.side_by_side import APART, Placement, part_width, poured, wide_width
from tests.layout.cards import PLACE

# Two parts of 47 mm, 100 mm high.
TWO = Column(
    span=PLACE,
    frame=frame(0, 0, 94 + APART, 100),
    blocks=(),
    gap=(Mm(2),),
    bottom=False,
    middle=False,
    ruled=False,
    flows=True,
    again=None,
    first=False,
    across=2,
    wide=0,
)
RIGHT = replace(TWO, wide=1)  # what is wide takes the left part


def pieces(*heights: float) -> list[tuple[float, Piece, float]]:
    """So high, with no gaps, tied to nothing."""
    return [(0.0, Piece(height=height), height) for height in heights]


def places(done: list[Placement]) -> list[tuple[int, float, float]]:
    return [(placement.card, placement.left, placement.top) for placement in done]


def test_widths_add_up() -> None:
    assert part_width(TWO) == 47
    assert wide_width(TWO) == 100
    assert wide_width(RIGHT) == 47


def test_part_by_part_and_level() -> None:
    done = poured(pieces(10, 10, 10, 10), TWO, 0, 30.0)
    assert places(done) == [(0, 0, 30), (0, 0, 40), (0, 53, 30), (0, 53, 40)]


def test_no_part_is_filled_further_than_it_must_be() -> None:
    """30 and 20 beside 40: by hand the lowest bottom that takes them in their order is 50."""
    done = poured(pieces(30, 20, 40), TWO, 0, 0.0)
    assert places(done) == [(0, 0, 0), (0, 0, 30), (0, 53, 0)]


def headed(height: float, header: float) -> tuple[float, Piece, float]:
    return 0.0, Piece(height=height, header=Placed(height=header)), height


def test_a_header_that_is_set_again_needs_its_room_too() -> None:
    """Beneath what is wide are 70 mm: for 65 alone, not with the 10 of its header."""
    done = poured([*pieces(60), headed(65, header=10)], TWO, 0, 30.0)
    assert [(p.card, p.top) for p in done if p.piece.height == 65] == [(1, 10)]
    # And 90 with 10 are all of a part, to the last hair.
    done = poured([*pieces(95), headed(90, header=10)], TWO, 0, 0.0)
    assert places(done) == [(0, 0, 0), (0, 53, 0), (0, 53, 10)]


def test_what_is_at_the_right_of_the_wide_comes_first() -> None:
    done = poured(pieces(60, 60), RIGHT, 0, 30.0)
    assert places(done) == [(0, 53, 0), (0, 0, 30)]


def test_the_right_of_every_card_is_used_where_the_wide_goes_on() -> None:
    done = poured(pieces(90, 90, 60), RIGHT, 1, 30.0)
    assert places(done) == [(0, 53, 0), (1, 53, 0), (1, 0, 30)]


def test_a_further_card_has_its_own_height() -> None:
    taller = replace(TWO, again=frame(0, 0, 100, 120))
    done = poured(pieces(90, 90, 115, 110), taller, 0, 0.0)
    assert [placement.card for placement in done] == [0, 0, 1, 1]
    with pytest.raises(Misfit):
        poured(pieces(121), taller, 0, 0.0)


def test_a_head_is_said_again_where_a_part_begins() -> None:
    head = Placed(height=5)
    rows = [(0.0, Piece(height=40, header=head), 40.0) for _ in range(3)]
    done = poured(rows, TWO, 0, 10.0)
    assert places(done) == [(0, 0, 10), (0, 0, 50), (0, 53, 10), (0, 53, 15)]
    assert done[2].piece is head


def test_a_title_is_not_left_alone_at_the_foot() -> None:
    """The title of 5 mm needs the 20 mm of its first row too."""
    title = (2.0, Piece(height=5, tied=True), 25.0)
    done = poured([*pieces(80), title, *pieces(20)], TWO, 0, 0.0)
    assert places(done) == [(0, 0, 0), (0, 53, 0), (0, 53, 5)]
