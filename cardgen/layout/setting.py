"""Turn fitted text and conductor marks into items at points, the top left corner being 0, 0."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from functools import partial

from cardgen import fonts
from cardgen.asbuilt import ConductorMark
from cardgen.cards.card import OnFlag
from cardgen.fonts import Weight
from cardgen.layout.face import Align
from cardgen.layout.fit import Breaks, Setting, wrap
from cardgen.layout.geometry import Mm, frame, on_dots
from cardgen.layout.items import BLACK, Item, TextLine, all_moved
from cardgen.layout.swatch import swatch
from cardgen.light_dataclass import dataclass

SHARE = {Align.LEFT: 0.0, Align.CENTER: 0.5, Align.RIGHT: 1.0}


@dataclass(frozen=True, slots=True, kw_only=True)
class PrinterHead:
    """What the printer can do: the size of its dots (0 where unknown), and whether it has inks."""

    dot: Mm
    colored: bool


def nothing() -> tuple[Item, ...]:
    return ()


@dataclass(frozen=True, eq=False, slots=True, kw_only=True)
class Placed:
    """Something set, `height` high, its first base line `base` below its top.

    Attributes:
        draw: makes its items, when they are asked for: most is set only to be measured.
    """

    height: float
    draw: Callable[[], Iterable[Item]] = nothing
    base: float = 0.0

    @property
    def items(self) -> tuple[Item, ...]:
        return tuple(self.draw())

    def at(self, x_mm: float, y_mm: float) -> tuple[Item, ...]:
        return all_moved(self.draw(), x_mm, y_mm)

    def under(self, room_mm: float) -> Placed:
        """The same under room of that height."""
        return Placed(
            height=room_mm + self.height,
            draw=lambda: self.at(0, room_mm),
            base=room_mm + self.base,
        )


def line(
    text: str, weight: Weight, *, x_mm: float, y_mm: float, capital_mm: float, ink: str = BLACK
) -> TextLine:
    """One line, its base line beginning at (x, y)."""
    return TextLine(
        x=Mm(x_mm),
        y=Mm(y_mm),
        capital=Mm(capital_mm),
        weight=weight,
        text=fonts.clean(text),
        runs=fonts.runs(text, weight),
        ink=ink,
    )


def text_items(
    setting: Setting,
    *,
    width_mm: float,
    align: Align = Align.LEFT,
    ink: str = BLACK,
    x_mm: float = 0.0,
    y_mm: float = 0.0,
) -> tuple[TextLine, ...]:
    """The lines of a setting in a frame of that width, its top left corner at (x, y)."""
    if not setting.lines:
        return ()
    share, pitch, capital, weight = SHARE[align], setting.pitch, setting.capital, setting.weight
    base = y_mm + setting.above
    return tuple(
        [
            TextLine(
                x=Mm(x_mm + share * (width_mm - wide) if share else x_mm),
                y=Mm(base + number * pitch),
                capital=capital,
                weight=weight,
                text=letters,
                runs=runs,
                ink=ink,
            )
            for number, (letters, runs, wide) in enumerate(setting.shown)
        ]
    )


def plain_text(setting: Setting, *, width_mm: float, align: Align = Align.LEFT) -> Placed:
    """As high as its very letters."""
    setting = setting.inked
    # There are so many that what takes the least memory is worth it.
    draw = partial(_lines_of, setting, width_mm, align)
    return Placed(height=setting.height, draw=draw, base=setting.above)


def _lines_of(setting: Setting, width_mm: float, align: Align) -> tuple[TextLine, ...]:
    return text_items(setting, width_mm=width_mm, align=align)


# ---- conductors ---------------------------------------------------------------------------

SMALL_SWATCH = (2.5, 1.35)  # width and height in capital heights, within a line
CLOSE_SWATCH = (2.0, 1.2)  # the same in rows that stand close
SMALLEST_SWATCH = (5.0, 3.0)  # mm; below this the patterns cannot be told apart (tried on prints)
BOUND = "\u00a0"  # set as a blank, but no line ends there
SPACE = 0.64  # capital heights between swatch and words


WHOLE = 16  # letters of a band or flag that stay on one line; a longer one may take several


def in_words(mark: ConductorMark, *, cable: bool, tight: bool = False) -> str:
    """`A-K1 red RD + yellow tape (flag A3)`: the color, and set off what tells it from its like.

    Tight, the flag is `(A3)`, and lines may end between languages, before a code of two colors and
    between flags.
    """
    color = color_words(mark, tight=tight)
    if not cable:
        return color
    flag = mark.flag.bare if tight and isinstance(mark.flag, OnFlag) else _bound(mark.flag)
    flag = f"({flag})" if flag else ""
    parts = (mark.cable, color, band_words(mark), flag)
    return " ".join(part for part in parts if part)


def band_words(mark: ConductorMark) -> str:
    """`+ yellow tape`: on the cable, no color of the wire."""
    return f"+{BOUND}{_bound(mark.band)}" if mark.band else ""


def _bound(text: str) -> str:
    return text.replace(" ", BOUND) if len(text) <= WHOLE else text


def color_words(mark: ConductorMark, *, tight: bool = False) -> str:
    """The color and its code, which no line end parts."""
    word = mark.word if tight else _bound(mark.word)
    between = " " if tight and mark.stripe else BOUND
    return f"{word}{between}{mark.code}" if mark.code else word


def small_swatch_size(capital_mm: float, *, close: bool = False) -> tuple[float, float]:
    wide, high = CLOSE_SWATCH if close else SMALL_SWATCH
    return max(wide * capital_mm, SMALLEST_SWATCH[0]), max(high * capital_mm, SMALLEST_SWATCH[1])


def inline_conductor(  # noqa: PLR0913  # each is an option of its own
    mark: ConductorMark,
    weight: Weight,
    *,
    width_mm: float,
    capital_mm: float,
    press: PrinterHead,
    cable: bool,
    breaks: Breaks = Breaks.WORDS,
    close: bool = False,
) -> Placed | None:
    """A small swatch followed by the words, which may take several lines."""
    wide, high = small_swatch_size(capital_mm, close=close)
    left = wide + SPACE * capital_mm
    most = (width_mm - left) / capital_mm
    lines: tuple[str, ...] | None = None
    for tight in (False, True):  # tight only where that saves a line
        found = wrap(in_words(mark, cable=cable, tight=tight), weight, most, breaks)
        if found is not None and (lines is None or len(found) < len(lines)):
            lines = found
        if lines is not None and len(lines) <= 1:
            break
    if lines is None:
        return None
    setting = Setting(lines=lines, weight=weight, capital=Mm(capital_mm), by_ink=True)
    # One line stands at the middle of the swatch; several begin level with its top.
    down = max(0.0, (high - capital_mm) / 2) if len(lines) == 1 else 0.0
    base = down + capital_mm

    def draw() -> Iterator[Item]:
        at = frame(0, 0, on_dots(wide, press.dot), on_dots(high, press.dot))
        yield swatch(mark, at, colored=press.colored, dot_mm=press.dot)
        for n, text in enumerate(setting.lines):
            y = base + n * setting.pitch
            yield line(text, weight, x_mm=left, y_mm=y, capital_mm=capital_mm)

    height = max(high, base + (len(lines) - 1) * setting.pitch + setting.below)
    return Placed(height=height, draw=draw, base=base)
