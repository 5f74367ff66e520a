"""Words that the checks share."""

from __future__ import annotations

import pytest

from cardgen.english_lists import english_list
from cardgen.owners import Owner, OwnerKind, common, station


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        ([], ""),
        (["A1"], "A1"),
        (["A1", "A2"], "A1 and A2"),
        (["A1", "A2", "A3"], "A1 to A3"),
        (["A1", "A2", "A3", "B1"], "A1 to A3 and B1"),
        (["A9", "A10", "A11"], "A9 to A11"),
        (["A-01", "A-02", "A-03"], "A-01 to A-03"),
        (["A1", "A3", "A5"], "A1, A3 and A5"),
        (["A1", "A1"], "A1"),
    ],
)
def test_words_in_a_list(words: list[str], sentence: str) -> None:
    assert english_list(words) == sentence


def test_an_owner_is_called_as_people_call_it() -> None:
    assert common("A").words == "the common of A"
    assert station("A7").words == "A7"
    assert station("A7").hot_words == "the hot of A7"
    assert Owner(OwnerKind.PATH, "A", "1").words == "path 1 of A"
    assert Owner(OwnerKind.TERMINAL, "A", "3").hot_words == "terminal 3 of A"


def test_a_common_and_a_spare_of_one_name_are_two() -> None:
    assert common("A") != Owner(OwnerKind.SPARE, "COM-A")
    assert common("A") != station("A")
