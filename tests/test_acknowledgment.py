"""What `known` must say for one note: followed in every sample, that note alone is told no more."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from cardgen.acknowledgment import entry_for
from cardgen.problems import Problem, Verdict
from tests.jobs import SAMPLES, edit, examined, sample

# By hand, from what `check` tells of the samples: the code and whose it is.
LARKSPUR = ["several-commons A", "sensor-on-terminals RAIN"]


def notes(text: str) -> Iterator[Problem]:
    return (p for p in examined(text).problems if p.verdict is Verdict.NOTE and not p.known)


def test_an_entry_says_the_code_and_whose_the_note_is() -> None:
    found = examined(sample("larkspur")).problems
    assert [
        entry_for(note, found, owner) for note, owner in zip(found, ("A", "RAIN"), strict=True)
    ] == LARKSPUR


@pytest.mark.parametrize("name", SAMPLES)
def test_an_entry_means_its_note_and_no_other(name: str) -> None:
    text = sample(name)
    before = examined(text).problems
    for note in notes(text):
        entry = entry_for(note, before)
        if not entry:
            assert len([p for p in before if p.code == note.code]) > 1, note
            continue
        after = examined(f"{text}\nknown: ['{entry}']\n").problems
        assert [p.sentence for p in after if p.known] == [note.sentence]
        assert [(p.code, p.sentence) for p in after] == [(p.code, p.sentence) for p in before]


def test_errors_and_warnings_have_no_entry() -> None:
    text = edit(
        sample("larkspur"),
        'A2: {area: "front lawn east, spray", box: VB-1',
        "A2: {area: x, box: VB-9",
    )
    found = examined(text).problems
    strict = [p for p in found if p.verdict is not Verdict.NOTE]
    assert strict and not any(entry_for(p, found) for p in strict)
