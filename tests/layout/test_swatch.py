"""Swatches: each color has its own pattern, readable in black on white and in color."""

from __future__ import annotations

from itertools import combinations, pairwise

import pytest

from cardgen.layout.geometry import Frame, frame
from cardgen.layout.items import Fill, Outline, Part, Segment, Slope, Strokes, Swatch
from cardgen.layout.patterns import PATTERNS, dots, zigzags
from cardgen.layout.swatch import contrast, luminance, swatch
from cardgen.trade.colors import COLORS
from tests.for_each import for_each
from tests.layout.cards import mark

SIZES = {"in a row": frame(2, 3, 8.75, 4.75), "beside words": frame(2, 3, 12.75, 9)}
at_each_size = for_each("at", SIZES.values())


def test_all_colors_but_black_and_white_have_a_pattern() -> None:
    assert set(COLORS) - set(PATTERNS) == {"black", "white"}


@pytest.mark.parametrize("size", SIZES)
def test_no_two_colors_look_alike_in_black(size: str) -> None:
    drawn = {name: swatch(mark("K", name), SIZES[size], colored=False) for name in COLORS}
    for one, other in combinations(COLORS, 2):
        assert drawn[one].parts != drawn[other].parts, (one, other)


@pytest.mark.parametrize("name", COLORS)
def test_black_printers_get_black_and_white_only(name: str) -> None:
    inks = {part.ink for part in _parts(swatch(mark("K", name), SIZES["in a row"], colored=False))}
    assert inks <= {"#000000", "#FFFFFF"}


@for_each("name", COLORS)
@at_each_size
def test_patterns_stay_in_the_frame(name: str, at: Frame) -> None:
    made = swatch(mark("K", name), at, colored=True)
    for part in made.parts:
        if isinstance(part, Strokes):
            for s in part.segments:
                assert at.x <= min(s.x1, s.x2) <= max(s.x1, s.x2) <= at.right
                assert at.y <= min(s.y1, s.y2) <= max(s.y1, s.y2) <= at.bottom


@pytest.mark.parametrize("name", ["red", "blue", "green", "violet"])
@at_each_size
def test_lines_leave_no_gap_before_the_outline(name: str, at: Frame) -> None:
    """Upright, level, falling and rising: some end at each side, beneath the line round them."""
    made = swatch(mark("K", name), at, colored=False)
    (outline,) = (part for part in made.parts if isinstance(part, Outline))
    lines = [s for part in made.parts if isinstance(part, Strokes) for s in part.segments]
    if name != "blue":
        assert min(min(s.y1, s.y2) for s in lines) < at.y + outline.width
        assert max(max(s.y1, s.y2) for s in lines) > at.bottom - outline.width
    if name != "red":
        assert min(min(s.x1, s.x2) for s in lines) < at.x + outline.width
        assert max(max(s.x1, s.x2) for s in lines) > at.right - outline.width


@pytest.mark.parametrize("name", PATTERNS)
def test_the_pattern_stands_out_from_its_color(name: str) -> None:
    # WCAG 2.2, 1.4.11: 3 to 1 for what graphics need to be understood.
    made = swatch(mark("K", name), SIZES["beside words"], colored=True)
    fill = next(part for part in made.parts if isinstance(part, Fill))
    lines = next(part for part in made.parts if isinstance(part, Strokes))
    assert fill.ink == COLORS[name].rgb
    assert contrast(fill.ink, lines.ink) >= 3.0


@pytest.mark.parametrize(
    ("one", "other", "ratio"),
    # Derived from the formula of WCAG 2.2.
    [
        ("#000000", "#FFFF00", 19.556),
        ("#FFFFFF", "#FF0000", 3.998),
        ("#FFFFFF", "#0000FF", 8.592),
        ("#767676", "#FFFFFF", 4.542),
        ("#777777", "#FFFFFF", 4.478),
        ("#FFFF00", "#FFFFFF", 1.074),
    ],
)
def test_contrast_is_that_of_wcag(one: str, other: str, ratio: float) -> None:
    assert contrast(one, other) == pytest.approx(ratio, abs=0.001)
    assert luminance("#FFFFFF") == pytest.approx(1)


@at_each_size
def test_a_stripe_is_one_broad_band_that_rises(at: Frame) -> None:
    made = swatch(mark("A-K1", "white/black"), at, colored=False)
    assert made.shows == "white/black"
    (band,) = (p for p in made.parts if isinstance(p, Slope))
    assert band.ink == "#000000"
    assert band.width == pytest.approx(0.4 * at.width)
    assert (band.y1, band.y2) == (at.y, at.bottom)
    assert at.x <= band.x2 < band.x1 <= at.right - band.width + 1e-6
    # As far from the left below as from the right above, so it goes through the middle.
    assert band.x2 - at.x == pytest.approx(at.right - band.x1 - band.width)
    assert isinstance(made.parts[-1], Outline)


def test_a_band_is_steeper_only_where_the_swatch_is_narrow() -> None:
    leans = {}
    for wide, high in ((5, 3), (15, 5), (9, 15)):
        made = swatch(mark("K", "white/black"), frame(0, 0, wide, high), colored=False)
        (band,) = (p for p in made.parts if isinstance(p, Slope))
        leans[wide, high] = (band.y2 - band.y1) / (band.x1 - band.x2)
    assert leans == pytest.approx({(5, 3): 1, (15, 5): 1, (9, 15): 15 / (0.6 * 9)})


