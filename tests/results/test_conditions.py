"""What a crew writes once of a walk."""

from __future__ import annotations

import pytest

from cardgen.results.conditions import ALL, Conditions, UnknownCondition, conditions_of


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("", Conditions()),
        ("RS-1 bypassed", Conditions(bypassed=("RS-1",))),
        ("RS-1 and FS-2 bypassed", Conditions(bypassed=("RS-1", "FS-2"))),
        ("sensors bypassed", Conditions(bypassed=(ALL,))),
        ("sensores puenteados", Conditions(bypassed=(ALL,))),
        ("RS-1 y FS-2 puenteados", Conditions(bypassed=("RS-1", "FS-2"))),
        ("commons separated", Conditions(commons_parted=True)),
        ("comunes separados", Conditions(commons_parted=True)),
        ("22 C", Conditions(celsius=22)),
        ("temperature -3 °C", Conditions(celsius=-3)),
        ("68 F", Conditions(celsius=20)),  # by definition of the scales
        ("leads 0.3 ohm", Conditions(lead_ohms=0.3)),
        ("puntas 0.3 Ω", Conditions(lead_ohms=0.3)),
        ("terminals 26.8 V", Conditions(terminal_volts=26.8)),
        (
            "sensor bypassed; 90 F ;leads 0.2;  terminals 27",
            Conditions(bypassed=(ALL,), celsius=32.22, lead_ohms=0.2, terminal_volts=27),
        ),
    ],
)
def test_conditions(text: str, found: Conditions) -> None:
    assert conditions_of(text) == found


@pytest.mark.parametrize("text", ["wet", "22", "leads short", "22 C, leads 0.3", "terminals OL"])
def test_what_says_nothing_known_is_named(text: str) -> None:
    with pytest.raises(UnknownCondition) as raised:
        conditions_of(f"68 F; {text}")
    assert raised.value.text == text
