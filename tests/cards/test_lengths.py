"""Lengths in both units: as written, then rounded to what was measured."""

from __future__ import annotations

import pytest

from cardgen.cards.lengths import beside_in, in_units, with_other
from cardgen.units import Length, LengthUnit, Meters


@pytest.mark.parametrize(
    ("written", "unit", "shown"),
    [
        # The international foot is 0.3048 m (NIST SP 811, 2008, appendix B.8).
        (85, "ft", "85 ft (26 m)"),  # 25.908
        (1250, "ft", "1250 ft (381 m)"),
        (32.5, "ft", "32.5 ft (9.9 m)"),  # 9.906: below ten to tenths
        (5, "ft", "5 ft (1.5 m)"),  # 1.524
        (33, "ft", "33 ft (10 m)"),  # 10.06
        (26, "m", "26 m (85 ft)"),  # 85.30
        (3, "m", "3 m (9.8 ft)"),  # 9.84
        (0.4, "m", "0.4 m (1.3 ft)"),  # 1.31
    ],
)
def test_the_other_unit_stands_beside(written: float, unit: str, shown: str) -> None:
    assert beside_in(f"{written} {unit}") == shown


@pytest.mark.parametrize(
    ("said", "shown"),
    [
        ("6.5 ft from garage corner", "6.5 ft (2 m) from garage corner"),
        ("3 m to the oak, 12 ft to the gate", "3 m (9.8 ft) to the oak, 12 ft (3.7 m) to the gate"),
        ("10 ft (3 m) from curb", "10 ft (3 m) from curb"),
        ("12 ft 6 in from curb", "12 ft 6 in from curb"),
        ("behind pump 2, 5 m2 slab", "behind pump 2, 5 m2 slab"),
        ("box B-12 m", "box B-12 m"),
        ("by the front door", "by the front door"),
    ],
)
def test_lengths_within_what_a_person_wrote(said: str, shown: str) -> None:
    assert beside_in(said) == shown


@pytest.mark.parametrize(
    ("amount", "unit", "shown"),
    [
        (24, LengthUnit.INCHES, "24 in (0.61 m)"),  # 0.6096; the inch is 0.0254 m, same place
        (6, LengthUnit.INCHES, "6 in (0.15 m)"),
        (5, LengthUnit.FEET, "5 ft (1.5 m)"),
        (2, LengthUnit.METERS, "2 m (6.6 ft)"),
    ],
)
def test_a_short_length_in_both_units(amount: float, unit: LengthUnit, shown: str) -> None:
    assert with_other(Length(amount, unit)) == shown


def test_what_is_ordered_is_rounded_up_in_both_units() -> None:
    """100.1 ft are 30.51 m; 100 ft, 30.48 m, are no foot more."""
    assert [str(each) for each in in_units(Meters(30.0), LengthUnit.METERS, up=True)] == [
        *("30 m", "99 ft")  # 98.4
    ]
    for feet, up, told in (
        (100.1, True, ("101 ft", "31 m")),
        (100.1, False, ("100 ft", "31 m")),
        (100.0, True, ("100 ft", "31 m")),
    ):
        meters = Meters(feet * 0.3048)
        shown = [str(length) for length in in_units(meters, LengthUnit.FEET, up=up)]
        assert tuple(shown) == told
        turned = [str(length) for length in in_units(meters, LengthUnit.METERS, up=up)]
        assert tuple(turned) == told[::-1]