@pytest.mark.parametrize("words", ["red/blue", "tan/white", "white/yellow"])
def test_a_pattern_keeps_to_its_part(words: str) -> None:
    """Of the base beside the band, of the stripe in it; by the distance of every end."""
    base, stripe = words.split("/")
    made = swatch(mark("K", words), SIZES["beside words"], colored=False)
    (at,) = (n for n, p in enumerate(made.parts) if isinstance(p, Slope))
    band = made.parts[at]
    assert isinstance(band, Slope)

    def right_of(x: float, y: float) -> float:
        return x - (band.x1 + (band.x2 - band.x1) * (y - band.y1) / (band.y2 - band.y1))

    def ends(parts: tuple[Part, ...]) -> list[float]:
        segments = [s for p in parts if isinstance(p, Strokes) for s in p.segments]
        return [right_of(x, y) for s in segments for x, y in ((s.x1, s.y1), (s.x2, s.y2))]

    outside, inside = ends(made.parts[:at]), ends(made.parts[at + 1 : -2])
    assert bool(outside) is (base != "white")
    assert bool(inside) is (stripe != "white")
    assert all(d <= -0.4 + 1e-6 or d >= band.width + 0.4 - 1e-6 for d in outside)
    assert all(-1e-6 <= d <= band.width + 1e-6 for d in inside)


def test_a_striped_color_differs_from_its_reverse() -> None:
    one = swatch(mark("K", "white/black"), SIZES["in a row"], colored=False)
    other = swatch(mark("K", "black/white"), SIZES["in a row"], colored=False)
    assert one.parts != other.parts


def _parts(made: Swatch) -> tuple[Part, ...]:
    return made.parts


def test_lines_begin_half_a_step_from_the_edge() -> None:
    """So that as much stays free before the first as behind the last; counted by hand."""
    at = frame(10, 20, 10, 4)
    assert [float(s.x1) for s in PATTERNS["red"](at, 2)] == [11, 13, 15, 17, 19]
    assert [float(s.y1) for s in PATTERNS["blue"](at, 2)] == [21, 23]


def test_bricks_are_set_half_a_brick_aside_from_course_to_course() -> None:
    """By hand, at a pitch of 2 mm: courses 2.5 mm high, bricks 4.4 mm long."""
    joints: dict[float, list[float]] = {}
    for line in PATTERNS["orange"](frame(0, 0, 12, 7.5), 2):
        if line.x1 == line.x2:
            joints.setdefault(float(line.y1), []).append(float(line.x1))
    assert sorted(joints) == [0, 2.5, 5]
    for top, places in joints.items():
        assert places == pytest.approx([3.3, 7.7] if top == 2.5 else [1.1, 5.5, 9.9])


def test_dashes_of_every_second_line_begin_half_a_period_later() -> None:
    """A period of 1.2 pitches: dash 0.65, gap 0.55; half of it on, a dash has 0.05 left."""
    lines: dict[float, list[float]] = {}
    for dash in PATTERNS["light-blue"](frame(0, 0, 12, 6), 1.0):
        lines.setdefault(round(dash.y1, 6), []).append(round(dash.x2, 6))
    assert [min(ends) for _, ends in sorted(lines.items())][:4] == [0.65, 0.05, 0.65, 0.05]


def test_a_zigzag_is_one_line_from_side_to_side() -> None:
    """Every stroke begins where the one before it ends, and goes the other way."""
    rows: dict[float, list[Segment]] = {}
    for stroke in zigzags(frame(0, 0, 12, 6), 1.0):
        if stroke.x2 < 11.7 - 1e-6:  # the last is cut off at the edge
            rows.setdefault(round(max(stroke.y1, stroke.y2), 6), []).append(stroke)
    whole = [strokes for bottom, strokes in rows.items() if 0.9 < bottom < 6]
    assert len(whole) == 4  # 1.3 mm apart
    for strokes in whole:
        for one, two in pairwise(strokes):
            assert (one.x2, one.y2) == pytest.approx((two.x1, two.y1))
            assert (one.y2 > one.y1) is (two.y2 < two.y1)


def test_dots_are_as_long_as_they_are_wide_and_staggered() -> None:
    """A third of the pitch; by hand: 0.85 mm apart in a row, rows 0.7 mm apart."""
    rows: dict[float, list[Segment]] = {}
    for dot in dots(frame(0, 0, 12, 6), 1.0):
        assert dot.y1 == dot.y2
        if dot.x1 > 0 and dot.x2 < 12:
            rows.setdefault(dot.y1, []).append(dot)
    middles = []
    assert [two - one for one, two in pairwise(rows)] == pytest.approx([0.7] * (len(rows) - 1))
    for row in rows.values():
        assert [dot.x2 - dot.x1 for dot in row] == pytest.approx([1 / 3] * len(row))
        middles.append([(dot.x1 + dot.x2) / 2 for dot in row])
    for one, two in pairwise(middles):
        assert abs(one[1] - two[1]) % 0.85 == pytest.approx(0.425)
    assert middles[0][1] - middles[0][0] == pytest.approx(0.85)
