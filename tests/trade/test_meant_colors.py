"""What people write for the color of a conductor, in two languages and in short.

The Spanish words are those of the catalogue from which tags are printed; the short forms are common
practice, no source.
"""

from __future__ import annotations

import pytest

from cardgen.trade.colors import COLORS
from cardgen.trade.meant_colors import meant_color
from cardgen.words import load_words


def test_every_color_is_known_by_the_word_that_is_printed_in_spanish() -> None:
    words, problems = load_words(("es",), None)
    assert words is not None and not problems
    for name in COLORS:
        meant = meant_color(words.color(name).printed)
        assert meant is not None and meant.word == name


@pytest.mark.parametrize(
    ("written", "meant"),
    [
        ("GRN/WHT", "green/white"),
        ("blanco con negro", "white/black"),
        ("white with black stripe", "white/black"),
        ("red wire", "red"),
        ("alambre rojo", "red"),
        ("BLK", "black"),
        ("azul-blanco", "blue/white"),
        ("light green", None),
        ("red, white", None),
        ("wire", None),
        ("", None),
    ],
)
def test_one_color_or_two(written: str, meant: str | None) -> None:
    found = meant_color(written)
    assert (found.word if found else None) == meant
