"""Dark on light, large, and the same in print: what the style promises, by numbers."""

from __future__ import annotations

import re

import pytest

from cardgen.record.page_assets import STYLE
from cardgen.server import crew_assets
from tests.outside.tables import rows

AAA = 7.0  # WCAG 2.2, success criterion 1.4.6, contrast (enhanced)
COLORS = dict(re.findall(r"--([a-z-]+): (#[0-9a-f]+);", STYLE))
# What is set on what, by the names in the style.
PAIRS = (
    *(("ink", "paper"), ("ink", "shade"), ("quiet", "paper"), ("quiet", "shade")),
    *(("link", "paper"), ("alarm-ink", "alarm"), ("link", "alarm"), ("paper", "ink")),
)


def luminance(ink: str) -> float:
    """WCAG 2.2, definition of 'relative luminance'."""
    if len(ink) == 4:  # CSS Color 4, 5.2: #abc is #aabbcc
        ink = "#" + "".join(2 * digit for digit in ink[1:])
    channels = [int(ink[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: str, other: str) -> float:
    """WCAG 2.2, definition of 'contrast ratio'."""
    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)


def test_the_formula_agrees_with_published_values() -> None:
    for row in rows("wcag_contrast"):
        found = contrast(row["color_a"], row["color_b"])
        assert found == pytest.approx(float(row["contrast_ratio"]), abs=5e-4)


@pytest.mark.parametrize(("ink", "ground"), PAIRS)
def test_every_pair_has_the_enhanced_contrast(ink: str, ground: str) -> None:
    assert contrast(COLORS[ink], COLORS[ground]) >= AAA


def test_every_color_has_a_name_and_every_name_is_in_a_pair() -> None:
    assert set(COLORS) == {name for pair in PAIRS for name in pair}
    written = re.findall(r": [^;]*?(#[0-9a-fA-F]{3,8})\b", crew_assets.STYLE)
    assert sorted(written) == sorted(COLORS.values())
    used = set(re.findall(r"var\(--([a-z-]+)\)", crew_assets.STYLE))
    assert used == {*COLORS, "px"}


def test_an_ink_and_a_ground_of_one_rule_are_a_pair() -> None:
    rules = re.findall(r"\{([^{}]*)\}", crew_assets.STYLE)
    found = 0
    for rule in rules:
        ink = re.search(r"(?<![a-z-])color: var\(--([a-z-]+)\)", rule)
        ground = re.search(r"background: var\(--([a-z-]+)\)", rule)
        if ink and ground:
            found += 1
            assert (ink[1], ground[1]) in PAIRS
    assert found > 5


def test_no_letter_on_the_screen_is_smaller_than_16_pixels() -> None:
    screen = crew_assets.STYLE.replace(STYLE, STYLE.partition("@media print")[0])
    assert "112.5%/" in screen  # of 16 pixels, unless the reader chose another size
    assert "--px: calc(1rem / 18);" in screen
    sizes = re.findall(r"font-size: (.*);", screen)
    pixels = [re.fullmatch(r"calc\((\d+) \* var\(--px\)\)|(\d+)px", size) for size in sizes]
    assert len(pixels) > 20 and None not in pixels
    assert min(int(found[1] or found[2]) for found in pixels if found) >= 16
