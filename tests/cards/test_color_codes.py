"""What the legend and the conductor schedule say of letter codes that no standard has."""

from __future__ import annotations

import pytest

from cardgen.cards import CardKind
from tests.cards.printables import cards

OWN = "Color codes of these cards, not of a standard: "


@pytest.mark.parametrize(
    ("name", "line"),
    [
        ("larkspur", None),  # white, red, blue, green, yellow, orange, brown
        ("quarry", OWN + "LB and TN."),
        ("heron", OWN + "LB, TN and base/stripe as in WH/BK."),
    ],
)
def test_codes_of_our_own_are_said_where_the_job_has_one(name: str, line: str | None) -> None:
    for kind, field in ((CardKind.LEGEND, "codes"), (CardKind.SCHEDULE, "notes")):
        found = [
            card.fields.get(field)
            for of, card in cards(name, kind).items()
            if kind is CardKind.LEGEND or of.startswith("conductor schedule")
        ]
        assert found
        assert set(found) == {line}, kind
