"""What a meter shows becomes one value in the unit of its kind, or is refused."""

from __future__ import annotations

import math

import pytest

from cardgen.results import Kind
from cardgen.server.meter_text import FACTORS, UnclearValue, shown_value


@pytest.mark.parametrize(
    ("shown", "unit", "value"),
    # By hand, with the prefixes of the SI (BIPM, SI Brochure: kilo 10^3, mega 10^6, milli 10^-3).
    [
        ("31.4", "Ω", 31.4),
        ("1.2 k", "Ω", 1200),
        ("1.2k", "Ω", 1200),
        ("1.2 K", "Ω", 1200),
        ("4.7 M", "Ω", 4_700_000),
        ("0.23 A", "mA", 230),
        ("230", "mA", 230),
        ("230 m", "mA", 230),
        ("230 mA", "mA", 230),
        ("500 k", "MΩ", 0.5),
        ("20 M", "MΩ", 20),
        ("20", "MΩ", 20),
        ("24100 m", "V", 24.1),
        ("16,2", "Ω", 16.2),
        ("0,234", "mA", 0.234),
        ("ol", "Ω", math.inf),
    ],
)
def test_a_value_is_taken_as_the_meter_shows_it(shown: str, unit: str, value: float) -> None:
    assert shown_value(shown, unit) == value


@pytest.mark.parametrize(
    ("shown", "unit", "name"),
    [
        ("1,234", "Ω", "thousands"),
        ("12,345", "mA", "thousands"),
        ("1,234 k", "Ω", "thousands"),
        ("1,234.5", "Ω", "value"),
        ("1 234", "Ω", "value"),
        ("-3", "V", "value"),
        ("1e3", "Ω", "value"),
        ("", "Ω", "value"),
        ("230 m", "Ω", "mark"),
        ("3 A", "V", "mark"),
        ("3 MA", "mA", "mark"),
    ],
)
def test_what_may_mean_two_things_is_refused(shown: str, unit: str, name: str) -> None:
    with pytest.raises(UnclearValue) as refused:
        shown_value(shown, unit)
    assert refused.value.name == name


def test_every_unit_has_its_marks() -> None:
    assert set(FACTORS) == {kind.unit for kind in Kind}
