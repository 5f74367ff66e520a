"""Turn the values of one kind at one valve, oldest first, into how they have moved."""

from __future__ import annotations

from collections.abc import Sequence

from cardgen.results.measured import OL, Measured, value_text
from cardgen.results.verdict import Finding, Outcome

# By how much two values differ before the meter, the weather or the supply can not explain it:
# a least step in the unit, and a part of the value.  Assumed.
_STEPS = {
    "Ω": (1.0, 0.05),
    "V": (0.5, 0.0),
    "mA": (10.0, 0.1),
    "MΩ": (0.0, 0.5),
}


def trend(measured: Sequence[Measured]) -> Finding:
    """From the first to the last, and whether those between them keep to that.

    Of a kind that has a unit: a walk test does not move.
    """
    first, last = measured[0], measured[-1]
    nets = [each.net for each in measured]
    values = {
        "first": value_text(first.net),
        "last": value_text(last.net),
        "least": value_text(min(nets)),
        "most": value_text(max(nets)),
        "unit": last.kind.unit,
        "since": first.when[:10],
    }
    name = _name(nets, _STEPS[last.kind.unit]) if len(measured) > 1 else "once"
    return Finding(name=name, outcome=Outcome.UNKNOWN, values=values)


def _name(values: Sequence[float], step: tuple[float, float]) -> str:
    first, last = values[0], values[-1]
    if any(_is_beyond(value, first, last, step) for value in values[1:-1]):
        return "unsteady"
    if _is_same(first, last, step):
        return "steady"
    if OL in (first, last):
        return "opened" if last == OL else "closed"
    return "up" if last > first else "down"


def _is_beyond(value: float, first: float, last: float, step: tuple[float, float]) -> bool:
    """Neither between the first and the last nor about the same as one of them."""
    low, high = sorted((first, last))
    return not low <= value <= high and not any(_is_same(end, value, step) for end in (low, high))


def _is_same(one: float, other: float, step: tuple[float, float]) -> bool:
    if OL in (one, other):
        return one == other
    least, part = step
    return abs(other - one) <= max(least, part * one)
