"""Text is wrapped, then shrunk, never cut."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardgen import fonts
from cardgen.fonts import Weight
from cardgen.layout.fit import Breaks, fit, pieces, too_wide_by, wrap

TEXTS = st.text(alphabet="AVWgil017-/· Ωñ", min_size=1, max_size=40).map(str.strip).filter(bool)


@given(TEXTS, st.floats(5, 80), st.floats(2, 4), st.floats(4, 12), st.sampled_from(Weight))
def test_fitted_text_fits(
    text: str, width: float, least: float, wanted: float, weight: Weight
) -> None:
    found = fit((text,), weight, width_mm=width, wanted_mm=wanted, least_mm=least, lines=3)
    if found is None:
        assert too_wide_by((text,), weight, width_mm=width, least_mm=least, lines=3) > 0
        return
    assert found.width <= width + 1e-3
    assert least - 1e-9 <= found.capital <= wanted + 1e-9
    assert len(found.lines) <= 3


@given(TEXTS, st.floats(5, 80))
def test_no_letter_is_lost_or_added(text: str, width: float) -> None:
    found = fit((text,), Weight.BOLD, width_mm=width, wanted_mm=6, least_mm=2)
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
    assert fit((text,), Weight.BOLD, width_mm=width + by + 0.01, wanted_mm=3, least_mm=3, lines=1)


def test_words_that_fit_stay_as_large_as_wanted() -> None:
    found = fit(("A7",), Weight.HEAVY, width_mm=40, wanted_mm=12, least_mm=6, lines=1)
    assert found is not None
    assert found.lines == ("A7",)
    assert found.capital == 12.0


def test_text_wraps_before_it_shrinks() -> None:
    found = fit(
        ("front lawn west, spray",), Weight.BOLD, width_mm=48, wanted_mm=4, least_mm=2, lines=2
    )
    assert found is not None
    assert found.lines == ("front lawn", "west, spray")
    assert found.capital == 4.0


def test_text_shrinks_only_to_its_least_letter_height() -> None:
    wide = fonts.width("MVB-12", Weight.BOLD)
    assert fit(("MVB-12",), Weight.BOLD, width_mm=4 * wide, wanted_mm=6, least_mm=4, lines=1)
    assert (
        fit(("MVB-12",), Weight.BOLD, width_mm=3.9 * wide, wanted_mm=6, least_mm=4, lines=1) is None
    )


def test_an_id_is_broken_only_where_nothing_else_helps() -> None:
    found = fit(("SP-A-K1-3",), Weight.HEAVY, width_mm=20, wanted_mm=6, least_mm=3, lines=2)
    assert found is not None
    assert found.lines == ("SP-A-K1-3",) or found.lines[0].endswith("-")
    roomy = fit(("SP-A-K1-3 spare",), Weight.HEAVY, width_mm=40, wanted_mm=6, least_mm=3, lines=2)
    assert roomy is not None
    assert roomy.lines == ("SP-A-K1-3", "spare")


def test_a_key_is_broken_only_where_smaller_letters_do_not_help() -> None:
    text, wide = "MQ674YMXEZWW/VB-1", fonts.width("MQ674YMXEZWW/", Weight.BOLD)
    for width_mm, lines in (
        (2.1 * wide, ("MQ674YMXEZWW/", "VB-1")),
        (1.9 * wide, ("MQ674Y", "MXEZWW/VB-1")),
    ):
        made = fit((text,), Weight.BOLD, width_mm=width_mm, wanted_mm=3, least_mm=2, lines=2)
        assert made is not None
        assert made.lines == lines


def test_a_stamp_breaks_at_its_points() -> None:
    found = fit(
        ("HERO-116 · rev 5 · 2026-06-08",), Weight.MEDIUM, width_mm=25, wanted_mm=2, least_mm=2
    )
    assert found is not None
    assert found.lines == ("HERO-116 · rev 5", "2026-06-08")


def test_a_bound_blank_does_not_end_a_line() -> None:
    assert wrap("A-K1 red\u00a0RD", Weight.BOLD, 5.5) == ("A-K1", "red\u00a0RD")


@pytest.mark.parametrize("text", ["", " "])
def test_nothing_takes_no_line(text: str) -> None:
    found = fit((text,), Weight.BOLD, width_mm=10, wanted_mm=4, least_mm=2)
    assert found is not None
    assert (found.lines, found.height) == ((), 0)


def test_height_counts_tails_and_accents() -> None:
    plain = fit(("HOT",), Weight.BOLD, width_mm=40, wanted_mm=4, least_mm=4)
    tailed = fit(("Águas, p",), Weight.BOLD, width_mm=40, wanted_mm=4, least_mm=4)
    assert plain is not None
    assert tailed is not None
    assert plain.height == pytest.approx(4, abs=0.15)
    assert tailed.height > 4 * 1.4
