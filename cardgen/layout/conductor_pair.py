"""Set a conductor on a tag: its swatch, the color word large, and beneath it what it is.

```
+-----+  red  rojo        RD     the second language and the code in the small letters
|/////|  HOT · A-K1 · flag A3     the swatch is as tall as these two lines, on all cards
+-----+  + yellow tape
```
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache

from cardgen.asbuilt import ConductorMark
from cardgen.cards.card import OnFlag
from cardgen.fonts import Weight
from cardgen.layout.face import Align
from cardgen.layout.fit import MANY, Setting, fit
from cardgen.layout.geometry import Mm, frame, on_dots
from cardgen.layout.items import Item, Segment, Strokes
from cardgen.layout.pieces import Piece, Task, marks, too_wide
from cardgen.layout.setting import BOUND, SMALLEST_SWATCH, band_words, text_items
from cardgen.layout.swatch import swatch
from cardgen.light_dataclass import dataclass

TAILS, UNDER = 0.32, 0.28  # capital heights of the color word and of what is under it, between them
WIDE = 0.8  # the width of a swatch against its height
BEFORE = 0.8  # small capital heights; from the color word to what is behind it
BETWEEN_LANGUAGES = f"{BOUND}/ "
APART = 1.4  # mm; from the swatch to the words
BETWEEN_MARKS = 1.2  # mm; between the conductors of one block
BENEATH_LINE = 0.45  # small capital heights; from a line to write on to what is asked
LEAST_TO_WRITE = 3.2  # mm; above the line, for a pen on a small tag (assumed)
LINE = Mm(0.25)
SHORT = 12  # letters of a color's name that stay on one line


@dataclass(frozen=True, slots=True, kw_only=True)
class _Beside:
    """What stands beside a swatch.

    Attributes:
        name: the color, in the first language of the print.
        other: the same in the second, where it has room behind the first.
        code: at the right edge, of the first line or `lower` of the one beneath.
        about: what the conductor is, beneath; `gap` lies between.
    """

    name: Setting
    other: Setting
    code: Setting
    about: Setting
    gap: float
    lower: bool

    @property
    def height(self) -> float:
        about = self.gap + self.about.height if self.about.lines else 0.0
        return self.name.height - self.name.below + about


def set_conductors(task: Task) -> tuple[Piece, ...]:
    """One pair for each conductor, in one piece; where it is not known, room to write its color.

    Raises:
        Misfit: if a word is too wide.
    """
    if isinstance(task.value, str):
        return (_to_write(task.value, task),)
    pairs = [
        _pair(mark, task.label if number == 0 else "", task)
        for number, mark in enumerate(marks(task.value))
    ]
    height = sum(pair.height for pair in pairs) + BETWEEN_MARKS * (len(pairs) - 1)

    def draw(x_mm: float, y_mm: float) -> Iterator[Item]:
        for pair in pairs:
            yield from pair.at(x_mm, y_mm)
            y_mm += pair.height + BETWEEN_MARKS

    return (Piece(height=height, draw=draw),)


def _pair(mark: ConductorMark, label: str, task: Task) -> Piece:
    dot = task.room.press.dot
    gap = TAILS * task.capital + UNDER * task.small
    high = on_dots(task.capital + gap + task.small, dot)
    wide = on_dots(max(WIDE * high, SMALLEST_SWATCH[0]), dot)
    left = wide + APART
    room = task.room.width - left
    beside = _beside(mark, label, task, room, gap)
    if beside is None:
        raise too_wide((mark.word, mark.cable, mark.band), task.block, room)

    def draw(x_mm: float, y_mm: float) -> Iterator[Item]:
        at = frame(on_dots(x_mm, dot), on_dots(y_mm, dot), wide, high)
        yield swatch(mark, at, colored=task.room.press.colored, dot_mm=dot)
        yield from _words(beside, task, x_mm + left, y_mm, room)

    return Piece(height=max(beside.height, high), draw=draw)


def _to_write(asked: str, task: Task) -> Piece:
    """A line as high above what is asked as a color word would stand."""
    gap = BENEATH_LINE * task.small
    label = f"{task.label}{BOUND}· {asked}" if task.label else asked
    about = fit((label,), Weight.BOLD, width_mm=task.room.width, capital_mm=task.small)
    if about is None:
        raise too_wide((label,), task.block, task.room.width)
    base = max(task.capital, LEAST_TO_WRITE)

    def draw(x_mm: float, y_mm: float) -> Iterator[Item]:
        y = Mm(on_dots(y_mm + base, task.room.press.dot))
        line = Segment(x1=Mm(x_mm), y1=y, x2=Mm(x_mm + task.room.width), y2=y)
        yield Strokes(segments=(line,), width=LINE)
        top = y + gap + about.capital - about.above
        yield from text_items(about, width_mm=task.room.width, x_mm=x_mm, y_mm=top)

    return Piece(height=base + gap + about.height - about.above + about.capital, draw=draw)


def _words(beside: _Beside, task: Task, x: float, y: float, room: float) -> Iterator[Item]:
    """The capitals of the color level with the top of the swatch, all of its line on one level."""
    name, about = beside.name, beside.about
    base = y + name.capital
    behind = name.width + BEFORE * task.small
    last = base + (len(name.lines) - 1) * name.pitch
    beneath = last + beside.gap + about.capital
    for setting, right, line, align in (
        (name, 0.0, base, Align.LEFT),
        (beside.other, behind, base, Align.LEFT),
        (beside.code, 0.0, beneath if beside.lower else base, Align.RIGHT),
        (about, 0.0, beneath, Align.LEFT),
    ):
        top = line - setting.above
        yield from text_items(setting, width_mm=room, align=align, x_mm=x + right, y_mm=top)


def _beside(mark: ConductorMark, label: str, task: Task, room: float, gap: float) -> _Beside | None:
    """With the code beneath the color where that takes fewer lines so."""
    first, *others = mark.word.split(BETWEEN_LANGUAGES)
    second = others[0] if others else ""
    code, left = _line(mark.code, task.block.weight, task.small), room
    if code.lines:
        left -= code.width + BEFORE * task.small
    names = [_name(first, task, width) for width in (left, room)]
    name = min((name for name in names if name), key=lambda name: len(name.lines), default=None)
    if name is None:
        return None
    lower = name is not names[0]
    other = _line(second, task.block.weight, task.small)
    if lower or len(name.lines) > 1 or name.width + BEFORE * task.small + other.width > left:
        label, other = " · ".join(part for part in (second, label) if part), _NOTHING
    about = _about(mark, label, task, left if lower else room)
    if about is None:
        return None
    return _Beside(name=name, other=other, code=code, about=about, gap=gap, lower=lower)


def _name(color: str, task: Task, width_mm: float) -> Setting | None:
    word = color.replace(" ", BOUND) if len(color) < SHORT else color
    is_last = task.room.scale >= len(task.block.capitals) - 1  # smaller letters before two lines
    lines = MANY if is_last else 1
    return fit((word,), task.block.weight, width_mm=width_mm, capital_mm=task.capital, lines=lines)


@lru_cache(maxsize=1_000)
def _line(text: str, weight: Weight, capital_mm: float) -> Setting:
    return Setting(lines=(text,), weight=weight, capital=Mm(capital_mm)) if text else _NOTHING


_NOTHING = Setting(lines=(), weight=Weight.MEDIUM, capital=Mm(0))


def _about(mark: ConductorMark, label: str, task: Task, room: float) -> Setting | None:
    """`HOT · A-K1 · flag A3`, each part whole if it can be; then the band.

    `(A3)` stands for `flag A3` where that saves a line; the band stands behind where it has room.
    """
    best: Setting | None = None
    for texts in _ways_to_say(mark, label):
        setting = fit(texts, Weight.BOLD, width_mm=room, capital_mm=task.small)
        if setting and (best is None or len(setting.lines) < len(best.lines)):
            best = setting
        if best and len(best.lines) == 1:
            break
    return best


def _ways_to_say(mark: ConductorMark, label: str) -> Iterator[tuple[str, ...]]:
    """Best first."""
    bare = f"({mark.flag.bare})" if isinstance(mark.flag, OnFlag) else mark.flag
    for blank in (BOUND, " "):
        for flag in (mark.flag, bare):
            parts = [part.replace(" ", blank) for part in (label, mark.cable, flag) if part]
            band = [band_words(mark)] if mark.band else []
            together = " · ".join(parts)
            yield tuple(text for text in (together, *band) if text)
            yield (" ".join((together, *band)).strip(),)
