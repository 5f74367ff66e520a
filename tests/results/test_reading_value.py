"""Values as people write them: what can mean one thing only is taken, the rest is not."""

from __future__ import annotations

import pytest

from cardgen.results import OL, Kind
from cardgen.results.reading_value import NotAValue, value_read
from tests.for_each import for_each

OHMS, VOLTS, MA, MEGOHMS = Kind.CONTROLLER, Kind.VOLTS, Kind.MILLIAMPERES, Kind.INSULATION


# By hand, from the prefixes of the SI (BIPM, SI Brochure, table 7).
@for_each(
    ("text", "kind", "value"),
    [
        ("31.4", OHMS, 31.4),
        ("1.2k", OHMS, 1200),
        ("1.2 kΩ", OHMS, 1200),
        ("1200 ohm", OHMS, 1200),
        ("1200 ohms", OHMS, 1200),
        ("1.2 k", OHMS, 1200),
        ("1.2 K", OHMS, 1200),
        ("2M", OHMS, 2_000_000),
        ("4.7 M", OHMS, 4_700_000),
        ("31.4 \u2126", OHMS, 31.4),  # the ohm sign, which is not the letter omega
        ("230mA", MA, 230),
        ("0.23 A", MA, 230),
        ("0.23A", MA, 230),
        ("230", MA, 230),
        ("230 m", MA, 230),
        ("230 mA", MA, 230),
        ("24.1 V", VOLTS, 24.1),
        ("24.1 VAC", VOLTS, 24.1),
        ("24100 m", VOLTS, 24.1),
        ("500 kohm", MEGOHMS, 0.5),
        ("500k", MEGOHMS, 0.5),
        ("500 k", MEGOHMS, 0.5),
        ("20 M", MEGOHMS, 20),
        ("20", MEGOHMS, 20),
        ("200 MΩ", MEGOHMS, 200),
        ("2 G", MEGOHMS, 2000),
        ("2 megohm", MEGOHMS, 2),
        (".5", OHMS, 0.5),
        ("31,4", OHMS, 31.4),
        ("0,234", MA, 0.234),
        ("0,234", OHMS, 0.234),  # no group of thousands begins with nothing
        ("1234,567", OHMS, 1234.567),  # no group has four digits
        ("1,234.5", OHMS, 1234.5),
        ("1.234,5", OHMS, 1234.5),
        ("1,234,567", OHMS, 1_234_567),
        ("OL", OHMS, OL),
        ("ol", OHMS, OL),
        ("0L", OHMS, OL),  # as a meter of seven segments shows it
        ("O.L", OHMS, OL),
        ("∞", MEGOHMS, OL),
        ("yes", Kind.WALK_TEST, 1),
        ("sí", Kind.WALK_TEST, 1),
        ("no", Kind.WALK_TEST, 0),
        ("", Kind.NOT_REACHED, 0),
    ],
)
def test_what_can_mean_one_thing_only(text: str, kind: Kind, value: float) -> None:
    assert value_read(text, kind) == value


@for_each(
    ("text", "kind", "variant"),
    [
        ("1,234", OHMS, "thousands"),
        ("12,345", MA, "thousands"),
        ("1,234 k", OHMS, "thousands"),
        ("230 mA", OHMS, "other unit"),
        ("230 m", OHMS, "other unit"),
        ("3 A", VOLTS, "other unit"),
        ("3 MA", MA, "too much"),
        ("24 V", MA, "other unit"),
        ("31 ohm", VOLTS, "other unit"),
        ("5m", OHMS, "other unit"),  # M or m: a million and a thousand times a thousand apart
        ("5 mohm", MEGOHMS, "other unit"),
        ("OL", VOLTS, "never OL"),
        ("230 V", MEGOHMS, "other unit"),
        ("2 kV", VOLTS, "too much"),
        ("230 A", MA, "too much"),
        ("-5", OHMS, ""),
        ("-3", VOLTS, ""),
        ("1 234", OHMS, ""),
        ("1e3", OHMS, ""),
        (">550", MEGOHMS, ""),
        ("31.4.2", OHMS, ""),
        ("1,23,4", OHMS, ""),
        ("12,34.5", OHMS, ""),
        ("about 30", OHMS, ""),
        ("1" + 110 * ",000", OHMS, ""),  # more than a number of Python holds is not OL
        ("", OHMS, ""),
        ("maybe", Kind.WALK_TEST, "walk"),
    ],
)
def test_what_cannot(text: str, kind: Kind, variant: str) -> None:
    with pytest.raises(NotAValue) as raised:
        value_read(text, kind)
    assert raised.value.variant == variant
