"""Set a text of the drawing: each kind in one size, wrapped, never shrunk and never cut."""

from __future__ import annotations

from cardgen import fonts
from cardgen.faults.paper_faults import LETTER_NOT_IN_FONT, TEXT_TOO_LONG
from cardgen.fonts import Weight
from cardgen.layout.fit import Breaks, Setting, balanced, wrap
from cardgen.layout.geometry import Mm
from cardgen.layout.setting import Placed, text_items
from cardgen.light_dataclass import dataclass
from cardgen.problems import Problem, Span

# Capitals in mm.  The least is 15 minutes of arc, the minimum of NUREG-0700, at 0.55 m: a sheet on
# the hood of a truck.
CAPITAL = 2.4
NAME = 2.7  # what one looks for
CABLE = 3.0
BENEATH = 1.0  # mm between a text and what is said of it beneath


@dataclass(frozen=True, eq=False, slots=True, kw_only=True)
class SetText(Placed):
    """Words that are set, on so many lines; `right` is how far they go to the right."""

    lines: int = 0
    right: float = 0.0


NOTHING_SET = SetText(height=0.0)


def wide(text: str, weight: Weight, capital_mm: float) -> float:
    return fonts.width(text, weight) * capital_mm


def block(
    text: str,
    span: Span,
    width_mm: float,
    problems: list[Problem],
    *,
    weight: Weight = Weight.MEDIUM,
    capital_mm: float = CAPITAL,
) -> SetText:
    """A text in that width; what has a letter that is lacking or a word too wide is a problem."""
    if not text:
        return NOTHING_SET
    lacking = fonts.missing(text, weight)
    if lacking:
        listed = ", ".join(f"'{letter}' (U+{ord(letter):04X})" for letter in lacking)
        problems.append(LETTER_NOT_IN_FONT.at(span, variant="drawing", text=text, letters=listed))
        return NOTHING_SET
    lines = _wrapped(text, weight, width_mm / capital_mm)
    if lines is None:
        problems.append(TEXT_TOO_LONG.at(span, variant="drawing", text=text, width=width_mm))
        return NOTHING_SET
    setting = Setting(lines=lines, weight=weight, capital=Mm(capital_mm), by_ink=True)
    return SetText(
        height=setting.height,
        draw=lambda: text_items(setting, width_mm=width_mm),
        base=setting.above,
        lines=len(lines),
        right=setting.width,
    )


def _wrapped(text: str, weight: Weight, most_capitals: float) -> tuple[str, ...] | None:
    """In the fewest lines; of the ways to have these, the one that breaks it best."""
    whole = wrap(text, weight, most_capitals)
    if whole is not None and len(whole) == 1:
        return whole
    ways = [at for at in Breaks if wrap(text, weight, most_capitals, at) is not None]
    if not ways:
        return None
    return min((balanced(text, weight, most_capitals, at) for at in ways), key=len)
