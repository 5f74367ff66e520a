"""Words that the checks share."""

from __future__ import annotations

import pytest

from cardgen.english_lists import english_list
from cardgen.owners import owner_in_words


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


def test_a_common_is_called_by_its_controller() -> None:
    assert owner_in_words("COM-A") == "the common of A"
    assert owner_in_words("A7") == "A7"
