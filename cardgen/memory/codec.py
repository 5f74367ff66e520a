"""Turn values into JSON and back; what does not fit is a fault of the file.

The classes themselves say what a file holds: a field that is added later has a default, which
older files get; one that no class knows is of a newer cardgen, and nothing of it is guessed.
"""

from __future__ import annotations

import json
import types
from collections.abc import Mapping
from dataclasses import MISSING, fields, is_dataclass
from enum import StrEnum
from functools import cache
from typing import Any, Union, get_args, get_origin, get_type_hints


class BadStoredValue(ValueError):
    """The JSON is not what was written."""


class OtherVersion(BadStoredValue):
    """It was written by a cardgen that keeps other things, or keeps them otherwise."""


def dumped(value: Any) -> Any:
    """A value as what `json` writes; what has no order of its own is sorted.

    A field that has its default is left out: reading gives it that again.
    """
    if type(value) in _PLAIN:
        return value
    if isinstance(value, tuple):
        return [dumped(each) for each in value]
    inside = _inside(value)
    if isinstance(inside, dict):
        return {key: dumped(each) for key, each in inside.items()}
    return inside


def as_text(value: Any) -> str:
    """The same as JSON in one line, its names in their order."""
    return _ENCODER.encode(value)


def _inside(value: Any) -> Any:
    """What a value is made of, as `json` knows it, one level deep."""
    if is_dataclass(value):
        found: dict[str, Any] = {}
        for name, usual in _usual(value.__class__):
            each = getattr(value, name)
            if each != usual:
                found[name] = each
        return found
    if isinstance(value, Mapping):
        return {str(key): each for key, each in value.items()}
    return sorted(value) if isinstance(value, frozenset) else value


_PLAIN = (str, int, float, bool, type(None))
_ENCODER = json.JSONEncoder(
    check_circular=False, ensure_ascii=False, sort_keys=True, separators=(",", ":"), default=_inside
)


def loaded(kind: type, value: Any, *, form: int | None = None) -> Any:
    """The JSON value as an instance of that dataclass; `form` is what its `format` must be.

    Raises:
        OtherVersion: if it has another format, or something that the class does not know.
        BadStoredValue: if it is not what `dumped` made of one.
    """
    if form is not None:
        number = value.get("format") if isinstance(value, Mapping) else None
        if type(number) is int and number != form:
            raise OtherVersion(f"format {number}")
    return _loaded(kind, value)


def _loaded(kind: Any, value: Any) -> Any:
    if kind is Any:
        return value
    if is_dataclass(kind):
        assert isinstance(kind, type)
        return _instance(kind, value)
    origin, args = get_origin(kind), get_args(kind)
    if origin in (types.UnionType, Union):
        return _one_of(args, value)
    if origin in (tuple, frozenset):
        return origin(_loaded(args[0], each) for each in _of_type(list, value))
    if origin is Mapping:
        named = _of_type(dict, value)
        return {_key(args[0], key): _loaded(args[1], each) for key, each in named.items()}
    if kind is float and type(value) is int:
        return float(value)
    if isinstance(value, str) and issubclass(kind, StrEnum) and value in set(kind):
        return kind(value)
    return _of_type(kind, value)


def _instance(kind: type, value: Any) -> Any:
    hints, named = _hints(kind), _of_type(dict, value)
    if strange := named.keys() - hints:
        raise OtherVersion(f"no {kind} has {sorted(strange)}")
    if lacking := _required(kind) - named.keys():
        raise BadStoredValue(f"a {kind} without {sorted(lacking)}")
    return kind(**{name: _loaded(hints[name], each) for name, each in named.items()})


def _one_of(kinds: tuple[Any, ...], value: Any) -> Any:
    found: BadStoredValue = BadStoredValue("none of what it may be")
    for kind in kinds:
        try:
            return _loaded(kind, value)
        except OtherVersion as fault:
            found = fault
        except BadStoredValue:
            continue
    raise found


def _key(kind: type, text: str) -> Any:
    try:
        return kind(text)  # JSON has only texts as keys
    except ValueError as fault:
        raise BadStoredValue(f"no {kind}") from fault


def _of_type(kind: type, value: Any) -> Any:
    if type(value) is not kind:
        raise BadStoredValue(f"no {kind}")
    return value


@cache
def _usual(kind: Any) -> tuple[tuple[str, Any], ...]:
    """By field what it is where nothing is said; `MISSING`, which no value is, if it must be."""
    made = ((f.name, f.default, f.default_factory) for f in fields(kind))
    return tuple(
        (name, default if factory is MISSING else factory()) for name, default, factory in made
    )


@cache
def _required(kind: type) -> frozenset[str]:
    """What was not added later: a field with a default is one that older files lack."""
    without = (MISSING, MISSING)
    return frozenset(f.name for f in fields(kind) if (f.default, f.default_factory) == without)


@cache
def _hints(kind: type) -> Mapping[str, Any]:
    return get_type_hints(kind)
