"""Values go into JSON and come back; what is added later, and what nobody knows."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from typing import Any

import pytest

from cardgen.memory.codec import BadStoredValue, OtherVersion, as_text, dumped, loaded


class Side(StrEnum):
    LEFT = "left"


@dataclass(frozen=True, kw_only=True)
class Part:
    name: str
    ohms: float | None = None


@dataclass(frozen=True, kw_only=True)
class Whole:
    format: int
    parts: tuple[Part, ...]
    one: Part | None
    side: Side
    marks: frozenset[str]
    by_number: Mapping[int, Part]
    later: Mapping[str, str] = field(default_factory=dict)
    as_it_is: Any = None


WHOLE = Whole(
    format=1,
    parts=(Part(name="a", ohms=2.0), Part(name="b")),
    one=Part(name="c"),
    side=Side.LEFT,
    marks=frozenset({"y", "x"}),
    by_number={3: Part(name="d")},
)
SAID: dict[str, Any] = {
    "format": 1,
    "parts": [{"name": "a", "ohms": 2.0}, {"name": "b"}],
    "one": {"name": "c"},
    "side": "left",
    "marks": ["x", "y"],
    "by_number": {"3": {"name": "d"}},
}


def test_it_is_what_json_writes_and_comes_back() -> None:
    assert dumped(WHOLE) == SAID
    assert json.loads(as_text(WHOLE)) == SAID
    assert loaded(Whole, json.loads(json.dumps(dumped(WHOLE))), form=1) == WHOLE


def test_files_from_when_defaults_were_written_are_read() -> None:
    assert (
        loaded(
            Whole,
            {**SAID, "later": {}, "as_it_is": None, "one": {"name": "c", "ohms": None}},
            form=1,
        )
        == WHOLE
    )


def test_a_field_added_later_has_its_default() -> None:
    older = {name: value for name, value in SAID.items() if name not in ("later", "as_it_is")}
    assert loaded(Whole, {**older, "one": {"name": "c"}}) == WHOLE
    assert loaded(Part, {"name": "a", "ohms": 2}) == Part(name="a", ohms=2.0)


@pytest.mark.parametrize(
    "other",
    [
        {"format": 2},
        {"weather": "fine"},
        {"parts": [{"name": "a", "weather": "fine"}]},
        {"one": {"name": "c", "weather": "fine"}},  # it may also be None, which it is not either
        {"by_number": {"3": {"name": "d", "weather": "fine"}}},
    ],
)
def test_what_no_class_knows_is_of_another_version(other: dict[str, Any]) -> None:
    with pytest.raises(OtherVersion):
        loaded(Whole, {**SAID, **other}, form=1)


@pytest.mark.parametrize(
    "wrong",
    [
        {"format": "1"},
        {"format": True},
        {"parts": {}},
        {"parts": [{}]},
        {"parts": ["a"]},
        {"one": 5},
        {"side": "right"},
        {"marks": "xy"},
        {"marks": [5]},
        {"by_number": []},
        {"by_number": {"three": {"name": "d"}}},
    ],
)
def test_what_was_never_written_so_is_unfit(wrong: dict[str, Any]) -> None:
    with pytest.raises(BadStoredValue) as fault:
        loaded(Whole, {**SAID, **wrong}, form=1)
    assert not isinstance(fault.value, OtherVersion)


@pytest.mark.parametrize("value", [None, [], "", 3, {}])
def test_what_is_no_file_at_all(value: Any) -> None:
    with pytest.raises(BadStoredValue):
        loaded(Whole, value, form=1)
