"""Where things lie: millimeters from the top left corner, x to the right, y downwards."""

from __future__ import annotations

import math
from typing import NewType

from cardgen.light_dataclass import dataclass

Mm = NewType("Mm", float)

MM_PER_INCH = 25.4  # exact; international inch, NIST SP 811 (2008), appendix B.8
POINTS_PER_INCH = 72.0  # PDF user space unit, ISO 32000-1:2008, 8.3.2.3
NOTHING = 1e-6  # mm; sums of decimal fractions differ by less


def points(length_mm: float) -> float:
    """Millimeters as PDF points."""
    return length_mm * POINTS_PER_INCH / MM_PER_INCH


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame:
    """A rectangle.

    ```
    (x, y) +--------+
           |        | height
           +--------+ (right, bottom)
             width
    ```
    """

    x: Mm
    y: Mm
    width: Mm
    height: Mm

    @property
    def right(self) -> Mm:
        return Mm(self.x + self.width)

    @property
    def bottom(self) -> Mm:
        return Mm(self.y + self.height)

    def shrunk(self, by_mm: float) -> Frame:
        """The same middle, every side moved inwards (outwards for a negative amount)."""
        return frame(
            self.x + by_mm, self.y + by_mm, self.width - 2 * by_mm, self.height - 2 * by_mm
        )

    def moved(self, dx_mm: float, dy_mm: float) -> Frame:
        return frame(self.x + dx_mm, self.y + dy_mm, self.width, self.height)

    def holds(self, other: Frame) -> bool:
        return (
            other.x >= self.x - NOTHING
            and other.y >= self.y - NOTHING
            and other.right <= self.right + NOTHING
            and other.bottom <= self.bottom + NOTHING
        )

    def meets(self, other: Frame) -> bool:
        """Whether the two share more than an edge."""
        return (
            self.x < other.right - NOTHING
            and other.x < self.right - NOTHING
            and self.y < other.bottom - NOTHING
            and other.y < self.bottom - NOTHING
        )


def frame(x_mm: float, y_mm: float, width_mm: float, height_mm: float) -> Frame:
    return Frame(x=Mm(x_mm), y=Mm(y_mm), width=Mm(width_mm), height=Mm(height_mm))


def whole_dots(length_mm: float, dot_mm: float) -> Mm:
    """The most whole printer dots that fit into a length."""
    return Mm(math.floor(length_mm / dot_mm + NOTHING) * dot_mm) if dot_mm else Mm(length_mm)


def on_dots(length_mm: float, dot_mm: float) -> Mm:
    """The nearest whole number of printer dots; unchanged where the dot is not known (0).

    What lies half-way goes up, so that marks of one size keep it wherever they lie.
    """
    return Mm(math.floor(length_mm / dot_mm + 0.5 + NOTHING) * dot_mm) if dot_mm else Mm(length_mm)
