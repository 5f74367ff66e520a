"""What a YAML file is made of: scalars as text, sequences and mappings, each with its place."""

from __future__ import annotations

from typing import NamedTuple, TypeAlias

from cardgen.problems import Span

LONGEST_QUOTE = 60


class Scalar(NamedTuple):
    """A single value, always as the text that stands in the file (`no` stays `no`).

    `quoted` tells `""` (said to be empty) from nothing at all after the colon.
    """

    span: Span
    text: str
    quoted: bool = False


class Sequence(NamedTuple):
    span: Span
    items: tuple[Node, ...]


class KeyValue(NamedTuple):
    key: Scalar
    value: Node


class Mapping(NamedTuple):
    span: Span
    entries: tuple[KeyValue, ...]


Node: TypeAlias = Scalar | Sequence | Mapping


def is_absent(node: Node) -> bool:
    """Nothing stands after the colon."""
    return isinstance(node, Scalar) and not node.text and not node.quoted


def kind_of(node: Node) -> str:
    """What a node is, in a person's words."""
    if isinstance(node, Scalar):
        return f"'{short(node.text)}'" if node.text else "nothing"
    if isinstance(node, Sequence):
        return "a list" if node.items else "an empty list"
    return "a block of 'key: value' lines" if node.entries else "an empty block"


def short(text: str) -> str:
    """A text as a message quotes it, in one line and not at any length."""
    joined = " ".join(text.split())
    return joined if len(joined) <= LONGEST_QUOTE else f"{joined[: LONGEST_QUOTE - 3]}..."
