"""The first card of a roll or of ready-cut tags: a bar to measure, as a sheet has it in its footer.

```
+------------------------+     wide enough: the bar at the bottom; else upright at the left,
|  o   LARK-06 ...       |     or as many whole centimeters as there is room for
|      test print ...    |
|  |---|---|---|---|---| |
+------------------------+
```
"""

from __future__ import annotations

from collections.abc import Iterator

from cardgen import fonts
from cardgen.fonts import Weight
from cardgen.layout.furniture import BAR, SMALL, Stamp, scale_bar
from cardgen.layout.geometry import NOTHING, Frame, frame
from cardgen.layout.items import Item, Page, all_moved
from cardgen.layout.setting import line
from cardgen.layout.snap import on_the_dots
from cardgen.layout.stock import Stock
from cardgen.words import apart

CLEAR = 2.0  # mm; between the bar and the edge, and between bar and words
PITCH = 1.7  # line to line, in capitals
STEP = 0.05  # mm


def scale_card(stock: Stock, stamp: Stamp) -> Page:
    """A card that is no tag: whoever measures it knows whether those behind it are true."""
    long, upright = bar_of(stock)
    items: list[Item] = [scale_bar(*_bar_at(stock, long, upright=upright), long, upright=upright)]
    items += _words(_room(stock, upright=upright), _texts(stamp, long))
    if stock.offset is not None:
        items = list(all_moved(items, stock.offset.x, stock.offset.y))
    return Page(
        width=stock.paper_width,
        height=stock.paper_height,
        own=on_the_dots(items, stock),
        turn=stock.turn,
    )


def bar_of(stock: Stock) -> tuple[float, bool]:
    """How long the bar is, and whether it stands upright."""
    across, down = (_whole(side) for side in (stock.card_width, stock.card_height))
    return (across, False) if across >= min(BAR, down) else (down, True)


def _whole(side: float) -> float:
    """Whole centimeters that a side has room for, up to the usual bar."""
    return min(BAR, 10.0 * ((side - 2 * CLEAR + NOTHING) // 10))


def _bar_at(stock: Stock, long: float, *, upright: bool) -> tuple[float, float]:
    """Its upper or left end."""
    card = stock.position(0)
    if upright:
        return card.x + CLEAR, card.y + (card.height - long) / 2
    return card.x + (card.width - long) / 2, card.bottom - CLEAR


def _texts(stamp: Stamp, long: float) -> tuple[str, ...]:
    said = (stamp.words("sheet.test print"), stamp.words("sheet.scale", long=f"{long:g} mm"))
    return (apart((stamp.job_code, stamp.revision)), *(text.printed for text in said))


def _room(stock: Stock, *, upright: bool) -> Frame:
    """Beside or above the bar, clear of the hole."""
    card = stock.position(0)
    safe = card.shrunk(max(stock.safe, 1.0))
    left = max(safe.x, card.x + 2 * CLEAR) if upright else safe.x
    bottom = safe.bottom if upright else min(safe.bottom, card.bottom - 2 * CLEAR)
    top: float = safe.y
    if stock.hole is not None:
        hole = stock.hole.frame.moved(card.x, card.y)
        if stock.hole.x < stock.card_width / 3:
            left = max(left, hole.right + 1)
        else:
            top = max(top, hole.bottom + 1)
    return frame(left, top, safe.right - left, bottom - top)


def _words(at: Frame, texts: tuple[str, ...]) -> Iterator[Item]:
    """As large as they fit, up to the letters of a sheet's footer."""
    capital = SMALL
    lines = _lines(texts, at.width / capital)
    while len(lines) * PITCH * capital > at.height and capital > STEP:
        capital -= STEP
        lines = _lines(texts, at.width / capital)
    for number, words in enumerate(lines):
        y = at.y + capital * (1 + number * PITCH)
        yield line(words, Weight.BOLD, x_mm=at.x, y_mm=y, capital_mm=capital)


def _lines(texts: tuple[str, ...], room: float) -> list[str]:
    """Broken between words; `room` is in capitals."""
    lines: list[str] = []
    for text in texts:
        lines.append("")
        for word in text.split(" "):
            longer = f"{lines[-1]} {word}".lstrip()
            if lines[-1] and fonts.width(longer, Weight.BOLD) > room:
                lines.append(word)
            else:
                lines[-1] = longer
    return lines
