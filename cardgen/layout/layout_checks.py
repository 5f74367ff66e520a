"""Find what cannot be right in a stock or a face: cards off the paper, text in a hole."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from cardgen.faults.layout_faults import (
    CARDS_OFF_PAPER,
    FOLD_OFF_CARD,
    FOOTER_MISPLACED,
    FORMAT_UNKNOWN,
    FRAME_ON_FOLD,
    FRAME_ON_HOLE,
    FRAME_OUTSIDE_SAFE_AREA,
    FRAMES_OVERLAP,
    HEIGHTS_NOT_FALLING,
    HOLE_NEAR_EDGE,
    LETTERS_BELOW_RULE,
    NO_SAFE_AREA,
    OFFSET_TOO_LARGE,
    TURNED_UNKNOWN,
)
from cardgen.faults.paper_faults import CODE_TOO_LARGE
from cardgen.layout.face import Column, Face, Show
from cardgen.layout.geometry import NOTHING, frame
from cardgen.layout.legibility import asked
from cardgen.layout.stock import Stock
from cardgen.problems import Problem, Span
from cardgen.reading.shapes.spelling import nearest

HOLE_TO_EDGE = 4.0  # mm; less tears out under a tie (common practice)
MOST_OFFSET = 5.0  # mm; a printer that is further out has other paper or scales (assumed)
OWN_TURNED = "leave 'turned' out, or add that stock"
HOLE_TO_PRINT = 1.0  # mm; a punch is not placed more exactly by hand (assumed)


def stock_faults(stock: Stock) -> Iterator[Problem]:
    yield from _cards_off_the_paper(stock)
    yield from _cards_over_the_footer(stock)
    yield from _hole_near_the_edge(stock)
    yield from _folds_off_the_card(stock)
    yield from _safe_area_is_nothing(stock)
    yield from _offset_too_large(stock)


def turned_faults(stock: Stock, stocks: Mapping[str, Stock]) -> Iterator[Problem]:
    """Of the stock that a sheet may be turned to."""
    if not stock.turned:
        return
    place, name, turned = stock.span, stock.name, stock.turned
    other = stocks.get(turned)
    if other is None:
        known = nearest(turned, stocks) or OWN_TURNED
        yield TURNED_UNKNOWN.at(place, stock=name, turned=turned, known=known)
        return
    wide, high = other.paper_width, other.paper_height
    if max(abs(wide - stock.paper_height), abs(high - stock.paper_width)) > NOTHING:
        yield TURNED_UNKNOWN.at(
            place, variant="size", stock=name, turned=turned, width=wide, height=high
        )


def _cards_off_the_paper(stock: Stock) -> Iterator[Problem]:
    last = stock.position(stock.per_sheet - 1)
    over = max(last.right - stock.paper_width, last.bottom - stock.paper_height)
    if over > NOTHING:
        yield CARDS_OFF_PAPER.at(stock.span, stock=stock.name, over=over)


def _cards_over_the_footer(stock: Stock) -> Iterator[Problem]:
    if stock.footer is None:
        return
    cards = [stock.position(index) for index in range(stock.per_sheet)]
    if any(stock.footer.meets(card) for card in cards) or not stock.paper.holds(stock.footer):
        yield FOOTER_MISPLACED.at(stock.span, stock=stock.name)


def _hole_near_the_edge(stock: Stock) -> Iterator[Problem]:
    if stock.hole is None:
        return
    hole = stock.hole.frame
    near = min(hole.x, hole.y, stock.card_width - hole.right, stock.card_height - hole.bottom)
    if near < -NOTHING:
        yield HOLE_NEAR_EDGE.at(stock.hole.span, variant="beyond", over=-near)
    elif stock.hole.marked and near < HOLE_TO_EDGE - NOTHING:
        yield HOLE_NEAR_EDGE.at(stock.hole.span, near=near, least=HOLE_TO_EDGE)


def _folds_off_the_card(stock: Stock) -> Iterator[Problem]:
    for fold in stock.folds:
        if not stock.safe < fold < stock.card_width - stock.safe:
            yield FOLD_OFF_CARD.at(stock.span, fold=fold, width=stock.card_width)


def _safe_area_is_nothing(stock: Stock) -> Iterator[Problem]:
    if min(stock.safe_area.width, stock.safe_area.height) < NOTHING:
        yield NO_SAFE_AREA.at(stock.span, safe=stock.safe)


def _offset_too_large(stock: Stock) -> Iterator[Problem]:
    """A printer prints nothing beyond its paper, wherever it is moved to."""
    if stock.offset is None:
        return
    dx, dy = stock.offset.x, stock.offset.y
    if max(abs(dx), abs(dy)) > MOST_OFFSET:
        yield OFFSET_TOO_LARGE.at(stock.offset.span, x=dx, y=dy, most=MOST_OFFSET)
        return
    first, last = stock.position(0), stock.position(stock.per_sheet - 1)
    corners = (first.shrunk(stock.safe), last.shrunk(stock.safe), stock.footer)
    if not all(stock.paper.holds(at.moved(dx, dy)) for at in corners if at is not None):
        place = stock.offset.span
        yield OFFSET_TOO_LARGE.at(place, variant="off the paper", stock=stock.name)


def face_faults(face: Face, stocks: Sequence[Stock]) -> Iterator[Problem]:
    made_for = [stock for stock in stocks if stock.format == face.format]
    if not made_for:
        known = ", ".join(sorted({f"'{s.format}'" for s in stocks}))
        yield FORMAT_UNKNOWN.at(face.span, format=face.format, known=known)
    yield from _columns_meet(face)
    yield from _letters_upside_down(face)
    told: set[tuple[str, Span]] = set()
    for stock in made_for:
        if min(stock.safe_area.width, stock.safe_area.height) < NOTHING:
            continue  # told of the stock
        for column in face.columns:
            for problem in _column_misplaced(column, face, stock):
                # Many stocks share a format: one fault of a column is told of the first of them.
                if (problem.code, problem.span) not in told:
                    told.add((problem.code, problem.span))
                    yield problem


def _columns_meet(face: Face) -> Iterator[Problem]:
    for number, one in enumerate(face.columns):
        for other in face.columns[:number]:
            if any(_meet(one, other, sheet) for sheet in (0, 1)):
                yield FRAMES_OVERLAP.at(one.span)


def _meet(one: Column, other: Column, sheet: int) -> bool:
    """Whether two columns overlap on the first card (0) or on a further one (1)."""
    gone = sheet and (one.first or other.first)
    return not gone and one.frame_on(sheet).meets(other.frame_on(sheet))


def _letters_upside_down(face: Face) -> Iterator[Problem]:
    for column in face.columns:
        for block in column.blocks:
            if any(list(h) != sorted(h, reverse=True) for h in (block.capitals, block.small)):
                yield HEIGHTS_NOT_FALLING.at(block.span, field=block.field)
            lacks = asked(block.rule) - block.least
            if lacks > NOTHING:
                yield LETTERS_BELOW_RULE.at(
                    block.span,
                    field=block.field,
                    least=block.least,
                    lacks=lacks,
                    asked=asked(block.rule),
                )
            width = column.frame.width
            if block.show in (Show.CODE, Show.SYMBOL) and block.side > width:
                yield CODE_TOO_LARGE.at(block.span, variant="column", width=width)


def _column_misplaced(column: Column, face: Face, stock: Stock) -> Iterator[Problem]:
    shifts = (0.0, *face.copies)
    for at in [f.moved(dx, 0) for f in (column.frame, column.frame_on(1)) for dx in shifts]:
        if not stock.safe_area.holds(at):
            area = stock.safe_area
            yield FRAME_OUTSIDE_SAFE_AREA.at(
                column.span,
                stock=stock.name,
                left=area.x,
                right=area.right,
                top=area.y,
                bottom=area.bottom,
            )
        if stock.hole is not None and at.meets(stock.hole.frame.shrunk(-HOLE_TO_PRINT)):
            yield FRAME_ON_HOLE.at(column.span, stock=stock.name)
        for fold in stock.folds:
            if at.meets(frame(fold - 0.5, 0, 1, stock.card_height)):
                yield FRAME_ON_FOLD.at(column.span, stock=stock.name, fold=fold)
