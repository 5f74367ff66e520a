"""Text of one height is wrapped at the best places, never cut."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardgen import fonts
from cardgen.fonts import Weight
from cardgen.layout.fit import ASCENT, DESCENT, Breaks, fit, pieces, too_wide_by, wrap

TEXTS = st.text(alphabet="AVWgil017-/· Ωñ", min_size=1, max_size=40).map(str.strip).filter(bool)


@given(TEXTS, st.floats(5, 80), st.floats(2, 12), st.sampled_from(Weight))
def test_fitted_text_fits(text: str, width: float, capital: float, weight: Weight) -> None:
    found = fit((text,), weight, width_mm=width, capital_mm=capital, lines=3)
    if found is None:
        assert too_wide_by((text,), weight, width_mm=width, least_mm=capital, lines=3) > 0
        return
    assert found.width <= width + 1e-3
    assert found.capital == capital
    assert len(found.lines) <= 3


@given(TEXTS, st.floats(5, 80))
def test_no_letter_is_lost_or_added(text: str, width: float) -> None:
    found = fit((text,), Weight.BOLD, width_mm=width, capital_mm=2)
    if found is not None:
        assert _ink("".join(found.lines)) == _ink(text)


def _ink(text: str) -> str:
    """Without blanks, and without the middle points for which the end of a line may stand."""
    return text.replace(" ", "").replace("·", "")


@given(TEXTS, st.sampled_from(Breaks))
def test_pieces_joined_are_the_text(text: str, at: Breaks) -> None:
    assert "".join(pieces(text, at)) == text


@given(TEXTS, st.floats(5, 60))
def test_too_wide_by_is_what_is_lacking(text: str, width: float) -> None:
    by = too_wide_by((text,), Weight.BOLD, width_mm=width, least_mm=3, lines=1)
    assert fit((text,), Weight.BOLD, width_mm=width + by + 0.01, capital_mm=3, lines=1)


def test_text_wraps_into_lines_of_like_length() -> None:
    found = fit(("front lawn west, spray",), Weight.BOLD, width_mm=48, capital_mm=4, lines=2)
    assert found is not None
    assert found.lines == ("front lawn", "west, spray")


def test_what_is_too_wide_has_no_setting() -> None:
    wide = fonts.width("MVB-12", Weight.BOLD)
    assert fit(("MVB-12",), Weight.BOLD, width_mm=4 * wide, capital_mm=4, lines=1)
    assert fit(("MVB-12",), Weight.BOLD, width_mm=3.9 * wide, capital_mm=4, lines=1) is None


def test_an_id_is_broken_only_where_nothing_else_helps() -> None:
    found = fit(("SP-A-K1-3",), Weight.HEAVY, width_mm=15, capital_mm=3, lines=2)
    assert found is not None
    assert found.lines[0].endswith("-")
    roomy = fit(("SP-A-K1-3 spare",), Weight.HEAVY, width_mm=24, capital_mm=3, lines=2)
    assert roomy is not None
    assert roomy.lines == ("SP-A-K1-3", "spare")


def test_a_key_is_broken_only_where_nothing_else_helps() -> None:
    text, wide = "MQ674YMXEZWW/VB-1", fonts.width("MQ674YMXEZWW/", Weight.BOLD)
    for width_mm, lines in (
        (2.1 * wide, ("MQ674YMXEZWW/", "VB-1")),
        (1.9 * wide, ("MQ674Y", "MXEZWW/VB-1")),
    ):
        made = fit((text,), Weight.BOLD, width_mm=width_mm, capital_mm=2, lines=2)
        assert made is not None
        assert made.lines == lines


def test_a_stamp_breaks_at_its_points() -> None:
    found = fit(("HERO-116 · rev 5 · 2026-06-08",), Weight.MEDIUM, width_mm=25, capital_mm=2)
    assert found is not None
    assert found.lines == ("HERO-116 · rev 5", "2026-06-08")


def test_a_bound_blank_does_not_end_a_line() -> None:
    assert wrap("A-K1 red\u00a0RD", Weight.BOLD, 5.5) == ("A-K1", "red\u00a0RD")


@pytest.mark.parametrize("text", ["", " "])
def test_nothing_takes_no_line(text: str) -> None:
    found = fit((text,), Weight.BOLD, width_mm=10, capital_mm=4)
    assert found is not None
    assert (found.lines, found.height) == ((), 0)


def test_lines_alike_take_room_alike_and_accents_more() -> None:
    """So that the cards of a print have their lines at the same places."""
    heights = []
    for text in ("HOT A-S1", "front lawn", "spray", "ÁREA"):
        made = fit((text,), Weight.BOLD, width_mm=60, capital_mm=4)
        assert made is not None
        heights.append(made.height)
    capitals, plain, tailed, accented = heights
    assert capitals == pytest.approx(4, abs=0.15)
    assert plain == tailed > 4 * 1.3
    assert accented > 4 * 1.2
    low, high = fonts.ink("gjpqy,;", Weight.BOLD)[0], fonts.ink("bdfhklt", Weight.BOLD)[1]
    assert -low <= DESCENT and high <= ASCENT  # of the very letters that are shipped
