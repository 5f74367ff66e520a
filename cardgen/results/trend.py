"""Turn the values of one kind at one valve, oldest first, into how they have moved."""

from __future__ import annotations

from collections.abc import Sequence

from cardgen.results.measured import OL, Kind, Measured, value_text
from cardgen.results.verdict import Finding, Outcome

# By how much two values differ before the meter, the weather or the supply can not explain it:
# a least step in the unit of the kind, and a part of the value.  Assumed.
_STEPS = {
    Kind.CONTROLLER: (1.0, 0.05),
    Kind.COIL: (1.0, 0.05),
    Kind.VOLTS: (0.5, 0.0),
    Kind.MILLIAMPERES: (10.0, 0.1),
    Kind.INSULATION: (0.0, 0.5),
}


def trend(measured: Sequence[Measured]) -> Finding:
    """From the first to the last; `name` is that of the words `trend.NAME` in the catalogue."""
    first, last = measured[0], measured[-1]
    unit = last.kind.unit
    values = {
        "first": value_text(first.value),
        "last": value_text(last.value),
        "unit": unit,
        "since": first.when[:10],
    }
    return Finding(
        name=_name(first, last) if len(measured) > 1 else "once",
        outcome=Outcome.UNKNOWN,
        values=values,
    )


def _name(first: Measured, last: Measured) -> str:
    if first.value == last.value:
        return "steady"
    if OL in (first.value, last.value):
        return "opened" if last.value == OL else "closed"
    least, part = _STEPS[last.kind]
    if abs(last.value - first.value) <= max(least, part * first.value):
        return "steady"
    return "up" if last.value > first.value else "down"
