"""A test of many cases fails where one of them does, tells all that do, and names them."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.for_each import for_each


def test_all_cases_are_tried_and_all_that_fail_are_told() -> None:
    tried = []

    @for_each("number", [1, 2, 3, 4])
    def odd(number: int) -> None:
        tried.append(number)
        assert number % 2

    with pytest.raises(ExceptionGroup, match="2 of 4 cases") as caught:
        odd()
    assert tried == [1, 2, 3, 4]
    assert [fault.__notes__ for fault in caught.value.exceptions] == [["with 2"], ["with 4"]]


def test_no_case_at_all_is_a_fault() -> None:
    with pytest.raises(AssertionError, match="nothing was tried"):
        for_each("number", [])(print)()


@for_each(("one", "other"), [("a", "ab"), ("c", "cd")])
@for_each("ending", ["x", "y"])
def test_cases_go_with_others_and_with_fixtures(
    one: str, other: str, ending: str, tmp_path: Path
) -> None:
    assert tmp_path.is_dir()
    assert other.startswith(one) and ending in "xy"
