"""Find what cannot be right in a stock or a face: cards off the paper, text in a hole."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from cardgen.layout.face import Column, Face, Show
from cardgen.layout.geometry import NOTHING, frame
from cardgen.layout.legibility import asked
from cardgen.layout.stock import Stock
from cardgen.problems import Problem, Span, Verdict

HOLE_TO_EDGE = 4.0  # mm; less tears out under a tie (common practice)
MOST_OFFSET = 5.0  # mm; a printer that is further out has other paper or scales (assumed)
HOLE_TO_PRINT = 1.0  # mm; a punch is not placed more exactly by hand (assumed)


def _fault(code: str, span: Span, sentence: str, help_: str = "") -> Problem:
    return Problem(code=code, verdict=Verdict.ERROR, span=span, sentence=sentence, help=help_)


def stock_faults(stock: Stock) -> Iterator[Problem]:
    yield from _cards_off_the_paper(stock)
    yield from _cards_over_the_footer(stock)
    yield from _hole_near_the_edge(stock)
    yield from _folds_off_the_card(stock)
    yield from _safe_area_is_nothing(stock)
    yield from _offset_too_large(stock)


def _cards_off_the_paper(stock: Stock) -> Iterator[Problem]:
    last = stock.position(stock.per_sheet - 1)
    over = max(last.right - stock.paper_width, last.bottom - stock.paper_height)
    if over > NOTHING:
        sentence = f"the cards of '{stock.name}' reach {over:.2f} mm beyond the paper"
        yield _fault("cards-off-paper", stock.span, sentence, "fewer columns or rows, or less gap")


def _cards_over_the_footer(stock: Stock) -> Iterator[Problem]:
    if stock.footer is None:
        return
    cards = [stock.position(index) for index in range(stock.per_sheet)]
    if any(stock.footer.meets(card) for card in cards) or not stock.paper.holds(stock.footer):
        sentence = f"the footer of '{stock.name}' lies on a card or beyond the paper"
        yield _fault("footer-misplaced", stock.span, sentence)


def _hole_near_the_edge(stock: Stock) -> Iterator[Problem]:
    if stock.hole is None:
        return
    hole = stock.hole.frame
    near = min(hole.x, hole.y, stock.card_width - hole.right, stock.card_height - hole.bottom)
    if near < -NOTHING:
        sentence = f"the hole reaches {-near:.2f} mm beyond the card"
        help_ = "its middle is measured from the left and the top edge of the card"
        yield _fault("hole-near-edge", stock.hole.span, sentence, help_)
    elif stock.hole.marked and near < HOLE_TO_EDGE - NOTHING:
        sentence = f"the hole is {near:.2f} mm from the edge of the card"
        help_ = f"less than {HOLE_TO_EDGE:g} mm tears out"
        yield _fault("hole-near-edge", stock.hole.span, sentence, help_)


def _folds_off_the_card(stock: Stock) -> Iterator[Problem]:
    for fold in stock.folds:
        if not stock.safe < fold < stock.card_width - stock.safe:
            sentence = f"a fold at {fold:g} mm is not on a card {stock.card_width:g} mm wide"
            help_ = "folds are measured from the left edge of the card"
            yield _fault("fold-off-card", stock.span, sentence, help_)


def _safe_area_is_nothing(stock: Stock) -> Iterator[Problem]:
    if min(stock.safe_area.width, stock.safe_area.height) < NOTHING:
        sentence = f"the safe distance of {stock.safe:g} mm leaves nothing of the card"
        yield _fault("no-safe-area", stock.span, sentence, "2 to 4 mm are usual")


def _offset_too_large(stock: Stock) -> Iterator[Problem]:
    """A printer prints nothing beyond its paper, wherever it is moved to."""
    if stock.offset is None:
        return
    dx, dy = stock.offset.x, stock.offset.y
    if max(abs(dx), abs(dy)) > MOST_OFFSET:
        sentence = f"an offset of {dx:g} and {dy:g} mm is more than {MOST_OFFSET:g} mm"
        help_ = "print the proof again at 100 % on the right paper"
        yield _fault("offset-too-large", stock.offset.span, sentence, help_)
        return
    first, last = stock.position(0), stock.position(stock.per_sheet - 1)
    corners = (first.shrunk(stock.safe), last.shrunk(stock.safe), stock.footer)
    if not all(stock.paper.holds(at.moved(dx, dy)) for at in corners if at is not None):
        sentence = f"with its offset the print of '{stock.name}' leaves the paper"
        help_ = "move 'left' and 'top' of the grid, or give the cards a larger 'safe'"
        yield _fault("offset-too-large", stock.offset.span, sentence, help_)


def face_faults(face: Face, stocks: Sequence[Stock]) -> Iterator[Problem]:
    made_for = [stock for stock in stocks if stock.format == face.format]
    if not made_for:
        sentence = f"no stock has the format '{face.format}' of this face"
        known = ", ".join(sorted({f"'{s.format}'" for s in stocks}))
        yield _fault("format-unknown", face.span, sentence, f"known: {known}")
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
                yield _fault("frames-overlap", one.span, "this column lies on one above it")


def _meet(one: Column, other: Column, sheet: int) -> bool:
    """Whether two columns lie on each other on the first card (0) or on a further one (1)."""
    gone = sheet and (one.first or other.first)
    return not gone and one.frame_on(sheet).meets(other.frame_on(sheet))


def _letters_upside_down(face: Face) -> Iterator[Problem]:
    for column in face.columns:
        for block in column.blocks:
            if block.least > block.capitals:
                sentence = f"the least letters of '{block.field}' are larger than the wanted ones"
                yield _fault("least-above-wanted", block.span, sentence)
            lacks = asked(block.rule) - block.least
            if lacks > NOTHING:
                sentence = (
                    f"the least letters of '{block.field}' are {block.least:g} mm, "
                    f"{lacks:.2g} mm less than their rule asks for"
                )
                help_ = f"least: {asked(block.rule):g} mm, or a shorter distance in 'rule'"
                yield _fault("letters-below-rule", block.span, sentence, help_)
            if block.show in (Show.CODE, Show.SYMBOL) and block.side > column.frame.width:
                sentence = f"the code is wider than its column of {column.frame.width:g} mm"
                yield _fault("code-too-large", block.span, sentence)


def _column_misplaced(column: Column, face: Face, stock: Stock) -> Iterator[Problem]:
    shifts = (0.0, *face.copies)
    for at in [f.moved(dx, 0) for f in (column.frame, column.frame_on(1)) for dx in shifts]:
        if not stock.safe_area.holds(at):
            sentence = f"this column leaves the safe area of '{stock.name}'"
            area = stock.safe_area
            help_ = (
                f"x from {area.x:g} to {area.right:g} mm, y from {area.y:g} to {area.bottom:g} mm"
            )
            yield _fault("frame-outside-safe-area", column.span, sentence, help_)
        if stock.hole is not None and at.meets(stock.hole.frame.shrunk(-HOLE_TO_PRINT)):
            sentence = f"this column lies on the hole of '{stock.name}'"
            yield _fault("frame-on-hole", column.span, sentence)
        for fold in stock.folds:
            if at.meets(frame(fold - 0.5, 0, 1, stock.card_height)):
                sentence = f"this column lies on the fold of '{stock.name}' at {fold:g} mm"
                yield _fault("frame-on-fold", column.span, sentence)
