"""Turn a page in colours into the same page in greys, or in one ink: patterns on white.

Only swatches and the ground of a warning have colours.  Each swatch has its pattern already; the
white words of a warning stay white, on grey or on black.
"""

from __future__ import annotations

from dataclasses import replace

from cardgen.layout.items import BLACK, WHITE, Fill, Item, Page, Part, Swatch
from cardgen.layout.swatch import luminance
from cardgen.printer import Ink


def inked(page: Page, ink: Ink) -> Page:
    """The page with the inks wanted; a page that has fewer already stays as it is."""
    if ink is Ink.COLOUR:
        return page
    return replace(page, items=tuple(_item(item, ink) for item in page.items))


def _item(item: Item, ink: Ink) -> Item:
    if isinstance(item, Fill) and item.ink not in (BLACK, WHITE):
        return replace(item, ink=grey(item.ink) if ink is Ink.GREY else BLACK)
    if not isinstance(item, Swatch):
        return item
    return replace(item, parts=tuple(_part(part, ink) for part in item.parts))


def _part(part: Part, ink: Ink) -> Part:
    if ink is Ink.GREY:
        return replace(part, ink=grey(part.ink))
    # The ground of a colour is left out; black insulation, whose ground is its pattern, stays.
    ground = isinstance(part, Fill) and part.ink != BLACK
    return replace(part, ink=WHITE if ground else BLACK)


def grey(ink: str) -> str:
    """The grey of the same luminance (WCAG 2.2), in which contrasts stay what they are."""
    light = luminance(ink)
    # sRGB transfer function, IEC 61966-2-1, the other way round.
    value = 12.92 * light if light <= 0.0031308 else 1.055 * light ** (1 / 2.4) - 0.055
    return f"#{round(255 * value):02X}" + 2 * f"{round(255 * value):02X}"
