"""Turn the values of a revision into JSON and back; what does not fit is a fault of the file."""

from __future__ import annotations

import types
from collections.abc import Mapping
from dataclasses import MISSING, asdict, fields, is_dataclass
from enum import StrEnum
from functools import cache
from typing import Any, Union, get_args, get_origin, get_type_hints


class Unfit(ValueError):
    """The JSON is not what was written."""


class TooOld(Unfit):
    """It was written by a cardgen that is no longer read."""


def dumped(value: Any) -> Any:
    """A dataclass as what `json` writes."""
    assert is_dataclass(value) and not isinstance(value, type)
    return asdict(value)


def loaded(kind: type, value: Any) -> Any:
    """The JSON value as an instance of that dataclass.

    Raises:
        Unfit: if it is not what `dumped` made of one.
    """
    return _loaded(kind, value)


def _loaded(kind: Any, value: Any) -> Any:
    if is_dataclass(kind):
        assert isinstance(kind, type)
        if not isinstance(value, Mapping) or not _required(kind) <= set(value) <= set(_hints(kind)):
            raise Unfit(f"no {kind}")
        return kind(**{name: _loaded(_hints(kind)[name], each) for name, each in value.items()})
    origin = get_origin(kind)
    if origin in (types.UnionType, Union):
        return _one_of(get_args(kind), value)
    if origin is tuple:
        return _tuple(get_args(kind), value)
    if kind is float and type(value) is int:
        return float(value)
    if isinstance(value, str) and issubclass(kind, StrEnum) and value in set(kind):
        return kind(value)
    if type(value) is not kind:
        raise Unfit(f"no {kind}")
    return value


def _tuple(kinds: tuple[Any, ...], value: Any) -> tuple[Any, ...]:
    if not isinstance(value, list | tuple):
        raise Unfit("no list")
    assert kinds[1:] == (...,)
    return tuple(_loaded(kinds[0], each) for each in value)


def _one_of(kinds: tuple[Any, ...], value: Any) -> Any:
    for kind in kinds:
        try:
            return _loaded(kind, value)
        except Unfit:
            continue
    raise Unfit("none of what it may be")


@cache
def _required(kind: type) -> frozenset[str]:
    """What was not added later: a field with a default is one that older files lack."""
    return frozenset(f.name for f in fields(kind) if f.default is MISSING)


@cache
def _hints(kind: type) -> Mapping[str, Any]:
    return get_type_hints(kind)
