"""Turn a color as a person writes it into a known insulation color and its letter code.

Codes of one color are those of IEC 60757:2021 (as in the 1983 table) but for two: the standard
has one code for blue "including light blue" and none for tan, and no two colors may share a code.
Codes of two colors are a form of our own, `WH/BU`: base, stroke, stripe, as the words say them.
The standard joins both in the order of its table, so that white/blue and blue/white, two wires,
would have one code; and it knows GNYE, for protective conductors, which is not GN/YE here.
The screen colors are ours; nothing depends on them.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import cached_property, lru_cache

from cardgen.light_dataclass import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Color:
    """An insulation color.

    Attributes:
        name: the word printed and compared, as the trade writes it.
        code: letter code, of IEC 60757 unless it is our own.
        own_code: the standard has none for this color alone.
        rgb: sRGB, `#RRGGBB`.
        also: other spellings a person may use; a space, a hyphen and a point part words alike.
    """

    name: str
    code: str
    rgb: str
    also: tuple[str, ...] = ()
    own_code: bool = False


# In the order of the IEC 60757 table.
COLORS: dict[str, Color] = {
    c.name: c
    for c in (
        Color(name="black", code="BK", rgb="#111111"),
        Color(name="brown", code="BN", rgb="#7B4A1E"),
        Color(name="red", code="RD", rgb="#C8102E"),
        Color(name="orange", code="OG", rgb="#F08019"),
        Color(name="yellow", code="YE", rgb="#F7D417"),
        Color(name="green", code="GN", rgb="#1E8A3C"),
        Color(name="blue", code="BU", rgb="#1F4FA3", also=("dark blue", "dk blue")),
        Color(
            name="light-blue",
            code="LB",
            own_code=True,
            rgb="#7FB8E6",
            also=("lightblue", "lt blue", "ltblue", "sky blue", "skyblue", "pale blue"),
        ),
        Color(name="violet", code="VT", rgb="#6A3D9A", also=("purple",)),
        Color(name="gray", code="GY", rgb="#8A8D8F", also=("grey", "slate")),
        Color(name="white", code="WH", rgb="#FFFFFF"),
        Color(name="pink", code="PK", rgb="#F29AB8"),
        Color(name="gold", code="GD", rgb="#C9A227"),
        Color(name="turquoise", code="TQ", rgb="#26A69A"),
        Color(name="silver", code="SR", rgb="#C5C9CC"),
        Color(name="tan", code="TN", own_code=True, rgb="#CDAA7D", also=("beige",)),
    )
}

STROKE = "/"  # between base and stripe, in words and in codes


def _plain(word: str) -> str:
    """`Lt. Blue`, `lt-blue` and `LT BLUE` are one spelling."""
    return re.sub(r"[\s._-]+", " ", word.lower()).strip()


_NAMES = {_plain(spelling): c.name for c in COLORS.values() for spelling in (c.name, *c.also)}


@dataclass(frozen=True, kw_only=True)
class Insulation:
    """A conductor's insulation: one color, perhaps with a stripe of a second one."""

    base: str
    stripe: str = ""

    @cached_property
    def word(self) -> str:
        return STROKE.join(self.colors)

    @property
    def code(self) -> str:
        return STROKE.join(COLORS[name].code for name in self.colors)

    @property
    def colors(self) -> tuple[str, ...]:
        return (self.base, self.stripe) if self.stripe else (self.base,)


def own_codes(codes: Iterable[str]) -> tuple[str, ...]:
    """The codes of single colors among them, or in them, that are not the standard's."""
    parts = {part for code in codes for part in code.split(STROKE)}
    return tuple(color.code for color in COLORS.values() if color.own_code and color.code in parts)


@lru_cache(maxsize=1000)  # a job names few colors, and each of them often
def insulation(words: str) -> Insulation | None:
    """Read `red`, `Light Blue` or `white/black`; None if a word is no known color."""
    base, _, stripe = (_plain(part) for part in words.partition(STROKE))
    if base not in _NAMES or (stripe and stripe not in _NAMES):
        return None
    return Insulation(base=_NAMES[base], stripe=_NAMES.get(stripe, ""))


def color_words() -> tuple[str, ...]:
    return tuple(COLORS)
