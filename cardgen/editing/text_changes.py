"""What can be changed in the text of a job: one value put, one entry removed, one key renamed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TypeAlias

from cardgen.problems import Problem, UserError

# What a person means, without the quotes that YAML may need: a text, a list, or keys with values.
Value: TypeAlias = "str | Sequence[Value] | Mapping[str, Value]"
# From the top of the file down: `("stations", "A1", "area")`, `("cables", "A-K1", "run", 1)`.
Path: TypeAlias = tuple[str | int, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Put:
    """A value at a place: instead of the one that stands there, or as a new entry.

    A mapping or a list that stands there already is not written anew: what is alike in it stays
    as it is, with its remarks, and only what differs is put, added or removed.

    Attributes:
        path: all but its last part must be there already; a number counts from 0, and the number
            of the items of a list adds one.
        after: for a new entry of a block, the key after which it goes; of several keys the first
            that is there. As last one if empty, or if none of several is there.
    """

    path: Path
    value: Value
    after: str | tuple[str, ...] = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Remove:
    """An entry goes, with the remark that stands on its own line behind it.

    Remarks above it stay, for they may tell of what follows as well. They go with it only where
    they stand directly above it, indented as it is, and a blank line, another remark or the end of
    its block follows it; those at the top of the file always stay.
    """

    path: Path


@dataclass(frozen=True, slots=True, kw_only=True)
class Rename:
    """A key gets another name; what mentions it elsewhere is not touched."""

    path: Path
    key: str


Change: TypeAlias = Put | Remove | Rename


class CannotEdit(UserError):
    """The text there is written in a way that cannot be changed without touching more of it.

    Attributes:
        path: of the change that is not done; empty where the whole file is the reason.
    """

    def __init__(self, sentence: str, help_: str = "", path: Path = ()) -> None:
        super().__init__(sentence, help_)
        self.path = path


class NotReadYet(CannotEdit):
    """Something must be put right in the file before anything can be changed in it.

    Attributes:
        first: what that is.
    """

    def __init__(self, first: Problem) -> None:
        sentence = f"line {first.span.line} must be put right first: {first.sentence}"
        super().__init__(sentence, first.help)
        self.first = first


class RepeatedElsewhere(CannotEdit):
    """A `*` elsewhere repeats what would be changed, so that it would change there as well."""
