"""Dark on light, large, and the same in print: what the style promises, by numbers."""

from __future__ import annotations

import re

import pytest

from cardgen.record import style
from cardgen.record.style import ALARM, ALARM_INK, INK, LINK, PAPER, QUIET, SHADE
from tests.outside.tables import rows

# What is set on what.
PAIRS = (
    *((INK, PAPER), (INK, SHADE), (QUIET, PAPER), (QUIET, SHADE)),
    *((LINK, PAPER), (ALARM_INK, ALARM), (LINK, ALARM), (PAPER, INK)),
)
AAA = 7.0  # WCAG 2.2, success criterion 1.4.6, contrast (enhanced)


def luminance(ink: str) -> float:
    """WCAG 2.2, definition of 'relative luminance'."""
    channels = [int(ink[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: str, other: str) -> float:
    """WCAG 2.2, definition of 'contrast ratio'."""
    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)


def test_the_formula_agrees_with_published_values() -> None:
    for row in rows("wcag_contrast"):
        found = contrast(row["colour_a"], row["colour_b"])
        assert found == pytest.approx(float(row["contrast_ratio"]), abs=5e-4)


@pytest.mark.parametrize(("ink", "ground"), PAIRS)
def test_every_pair_has_the_enhanced_contrast(ink: str, ground: str) -> None:
    assert contrast(ink, ground) >= AAA


def test_no_colour_is_in_the_style_that_is_in_no_pair() -> None:
    used = set(re.findall("#[0-9A-Fa-f]{6}", style.STYLE))
    assert used <= {colour for pair in PAIRS for colour in pair}


def test_no_letter_on_the_screen_is_smaller_than_16_pixels() -> None:
    screen = style.STYLE.partition("@media print")[0]
    assert "font:112.5%/" in screen  # of 16 pixels, unless the reader chose another size
    sizes = [18 * float(size) for size in re.findall(r"font-size:([0-9.]+)rem", screen)]
    assert sizes and min(sizes) > 15.9
    assert not re.findall(r"font(?:-size)?:[0-9.]+px", screen)
