"""One line of the list of materials."""

from __future__ import annotations

import math
from collections.abc import Mapping

from cardgen.cards.lengths import both
from cardgen.cards.printable import Printable
from cardgen.light_dataclass import dataclass
from cardgen.units import Length
from cardgen.words import Said, Text

SPARE_PART = 0.10  # more connectors, caps and ties than are counted; common practice, no source


@dataclass(frozen=True, slots=True, kw_only=True)
class Material:
    """One line of the list.

    Attributes:
        group: the part of the list it stands in, by its name in the catalogues.
        quantity, other: in the job's own unit and, for lengths, in the other one.
        basis: what it was reckoned from.
        counted: how many there are, where more are ordered.
    """

    group: str
    what: Said
    quantity: Length | int
    basis: Said
    other: Length | None = None
    counted: int = 0

    @property
    def amount(self) -> str:
        if isinstance(self.quantity, int):
            return str(self.quantity)
        assert self.other is not None
        return both(self.quantity, self.other)


def a_tenth_more(
    printable: Printable, group: str, what: Text, numbers: Mapping[str, int]
) -> Material:
    """Rounded up; `numbers` are by the name of what was counted: joints in boxes, free ends."""
    words = printable.words
    counted = sum(numbers.values())
    parts = [words.count(f"materials.{name}", n) for name, n in numbers.items() if n]
    return Material(
        group=group,
        what=what,
        quantity=math.ceil(counted * (1 + SPARE_PART) - 1e-9),
        basis=words("materials.a tenth more", counted=words.joined(parts)),
        counted=counted,
    )
