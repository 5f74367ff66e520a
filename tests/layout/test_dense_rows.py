"""Long text goes on over empty cells; a note goes under its row where it does not fit behind."""

from __future__ import annotations

from dataclasses import replace

from cardgen.cards.card import Noted, PrintedCell, Table
from cardgen.fonts import Weight, width
from cardgen.layout.geometry import Mm
from cardgen.layout.items import Strokes, TextLine
from cardgen.layout.setting import Placed, PrinterHead
from cardgen.layout.table import Look, SetTable, set_table
from tests.layout.cards import mark

LOOK = Look(
    capital=2.5,
    least=2.5,
    names=False,
    cable=True,
    press=PrinterHead(dot=Mm(0), colored=True),
    dense=True,
)
NOTED = Noted("lawn N; 2 valves: A1a and A1b", "lawn N", "2 valves: A1a and A1b")
BAND = "33.2 (27–39)"
SHORT: tuple[PrintedCell, ...] = ("2 · A2", mark("A-K1", "red"), "rose garden", "VB-1", BAND)


def table(*rows: tuple[PrintedCell, ...]) -> Table:
    return Table(columns=("a", "b", "c", "d", "e"), rows=rows)


def lines(row: Placed) -> dict[str, TextLine]:
    return {item.text: item for item in row.items if isinstance(item, TextLine)}


def done(*rows: tuple[PrintedCell, ...], room_mm: float, look: Look = LOOK) -> SetTable:
    made = set_table(table(*rows), width_mm=room_mm, look=look)
    assert made is not None
    return made


def test_text_goes_on_over_empty_cells_and_makes_no_column_wider() -> None:
    said = "common for A1 to A8; 2 in one connector"
    long: tuple[PrintedCell, ...] = ("C", mark("A-K1", "red"), said, "", "")
    alone = lines(done(SHORT, room_mm=150).rows[0])
    both = done(SHORT, long, room_mm=150)
    assert said in lines(both.rows[1])  # on one line, over three columns
    assert lines(both.rows[0])["VB-1"].x - alone["VB-1"].x < 1e-6
    assert lines(both.rows[1])[said].x == lines(both.rows[0])["rose garden"].x


def test_text_stops_before_a_cell_that_says_something() -> None:
    said = "a very long strip of lawn along the western wall"
    row: tuple[PrintedCell, ...] = ("C", mark("A-K1", "white"), said, "VB-1", "")
    made = lines(done(row, room_mm=100).rows[0])
    edge = made["VB-1"].x
    assert said not in made
    for text, item in made.items():
        if item.x < edge:
            assert item.x + width(text, item.weight) * 2.5 <= edge + 1e-6


def test_a_note_stands_behind_where_that_fits_and_else_under_all_of_its_row() -> None:
    row: tuple[PrintedCell, ...] = ("1 · A1", mark("A-K1", "red"), NOTED, "VB-1", "33.2 (27–39)")
    assert NOTED in lines(done(row, SHORT, room_mm=180).rows[0])
    narrow = done(row, SHORT, room_mm=110)
    made = lines(narrow.rows[0])
    assert made[NOTED.head].x == made[NOTED.note].x
    assert made[NOTED.head].y == made["VB-1"].y < made[NOTED.note].y
    # It may reach under its neighbors; the rule is below it.
    assert made[NOTED.note].x + width(NOTED.note, Weight.MEDIUM) * 2.5 > made["VB-1"].x
    rule = next(item for item in narrow.rows[0].items if isinstance(item, Strokes))
    assert rule.segments[0].y1 - made[NOTED.note].y > 0.3 * 2.5


def test_a_note_is_under_neighbors_of_several_lines() -> None:
    row: tuple[PrintedCell, ...] = ("1", "", NOTED, "VB-1 and VB-2 and VB-3", "33.2 (27–39)")
    made = lines(done(row, room_mm=62).rows[0])
    lowest = max(item.y for text, item in made.items() if text.startswith(("VB", "and")))
    assert made[NOTED.note].y > lowest + 2.5


def test_rows_are_near_4_mm_and_all_letters_as_far_from_the_rule() -> None:
    """A finger can follow 4 mm (common practice, no source)."""
    made = done(SHORT, ("15", "", "empty", "", ""), ("16 A", "", "EMPTY", "", ""), room_mm=120)
    assert all(4.0 <= row.height <= 4.3 for row in made.rows)
    usual = done(SHORT, room_mm=120, look=replace(LOOK, dense=False))
    assert usual.rows[0].height > 5
    for row in made.rows:
        (rule,) = (item for item in row.items if isinstance(item, Strokes))
        base = max(item.y for item in row.items if isinstance(item, TextLine))
        assert rule.segments[0].y1 - base > 0.3 * 2.5
