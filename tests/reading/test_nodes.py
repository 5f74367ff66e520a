"""What a node is called in a message."""

from __future__ import annotations

import pytest

from cardgen.reading.nodes import LONGEST_QUOTE, Mapping, is_absent, kind_of, short
from cardgen.reading.parse import parse


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("x:", "nothing"),
        ("x: ''", "nothing"),
        ("x: no", "'no'"),
        ("x: |\n  a\n  b\n", "'a b'"),
        ("x: []", "an empty list"),
        ("x: [a]", "a list"),
        ("x: {}", "an empty block"),
        ("x: {a: b}", "a block of 'key: value' lines"),
        ("x: " + "y" * 10_000, "'" + "y" * (LONGEST_QUOTE - 3) + "...'"),
    ],
    ids=range(9),
)
def test_kind_of(text: str, kind: str) -> None:
    root, _ = parse(text, "job.yaml")
    assert isinstance(root, Mapping)
    assert kind_of(root.entries[0].value) == kind


def test_only_nothing_is_absent() -> None:
    root, _ = parse("a:\nb: ''\nc: []\nd: e\n", "job.yaml")
    assert isinstance(root, Mapping)
    assert [is_absent(entry.value) for entry in root.entries] == [True, False, False, False]


def test_short_leaves_short_text_alone() -> None:
    assert short("x" * LONGEST_QUOTE) == "x" * LONGEST_QUOTE
