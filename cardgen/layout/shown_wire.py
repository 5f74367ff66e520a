"""Set a wire in little room: its swatch, the color word, and right behind it what tells it apart.

```
[///]  red / rojo RD  (A7)          one line
[///]  light-blue LB                two
       + black band (SP-1)
```
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from cardgen.asbuilt import ConductorMark
from cardgen.cards.card import OnFlag
from cardgen.fonts import Weight
from cardgen.layout.conductor_pair import BETWEEN_LANGUAGES
from cardgen.layout.fit import ASCENT, DESCENT, Setting, fit
from cardgen.layout.geometry import NOTHING, Mm, frame, on_dots
from cardgen.layout.items import Item
from cardgen.layout.pieces import Task
from cardgen.layout.setting import BOUND, band_words, text_items
from cardgen.layout.swatch import swatch
from cardgen.light_dataclass import dataclass

SWATCH = (5.0, 3.0)  # mm; the least at which the patterns can be told apart (tried on prints)
SWATCH_GROWS = (1.8, 1.15)  # capital heights
LEADING = 0.04  # small capital heights
APART = 0.4  # capital heights from the swatch to the words
BEHIND = 0.45  # small capital heights from the color word to what is behind it


@dataclass(frozen=True, slots=True, kw_only=True)
class ShownWire:
    """A color word, one line behind it, and lines beneath.

    Attributes:
        mark: None where no wire is shown, but a decoder, or nothing is known.
        left: from the left edge of the swatch to the words.
    """

    mark: ConductorMark | None
    name: Setting
    behind: Setting
    under: Setting
    left: float

    @property
    def width(self) -> float:
        """Of its first line, with the swatch."""
        return self.left + _width(self.name, self.behind)

    @property
    def capital(self) -> float:
        return self.name.capital

    @property
    def is_line(self) -> bool:
        """Whether nothing stands beneath its first line."""
        return len(self.name.lines) < 2 and not self.under.lines

    @property
    def last(self) -> float:
        """From the first base line to the last of the color word; it has more than one if long."""
        return (len(self.name.lines) - 1) * self.name.pitch

    @property
    def second(self) -> float:
        """From the last base line of the color word to the first beneath."""
        return DESCENT * self.capital + (ASCENT + LEADING) * self.under.capital

    @property
    def swatch_height(self) -> float:
        """The same whatever stands beneath, so that all of a card are alike."""
        return swatch_size(self.capital)[1]

    @property
    def swatch_above(self) -> float:
        """From its top to the first base line: halfway, and no higher than letters."""
        return min((self.capital + self.swatch_height) / 2, ASCENT * self.capital)

    @property
    def base(self) -> float:
        return ASCENT * self.capital

    @property
    def height(self) -> float:
        words = self.last + DESCENT * self.capital
        if self.under.lines:
            more = (len(self.under.lines) - 1) * self.under.pitch
            words = self.last + self.second + more + DESCENT * self.under.capital
        return self.base + max(words, self.swatch_height - self.swatch_above)

    def at(self, x_mm: float, y_mm: float, task: Task) -> Iterator[Item]:
        """With the top left corner there."""
        dot, base, room = task.room.press.dot, y_mm + self.base, task.room.width
        if self.mark is not None:
            wide = swatch_size(self.capital)[0]
            corner = on_dots(x_mm, dot), on_dots(base - self.swatch_above, dot)
            at = frame(*corner, on_dots(wide, dot), on_dots(self.swatch_height, dot))
            yield swatch(self.mark, at, colored=task.room.press.colored, dot_mm=dot)
        behind = self.name.width + BEHIND * self.behind.capital
        for setting, right, down in (
            (self.name, 0.0, 0.0),
            (self.behind, behind, 0.0),
            (self.under, 0.0, self.last + self.second),
        ):
            top = base + down - setting.above
            yield from text_items(setting, width_mm=room, x_mm=x_mm + self.left + right, y_mm=top)


def are_in_two_languages(marks: Iterable[ConductorMark]) -> bool:
    """Whether a color has two words there, which say without its code what it is."""
    return any(BETWEEN_LANGUAGES in mark.word for mark in marks)


def swatch_size(capital_mm: float) -> tuple[float, float]:
    wide, high = (
        max(least, grows * capital_mm) for least, grows in zip(SWATCH, SWATCH_GROWS, strict=True)
    )
    return wide, high


def words_left(capital_mm: float) -> float:
    """From the left edge of a swatch to the words."""
    return swatch_size(capital_mm)[0] + APART * capital_mm


def shown_wire(
    shown: ConductorMark | str, task: Task, room_mm: float, beneath: str = ""
) -> ShownWire | None:
    """Set in a width, with a text of its own beneath; None where a word is too wide.

    What is behind the color word goes beneath it, the last first, where the line is too long.
    """
    mark = shown if isinstance(shown, ConductorMark) else None
    word, *parts = _parts(mark) if mark else (str(shown),)
    left = words_left(task.capital)
    room = room_mm - left
    name = fit((word,), task.block.weight, width_mm=room, capital_mm=task.capital)
    if name is None:
        return None
    behind = _bold(parts, task.small)
    count = len(parts)
    while count and (len(name.lines) > 1 or _width(name, behind) > room + NOTHING):
        count -= 1
        behind = _bold(parts[:count], task.small)
    texts = tuple(text for text in (" ".join(parts[count:]), beneath) if text)
    under = fit(texts, Weight.MEDIUM, width_mm=room, capital_mm=task.small)
    if under is None:
        return None
    return ShownWire(mark=mark, name=name, behind=behind, under=under, left=left)


def _parts(mark: ConductorMark) -> tuple[str, ...]:
    """The color word, and what stands behind it; of each, no part is broken over lines."""
    word, *others = mark.word.split(BETWEEN_LANGUAGES)
    flag = mark.flag.bare if isinstance(mark.flag, OnFlag) else mark.flag
    parts = (
        *(f"/{BOUND}{other.replace(' ', BOUND)}" for other in others),
        mark.code,
        mark.cable,
        band_words(mark),
        f"({flag})" if flag else "",
    )
    return word, *(part for part in parts if part)


def _bold(parts: list[str], capital_mm: float) -> Setting:
    lines = (BOUND.join(parts),) if parts else ()
    return Setting(lines=lines, weight=Weight.BOLD, capital=Mm(capital_mm))


def _width(name: Setting, behind: Setting) -> float:
    return name.width + (BEHIND * behind.capital + behind.width if behind.lines else 0.0)
