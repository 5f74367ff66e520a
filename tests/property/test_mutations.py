"""A file with slips in it never raises; `tests.benchmarks.fuzz` does the same at length."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.benchmarks.fuzz import JUDGES, SAMPLE_EVERY, text_of
from tests.property.mutations import judge_words

MANY = 40


@pytest.mark.parametrize("kind", JUDGES)
def test_a_spoiled_file(kind: str) -> None:
    for number in range(1, MANY):
        JUDGES[kind](text_of(kind, number))


@pytest.mark.parametrize("number", range(4))
def test_a_spoiled_sample_job(number: int) -> None:
    JUDGES["job"](text_of("job", number * SAMPLE_EVERY))


def test_spoiled_words(tmp_path: Path) -> None:
    for number in range(MANY):
        judge_words(text_of("words", number), tmp_path)
