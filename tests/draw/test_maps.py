"""Tiny pages as maps of dots: what is drawn, drawn by Poppler at one dot a millimeter.

`#` is black, `.` paper, `+` gray (half covered), letters are colors.  A map is what was meant, set
down by hand: each number of an item is a whole millimeter, so each edge is between two dots.
"""

from __future__ import annotations

import numpy as np
import pytest

from cardgen.draw.pdf import pdf
from cardgen.fonts import Weight
from cardgen.layout.geometry import Mm, frame
from cardgen.layout.inks import inked
from cardgen.layout.items import (
    WHITE,
    Fill,
    Item,
    Outline,
    Page,
    Ring,
    Segment,
    Slope,
    Strokes,
    Swatch,
    Symbol,
)
from cardgen.layout.setting import line
from cardgen.printer import Ink
from tests.outside.pages import by_poppler

ONE_A_MM = 25.4  # dots per inch
RED, GREEN = "#FF0000", "#008000"
COLORS = {(255, 0, 0): "R", (0, 128, 0): "G", (255, 255, 255): ".", (0, 0, 0): "#"}


def page(wide: int, high: int, *items: Item, turn: int = 0) -> Page:
    return Page(width=Mm(wide), height=Mm(high), own=items, turn=turn)


def strokes(width: float, *ends: tuple[float, float, float, float]) -> Strokes:
    segments = tuple(Segment(x1=Mm(x1), y1=Mm(y1), x2=Mm(x2), y2=Mm(y2)) for x1, y1, x2, y2 in ends)
    return Strokes(segments=segments, width=Mm(width))


def drawn(*pages: Page) -> list[str]:
    """The last of the pages, row by row."""
    data = pdf(pages, title="t", subject="s")
    dots = np.asarray(by_poppler(data, ONE_A_MM, len(pages) - 1))
    return ["".join(_sign(*(int(v) for v in dot)) for dot in row) for row in dots]


def _sign(red: int, green: int, blue: int) -> str:
    if red == green == blue:
        return "#" if red < 80 else "." if red > 175 else "+"
    return COLORS.get((red, green, blue), "?")


def rows(text: str) -> list[str]:
    return text.split()


SYMBOL = Symbol(
    frame=frame(0, 0, 7, 7), x=Mm(2), y=Mm(2), module=Mm(1),
    rows=(b"\1\0\1", b"\0\1\1", b"\1\0\0"),
    address="A", level="M",
)  # fmt: skip
WIRE = Swatch(
    frame=frame(1, 1, 6, 4), shows="red",
    parts=(Fill(frame=frame(1, 1, 6, 4), ink=RED), strokes(1, (2, 3.5, 6, 3.5)),
           Outline(frame=frame(1, 1, 6, 4), width=Mm(1))),
)  # fmt: skip
FLAG = (Fill(frame=frame(0, 0, 3, 1)), Fill(frame=frame(0, 1, 1, 1)))

MAPS = {
    "a fill": (page(6, 4, Fill(frame=frame(1, 1, 3, 2))), "...... .###.. .###.. ......"),
    "an outline lies inside its frame": (
        page(7, 5, Outline(frame=frame(1, 0, 5, 5), width=Mm(1))),
        ".#####. .#...#. .#...#. .#...#. .#####.",
    ),
    "a level line ends where it is said": (
        page(7, 3, strokes(1, (1, 1.5, 5, 1.5))),
        "....... .####.. .......",
    ),
    "an upright line of two dots": (
        page(6, 4, strokes(2, (3, 1, 3, 4))),
        "...... ..##.. ..##.. ..##..",
    ),
    "many lines at once": (
        page(6, 5, strokes(1, (0, 0.5, 2, 0.5), (4, 0.5, 6, 0.5), (2.5, 2, 2.5, 5))),
        "##..## ...... ..#... ..#... ..#...",
    ),
    "a line that slants": (
        page(5, 5, strokes(1.5, (0, 0, 5, 5))),
        "##... ###.. .###. ..### ...##",
    ),
    "a ring": (
        page(8, 8, Ring(x=Mm(4), y=Mm(4), diameter=Mm(6), width=Mm(1.4))),
        "...++... .######. .#+..+#. +#....#+ +#....#+ .#+..+#. .######. ...++...",
    ),
    "a code, row by row from the top": (
        page(7, 7, SYMBOL),
        "....... ....... ..#.#.. ...##.. ..#.... ....... .......",
    ),
    "a swatch, its parts in their order": (
        page(8, 6, WIRE),
        "........ .######. .#RRRR#. .######. .######. ........",
    ),
    "what comes later covers": (
        page(5, 3, Fill(frame=frame(0, 0, 5, 3)), Fill(frame=frame(1, 1, 3, 1), ink=WHITE)),
        "##### #...# #####",
    ),
    "a color beside another": (
        page(4, 2, Fill(frame=frame(0, 0, 2, 2), ink=RED),
             Fill(frame=frame(2, 0, 2, 1), ink=GREEN)),
        "RRGG RR..",
    ),
    "in one ink, the pattern without its ground": (
        inked(page(8, 6, WIRE), Ink.ONE),
        "........ .######. .#....#. .######. .######. ........",
    ),
    "turned by a quarter": (page(3, 2, *FLAG, turn=90), "## .# .#"),
    "turned by a half": (page(3, 2, *FLAG, turn=180), "..# ###"),
    "turned back by a quarter": (page(3, 2, *FLAG, turn=270), "#. #. ##"),
}  # fmt: skip


@pytest.mark.parametrize("name", MAPS)
def test_a_map(name: str) -> None:
    made, meant = MAPS[name]
    assert drawn(made) == rows(meant)


def test_a_slope_leans_from_its_upper_to_its_lower_end() -> None:
    made = page(8, 3, Slope(x1=Mm(4), y1=Mm(0), x2=Mm(1), y2=Mm(3), width=Mm(3)))
    dark = np.asarray(by_poppler(pdf([made], title="t", subject="s"), 10 * ONE_A_MM))[..., 0] < 128
    assert len(dark) == 30
    for number, row in enumerate(dark):
        # By hand: at 45 degrees, so a dot to the left in each row; ten dots a millimeter.
        assert np.argmax(row) == pytest.approx(40 - number - 0.5, abs=1)
        assert row.sum() == pytest.approx(30, abs=1)


def test_white_letters_on_black() -> None:
    black = Fill(frame=frame(0, 0, 8, 10))
    dark = page(8, 10, black, line("I", Weight.HEAVY, x_mm=1, y_mm=9, capital_mm=8, ink=WHITE))
    light = page(8, 10, line("I", Weight.HEAVY, x_mm=1, y_mm=9, capital_mm=8))
    turned = str.maketrans("#.", ".#")
    assert drawn(dark) == [row.translate(turned) for row in drawn(light)]


def test_each_page_has_its_own_size_and_things() -> None:
    first, second = page(3, 1, Fill(frame=frame(0, 0, 1, 1))), page(2, 2)
    assert drawn(first) == ["#.."]
    assert drawn(first, second) == ["..", ".."]
