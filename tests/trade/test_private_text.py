"""What a text must not say in the open, and what it may."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardgen.trade.private_text import private
from tests.for_each import for_each
from tests.trade.private_texts import (
    PASSED_ENGLISH,
    PASSED_SPANISH,
    REFUSED_ENGLISH,
    REFUSED_SPANISH,
)


@for_each("marked", [*REFUSED_ENGLISH, *REFUSED_SPANISH])
def test_a_secret_is_found_where_it_stands(marked: str) -> None:
    before, _, rest = marked.partition("[")
    secret, _, after = rest.partition("]")
    found = private(before + secret + after)
    assert found is not None
    assert found.start <= len(before) < len(before) + len(secret) <= found.end
    assert found.words == (before + secret + after)[found.start : found.end]


@for_each("text", [*PASSED_ENGLISH, *PASSED_SPANISH])
def test_what_is_plainly_trade_passes(text: str) -> None:
    assert private(text) is None


@for_each("text", [*PASSED_ENGLISH, *PASSED_SPANISH])
def test_it_passes_in_capitals_and_without_accents_too(text: str) -> None:
    assert private(text.upper()) is None
    assert private(text.translate(str.maketrans("áéíóúñ", "aeioun"))) is None


@for_each("marked", [*REFUSED_ENGLISH, *REFUSED_SPANISH])
def test_it_is_found_in_capitals_and_without_accents_too(marked: str) -> None:
    text = marked.replace("[", "").replace("]", "")
    assert private(text.upper())
    assert private(text.translate(str.maketrans("áéíóúñ", "aeioun")))


def test_there_are_sixty_each_way() -> None:
    for refused_or_passed in (REFUSED_ENGLISH, REFUSED_SPANISH, PASSED_ENGLISH, PASSED_SPANISH):
        assert len(set(refused_or_passed)) >= 60


@pytest.mark.parametrize(
    ("text", "what"),
    [
        ("gate code 4471", "a code"),
        ("password heron", "a password"),
        ("ask ann@example.com", "an email address"),
        ("call 555-123-4567", "a phone number"),
    ],
)
def test_it_says_what_it_is(text: str, what: str) -> None:
    found = private(text)
    assert found is not None
    assert found.what == what


def test_letters_that_take_two_keep_their_place() -> None:
    # 'ﬁ' is taken apart into two letters, and 'o' with its accent is typed as two.
    text = "ﬁeld porto\u0301n 4471"
    found = private(text)
    assert found is not None
    assert found.words == "porto\u0301n 4471"


@given(st.text() | st.text("gate code 4471#:,.-/()+ clavepoint@"))
def test_it_never_stumbles(text: str) -> None:
    found = private(text)
    assert found is None or (found.words and found.words == text[found.start : found.end])
