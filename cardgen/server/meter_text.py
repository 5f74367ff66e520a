"""Turn what a meter shows, `1.2 k` or `0.23 A`, into the unit of its kind; nothing is guessed."""

from __future__ import annotations

import re
from collections.abc import Mapping
from decimal import Decimal

from cardgen.results import OL
from cardgen.results.measured import OL_TEXT

# What one of each mark is in the unit of a kind.  k, M, m: SI Brochure (BIPM), table of prefixes.
# A number without a mark is in the unit that stands beside the field.
FACTORS: Mapping[str, Mapping[str, Decimal]] = {
    "Ω": {"": Decimal(1), "k": Decimal(1_000), "M": Decimal(1_000_000)},
    "V": {"": Decimal(1), "m": Decimal("0.001")},
    "mA": {"": Decimal(1), "m": Decimal(1), "mA": Decimal(1), "A": Decimal(1_000)},
    "MΩ": {"": Decimal(1), "k": Decimal("0.001"), "M": Decimal(1)},
}
_SHOWN = re.compile(r"(\d{1,9})(?:([.,])(\d{1,6}))?\s*([a-zA-Z]{0,2})")


class UnclearValue(Exception):
    """A text that may mean two values, or none.

    Attributes:
        name: `value`, `thousands` or `mark`: of the text `entries.wrong NAME`.
        values: what stands in it.
    """

    def __init__(self, name: str, **values: str) -> None:
        super().__init__(name)
        self.name, self.values = name, values


def shown_value(text: str, unit: str) -> float:
    """The value in `unit`.

    Raises:
        UnclearValue: where the text does not say one value.
    """
    if text.strip().upper() == OL_TEXT:
        return OL
    found = _SHOWN.fullmatch(text.strip())
    if found is None:
        raise UnclearValue("value")
    whole, point, part, mark = found.groups(default="")
    # Some write 1,234 for 1234, others for 1.234; before a zero or two digits it is no such mark.
    if point == "," and len(part) == 3 and int(whole):
        raise UnclearValue("thousands", whole=whole, part=part)
    factor = FACTORS[unit].get("k" if mark == "K" else mark)
    if factor is None:
        raise UnclearValue("mark", mark=mark, unit=unit)
    return float(Decimal(f"{whole}.{part or 0}") * factor)
