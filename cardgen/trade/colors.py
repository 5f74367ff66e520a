"""Turn a color as a person writes it into a known insulation color and its letter code.

Letter codes: IEC 60757:2021 (order and codes as in the 1983 table; combined codes are joined in
the order of that table).  The standard has one code for blue "including light blue" and none for
tan; the word is what tells them apart, so the word is always printed.
The screen colors are ours; nothing depends on them.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache


@dataclass(frozen=True, slots=True, kw_only=True)
class Color:
    """An insulation color.

    Attributes:
        name: the word printed and compared, as the trade writes it.
        code: IEC 60757 letter code, empty where the standard has none.
        rgb: sRGB, `#RRGGBB`.
        also: other spellings a person may use; a space, a hyphen and a point part words alike.
    """

    name: str
    code: str
    rgb: str
    also: tuple[str, ...] = ()


# In the order of the IEC 60757 table, which is the order for joining codes.
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
            code="BU",
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
        Color(name="tan", code="", rgb="#CDAA7D", also=("beige",)),
    )
}

# The one pair with an entry of its own, which is not in the order of the others.
_GREEN_AND_YELLOW = "GNYE"


def _plain(word: str) -> str:
    """`Lt. Blue`, `lt-blue` and `LT BLUE` are one spelling."""
    return re.sub(r"[\s._-]+", " ", word.lower()).strip()


_NAMES = {_plain(spelling): c.name for c in COLORS.values() for spelling in (c.name, *c.also)}


@dataclass(frozen=True, slots=True, kw_only=True)
class Insulation:
    """A conductor's insulation: one color, perhaps with a stripe of a second one."""

    base: str
    stripe: str = ""

    @property
    def word(self) -> str:
        return f"{self.base}/{self.stripe}" if self.stripe else self.base

    @property
    def code(self) -> str:
        """IEC 60757 code; empty if either color has none (a half code would mislead)."""
        return _code(self.base, self.stripe)


@cache
def _code(base: str, stripe: str) -> str:
    if {base, stripe} == {"green", "yellow"}:
        return _GREEN_AND_YELLOW
    parts = [c.code for c in COLORS.values() if c.name in (base, stripe)]
    return "".join(dict.fromkeys(parts)) if all(parts) else ""


def insulation(words: str) -> Insulation | None:
    """Read `red`, `Light Blue` or `white/black`; None if a word is no known color."""
    base, _, stripe = (_plain(part) for part in words.partition("/"))
    if base not in _NAMES or (stripe and stripe not in _NAMES):
        return None
    return Insulation(base=_NAMES[base], stripe=_NAMES.get(stripe, ""))


def color_words() -> tuple[str, ...]:
    return tuple(COLORS)
