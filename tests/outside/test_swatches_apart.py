"""Every two insulations are told apart by their pictures, at the smallest size that is printed.

Drawn by PDFium at the dots of a thermal head, then compared dot by dot.  The measure: one picture
is moved over the other by up to half of the widest pattern's period, up and down, left and right,
and the best fit counts, so that the same pattern shifted is the same.  Of a zone (what the base
changes, what the stripe changes) it is the share of dots that differ even then.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from itertools import combinations, product

import numpy as np
import pytest
from numpy.typing import NDArray

from cardgen.draw.pdf import pdf
from cardgen.layout.geometry import frame
from cardgen.layout.items import Page, Swatch
from cardgen.layout.setting import SMALLEST_SWATCH
from cardgen.layout.snap import snapped
from cardgen.layout.swatch import swatch
from cardgen.trade.colors import COLORS
from tests.layout.cards import mark, one_of_each, pages, shipped
from tests.outside.pages import by_pdfium
from tests.outside.test_color_vision import DEFICIENCIES, LEAST_STEP, brightness, seen

Picture = NDArray[np.float64]
Mask = NDArray[np.bool_]
Dots = NDArray[np.int64]

HEADS = {"203 dpi": (0.125, 203.2), "300 dpi": (1 / 12, 304.8)}  # mm of a dot, dots an inch
HALF_PERIOD = 0.64  # mm; squares stand 1.7 pitches of 0.75 mm apart
# A tenth of a zone.  The smallest, a stripe at 203 dpi, has some 230 dots: 23 differ, as many as
# in a line two dots wide and 1.4 mm long.  For comparison: lines, a third of them black, and
# lines across them differ in 2 x 1/3 x 2/3 = 44 %; lines and dashes cut from them in half of
# that third, 17 %.  That a tenth is enough for the eye is our choice, tried on screen only.
FLOOR = 0.10
BETWEEN = 8  # dots between swatches on the sheet
LOOKS = tuple(
    base if base == stripe else f"{base}/{stripe}" for base, stripe in product(COLORS, COLORS)
)
PLAIN = tuple(COLORS)
ON_WHITE = tuple(f"white/{name}" for name in COLORS if name != "white")
WITH_WHITE = tuple(f"{name}/white" for name in COLORS if name != "white")
each_head = pytest.mark.parametrize("head", HEADS)


@cache
def drawn(head: str, *, colored: bool) -> dict[str, Picture]:
    """All looks from one sheet; red, green and blue from 0 to 1."""
    dot, dpi = HEADS[head]
    wide, high = (round(side / dot) for side in SMALLEST_SWATCH)
    places = {
        look: (BETWEEN + n % 16 * (wide + BETWEEN), BETWEEN + n // 16 * (high + BETWEEN))
        for n, look in enumerate(LOOKS)
    }
    made = [
        swatch(mark("K", look), frame(x * dot, y * dot, wide * dot, high * dot),
               colored=colored, dot_mm=dot)
        for look, (x, y) in places.items()
    ]  # fmt: skip
    sheet = frame(0, 0, 16 * (wide + BETWEEN) * dot + 1, 16 * (high + BETWEEN) * dot + 1)
    page = Page(width=sheet.width, height=sheet.height, own=snapped(made, dot))
    whole = np.asarray(by_pdfium(pdf([page], title="t", subject="s"), dpi), float) / 255
    return {look: whole[y : y + high, x : x + wide] for look, (x, y) in places.items()}


@cache
def black(head: str) -> dict[str, Mask]:
    return {
        look: picture.mean(axis=2) < 0.5 for look, picture in drawn(head, colored=False).items()
    }


def varied(head: str, looks: tuple[str, ...]) -> Mask:
    """The zone: dots, not of the outline, that not all of these pictures share."""
    found = np.stack([black(head)[look] for look in looks])
    inside = np.zeros(found.shape[1:], bool)
    edge = round(0.375 / HEADS[head][0])
    inside[edge:-edge, edge:-edge] = True
    return np.asarray(found.any(axis=0) & ~found.all(axis=0) & inside)


def shifts(zone: Mask, most: int) -> Iterator[tuple[Dots, Dots]]:
    """The dots of one and of the other picture that lie on each other, both in the zone."""
    high, wide = zone.shape
    y, x = np.nonzero(zone)
    for down, right in product(range(-most, most + 1), repeat=2):
        y2, x2 = y + down, x + right
        both = (y2 >= 0) & (y2 < high) & (x2 >= 0) & (x2 < wide)
        both[both] = zone[y2[both], x2[both]]
        if 2 * both.sum() >= len(y):  # else too little is left to compare
            yield y[both] * wide + x[both], y2[both] * wide + x2[both]


def apart(head: str, looks: tuple[str, ...], zone: Mask) -> NDArray[np.float32]:
    """The measure for every two, as a table."""
    every = np.stack([(black(head)[look] & zone).ravel() for look in looks])
    found, which = np.unique(every, axis=0, return_inverse=True)  # many are alike in a zone
    found = found.astype(np.float32)
    least = np.ones((len(found), len(found)), np.float32)
    for one, other in shifts(zone, round(HALF_PERIOD / HEADS[head][0])):
        a, b = found[:, one], found[:, other]
        differing = a.sum(axis=1)[:, None] + b.sum(axis=1)[None, :] - 2 * a @ b.T
        least = np.minimum(least, differing / len(one))
    return np.asarray(np.minimum(least, least.T)[np.ix_(which, which)])


def closest(looks: tuple[str, ...], table: NDArray[np.float32]) -> tuple[float, str, str]:
    pairs = combinations(range(len(looks)), 2)
    return min((float(table[i, j]), looks[i], looks[j]) for i, j in pairs)


# ---- in one ink ------------------------------------------------------------------------------


@each_head
def test_the_measure_takes_a_shifted_pattern_for_the_same(head: str) -> None:
    """Of upright lines moved by two dots nothing is left; level ones stay 4/9, at best fit less."""
    lines = black(head)["red"]
    zone = np.zeros(lines.shape, bool)
    zone[6:-6, 6:-6] = True
    moved = np.roll(lines, 2, axis=1)
    assert (lines ^ moved)[zone].mean() > 0.3
    looks = ("red", "moved", "blue")
    black(head)["moved"] = moved
    table = apart(head, looks, zone)
    del black(head)["moved"]
    assert table[0, 1] == 0
    assert 0.3 < table[0, 2] <= 4 / 9


@each_head
def test_every_two_plain_ones_differ(head: str) -> None:
    share, *looks = closest(PLAIN, apart(head, PLAIN, varied(head, PLAIN)))
    assert share > FLOOR, looks


@each_head
def test_every_two_of_all_differ_in_base_or_stripe(head: str) -> None:
    """All 16 plain ones and all 240 pairs: swapped ones and those that share a color, too."""
    base = apart(head, LOOKS, varied(head, WITH_WHITE))
    stripe = apart(head, LOOKS, varied(head, ON_WHITE))
    share, *looks = closest(LOOKS, np.maximum(base, stripe))
    assert share > FLOOR, looks


# ---- in color --------------------------------------------------------------------------------


@pytest.mark.parametrize("deficiency", ["", *DEFICIENCIES])
def test_every_two_differ_by_lightness_for_every_eye(deficiency: str) -> None:
    """By lightness alone, in base or stripe; the words with their codes differ as well."""
    every = drawn("203 dpi", colored=True)
    light = {
        look: brightness(seen(picture, deficiency) if deficiency else picture)
        for look, picture in every.items()
    }
    zones = [varied("203 dpi", looks) for looks in (WITH_WHITE, ON_WHITE)]
    flat = [np.stack([light[look][zone] for look in LOOKS]) for zone in zones]
    for n, look in enumerate(LOOKS[:-1]):
        steps = (np.abs(part[n + 1 :] - part[n]) > LEAST_STEP for part in flat)
        shares = np.maximum(*(step.mean(axis=1) for step in steps))
        assert shares.min() > FLOOR, (look, LOOKS[n + 1 + int(shares.argmin())])


def test_every_two_have_other_words_and_other_codes() -> None:
    marks = [mark("K", look) for look in LOOKS]
    assert len({each.word for each in marks}) == len({each.code for each in marks}) == len(LOOKS)


# ---- the size --------------------------------------------------------------------------------


def test_no_face_prints_a_smaller_swatch() -> None:
    wide, high = SMALLEST_SWATCH
    found = [
        item.frame
        for stock in shipped().stocks
        for page in pages(*one_of_each(stock), stock=stock)
        for item in page.items
        if isinstance(item, Swatch)
    ]
    assert len(found) > 100
    half_dot = 0.07  # mm; a swatch is as many whole dots as come nearest
    assert min(at.width for at in found) > wide - half_dot
    assert min(at.height for at in found) > high - half_dot
