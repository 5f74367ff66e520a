"""Turn a page in colors into the same page in grays, or in one ink: patterns on white.

Only swatches and the ground of a warning have colors.  Each swatch has its pattern already; the
white words of a warning stay white, on gray or on black.
"""

from __future__ import annotations

from cardgen.layout.items import BLACK, WHITE, Fill, Item, Page, Part, Slope, Swatch
from cardgen.layout.swatch import luminance
from cardgen.light_dataclass import replace
from cardgen.printer import Ink


def inked(page: Page, ink: Ink) -> Page:
    """The page with the inks wanted; a page that has fewer already stays as it is."""
    if ink is Ink.COLOR:
        return page
    placed = (replace(at, items=_inked(at.items, ink)) for at in page.placed)
    return replace(page, own=_inked(page.own, ink), placed=tuple(placed))


def _inked(items: tuple[Item, ...], ink: Ink) -> tuple[Item, ...]:
    return tuple(_item(item, ink) for item in items)


def _item(item: Item, ink: Ink) -> Item:
    if isinstance(item, Fill) and item.ink not in (BLACK, WHITE):
        return replace(item, ink=gray(item.ink) if ink is Ink.GRAY else BLACK)
    if not isinstance(item, Swatch):
        return item
    return replace(item, parts=tuple(_part(part, ink) for part in item.parts))


def _part(part: Part, ink: Ink) -> Part:
    if ink is Ink.GRAY:
        return replace(part, ink=gray(part.ink))
    # The ground of a color is left out; black insulation, whose ground is its pattern, stays.
    ground = isinstance(part, Fill | Slope) and part.ink != BLACK
    return replace(part, ink=WHITE if ground else BLACK)


def gray(ink: str) -> str:
    """The gray of the same luminance (WCAG 2.2), in which contrasts stay what they are."""
    light = luminance(ink)
    # sRGB transfer function, IEC 61966-2-1, the other way round.
    value = 12.92 * light if light <= 0.0031308 else 1.055 * light ** (1 / 2.4) - 0.055
    return f"#{round(255 * value):02X}" + 2 * f"{round(255 * value):02X}"
