"""Random changes of random texts: values as those of plain data, all other lines as before."""

from __future__ import annotations

from random import Random

from hypothesis import given, settings
from hypothesis import strategies as st

from cardgen.editing import CannotEdit, edited
from tests.editing.random_changes import (
    changed,
    is_repeated,
    random_change,
    random_text,
    untouched,
    values_of,
)


@settings(max_examples=60)
@given(seed=st.integers(0, 2**32))
def test_one_change_leaves_all_other_lines(seed: int) -> None:
    rng = Random(seed)
    text = random_text(rng)
    change = random_change(values_of(text), rng)
    try:
        new = edited(text, [change])
    except CannotEdit:
        assert is_repeated(text, change)
        return
    assert values_of(new) == changed(values_of(text), change)
    if "*id" in text:
        return  # PyYAML does not say where a '*' is
    before, after = untouched(text, change)
    lines = new.splitlines(keepends=True)
    assert lines[: len(before)] == before
    assert not after or lines[-len(after) :] == after


@settings(max_examples=30)
@given(seed=st.integers(0, 2**32))
def test_several_changes_are_as_one_after_another(seed: int) -> None:
    rng = Random(seed)
    text = random_text(rng)
    changes, data = [], values_of(text)
    for _ in range(rng.randint(2, 8)):
        changes.append(random_change(data, rng))
        data = changed(data, changes[-1])
    try:
        new = edited(text, changes)
    except CannotEdit:
        assert "*id" in text  # as PyYAML names what it repeats
        return
    assert values_of(new) == data
