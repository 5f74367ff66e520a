"""Insulation colors: every spelling, stripes, and letter codes against the printed table."""

from __future__ import annotations

import pytest

from cardgen.trade.colors import COLORS, Insulation, color_words, insulation, own_codes
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
        ("light-blue", "LB"),
        ("tan", "TN"),
        ("white/blue", "WH/BU"),  # in the order of the words
        ("blue/white", "BU/WH"),
        ("red/tan", "RD/TN"),
        ("green/yellow", "GN/YE"),  # no protective conductor, so not GNYE
    ],
)
def test_letter_codes(words: str, code: str) -> None:
    color = insulation(words)
    assert color is not None
    assert color.code == code


def every_insulation() -> list[Insulation]:
    stripes = ("", *color_words())
    return [Insulation(base=base, stripe=stripe) for base in color_words() for stripe in stripes]


def test_no_two_insulations_share_a_code() -> None:
    every = every_insulation()
    assert len(every) == 16 + 16 * 16
    assert len({color.code for color in every}) == len(every)


def test_a_code_says_each_color_in_the_order_of_the_words() -> None:
    for color in every_insulation():
        parts = color.code.split("/")
        assert len(parts) == len(color.word.split("/"))
        assert [len(part) for part in parts] == [2] * len(parts)
        assert parts[0] == Insulation(base=color.base).code


def test_own_codes_are_those_of_no_standard() -> None:
    standard = {row["code"] for row in tables.rows("color_codes", used_by="code")}
    ours = {color.code for color in COLORS.values()} - standard
    assert ours == {"LB", "TN"}
    assert own_codes(color.code for color in COLORS.values()) == ("LB", "TN")
    assert own_codes(["BU", "WH/TN", "RD"]) == ("TN",)
    assert own_codes(["BU", "WH/RD"]) == ()


def test_no_two_colors_share_a_spelling() -> None:
    spellings = [s for c in COLORS.values() for s in (c.name, *c.also)]
    assert len(spellings) == len(set(spellings))


def test_no_two_colors_look_alike_on_screen() -> None:
    assert len({c.rgb for c in COLORS.values()}) == len(COLORS)


@pytest.mark.parametrize(
    "row",
    [row for row in tables.rows("color_codes", used_by="code") if len(row["code"]) == 2],
    ids=lambda row: row["code"],
)
def test_codes_against_the_printed_table(row: tables.Row) -> None:
    # S45: GOST 28763-90, which is IEC 757:1983.
    color = insulation(row["base_color"].partition(" ")[0])
    assert color is not None
    assert color.code == row["code"]


def test_a_code_of_two_colors_is_none_of_the_standard() -> None:
    # S44, S45: IEC 60757 joins two codes without a stroke, one code for both orders.
    (rule,) = tables.rows("color_codes", base_color="red and blue on one item")
    (pair,) = tables.rows("color_codes", base_color="green-and-yellow")
    every = {color.code for color in every_insulation()}
    assert not every & {rule["code"], pair["code"]}
    assert {"RD/BU", "BU/RD", "GN/YE", "YE/GN"} <= every
