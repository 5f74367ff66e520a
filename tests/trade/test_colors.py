"""Insulation colors: every spelling, stripes, and letter codes against the printed table."""

from __future__ import annotations

import pytest

from cardgen.trade.colors import COLORS, Insulation, color_words, insulation
from tests.outside import tables


@pytest.mark.parametrize(
    ("words", "expected"),
    [
        ("red", Insulation(base="red")),
        ("RED", Insulation(base="red")),
        ("Light Blue", Insulation(base="light-blue")),
        ("lightblue", Insulation(base="light-blue")),
        ("lt blue", Insulation(base="light-blue")),
        ("Lt. Blue", Insulation(base="light-blue")),
        ("LT-BLUE", Insulation(base="light-blue")),
        ("sky blue", Insulation(base="light-blue")),
        ("dark blue", Insulation(base="blue")),
        ("white/sky blue", Insulation(base="white", stripe="light-blue")),
        ("gray", Insulation(base="gray")),
        ("purple", Insulation(base="violet")),
        ("white/black", Insulation(base="white", stripe="black")),
        ("white / light blue", Insulation(base="white", stripe="light-blue")),
        (" red ", Insulation(base="red")),
    ],
)
def test_what_is_a_color(words: str, expected: Insulation) -> None:
    assert insulation(words) == expected


@pytest.mark.parametrize("words", ["", "rad", "red blue", "/red", "red/rad", "red/blue/tan", "#1"])
def test_what_is_none(words: str) -> None:
    assert insulation(words) is None


def test_a_word_reads_back_as_itself() -> None:
    for base in color_words():
        for stripe in ("", *color_words()):
            color = Insulation(base=base, stripe=stripe)
            assert insulation(color.word) == color


@pytest.mark.parametrize(
    ("words", "code"),
    [
        ("red", "RD"),
        ("light-blue", "BU"),
        ("tan", ""),
        ("white/blue", "BUWH"),  # joined in the order of the table, not of the words
        ("blue/white", "BUWH"),
        ("red/tan", ""),  # half a code would mislead
    ],
)
def test_letter_codes(words: str, code: str) -> None:
    color = insulation(words)
    assert color is not None
    assert color.code == code


def test_no_two_colors_share_a_spelling() -> None:
    spellings = [s for c in COLORS.values() for s in (c.name, *c.also)]
    assert len(spellings) == len(set(spellings))


def test_no_two_colors_look_alike_on_screen() -> None:
    assert len({c.rgb for c in COLORS.values()}) == len(COLORS)


@pytest.mark.parametrize(
    "row",
    tables.rows("color_codes", used_by="code"),
    ids=lambda row: row["code"],
)
def test_codes_against_the_printed_table(row: tables.Row) -> None:
    # S45: GOST 28763-90, which is IEC 757:1983; the last entry is the pair of two codes.
    words = row["base_color"].partition(" ")[0].replace("-and-", "/")
    color = insulation(words)
    assert color is not None
    assert color.code == row["code"]


def test_a_stripe_against_the_printed_rule() -> None:
    # S44: IEC 60757:2021, red and blue on one item.
    rule = tables.rows("color_codes", base_color="red and blue on one item")
    for words in ("red/blue", "blue/red"):
        color = insulation(words)
        assert color is not None
        assert [color.code] == [row["code"] for row in rule]
