"""What can be changed in the text of a job: one value put, one entry removed, one key renamed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TypeAlias

from cardgen.problems import UserError

# What a person means, without the quotes that YAML may need: a text, a list, or keys with values.
Value: TypeAlias = "str | Sequence[Value] | Mapping[str, Value]"
# From the top of the file down: `("stations", "A1", "area")`, `("cables", "A-K1", "run", 1)`.
Path: TypeAlias = tuple[str | int, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Put:
    """A value at a place: instead of the one that stands there, or as a new entry.

    Attributes:
        path: all but its last part must be there already.
        after: for a new entry of a block, the key after which it goes; as last one if empty.
    """

    path: Path
    value: Value
    after: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Remove:
    """An entry goes, with the remark that stands on its own line behind it."""

    path: Path


@dataclass(frozen=True, slots=True, kw_only=True)
class Rename:
    """A key gets another name; what mentions it elsewhere is not touched."""

    path: Path
    key: str


Change: TypeAlias = Put | Remove | Rename


class CannotEdit(UserError):
    """The text there is written in a way that cannot be changed without touching more of it."""
