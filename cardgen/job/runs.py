"""Readers for what is written as a line of things: runs, terminal strips, conductors."""

from __future__ import annotations

import re
from itertools import pairwise

from cardgen.job.model import ConductorWords, Stop
from cardgen.job.quantities import LENGTH
from cardgen.problems import Span
from cardgen.reading import nodes
from cardgen.reading.nodes import Node, Scalar, kind_of, short
from cardgen.reading.shapes import IDENTIFIER, TEXT, Report, Schema, Shape, Written, expected
from cardgen.units import Length


class RunShape(Shape[tuple[Stop, ...]]):
    """`[A, 85 ft, VB-1, 60 ft, VB-2]`: places with the length of each leg between them."""

    def read(self, node: Node, at: Span, report: Report) -> tuple[Stop, ...] | None:
        items = node.items if isinstance(node, nodes.Sequence) else ()
        split = _split_length(items)
        if split is not None:
            first, second = split
            sentence = f"the comma splits '{first.text},{second.text}' in two"
            report.error(
                first.span, "comma", sentence, f"write a point: '{first.text}.{second.text}'"
            )
            return None
        if len(items) < 3 or len(items) % 2 == 0:
            help_ = "for example [A, 85 ft, VB-1, 60 ft, VB-2]"
            if not items:
                expected("a run in brackets", node, at, report, help_)
                return None
            sentence = "a run starts and ends at a place and has a length between each two"
            report.error(node.span, "run", sentence, help_)
            return None
        names = [_name(item, report) for item in items[::2]]
        legs = [_leg(items, index, report) for index in range(1, len(items), 2)]
        if None in names or None in legs:
            report.named += [name for name in names if name is not None]
            return None
        read = zip(names, (None, *legs), strict=True)
        return tuple(Stop(span=n.span, at=n.value, leg=leg) for n, leg in read if n is not None)

    def schema(self) -> Schema:
        return {"type": "array", "minItems": 3, "items": {"type": ["string", "number"]}}


def _split_length(items: tuple[Node, ...]) -> tuple[Scalar, Scalar] | None:
    """`85,5 ft` in brackets: a bare number, then one with a unit."""
    for first, second in pairwise(items):
        if (
            isinstance(first, Scalar)
            and isinstance(second, Scalar)
            and re.fullmatch("[0-9]+", first.text)
            and re.fullmatch("[0-9]+ *[A-Za-z]+", second.text)
        ):
            return first, second
    return None


def _name(node: Node, report: Report) -> Written[str] | None:
    name = IDENTIFIER.read(node, node.span, report)
    return None if name is None else Written(node.span, name)


def _leg(items: tuple[Node, ...], index: int, report: Report) -> Written[Length] | None:
    """The length at `index`, between two places."""
    node = items[index]
    if isinstance(node, Scalar) and re.match("[A-Za-z]", node.text):
        what = f"a length before {kind_of(items[index + 1])}"
        help_ = "write places and lengths in turn: [A, 85 ft, VB-1]"
        expected(what, node, node.span, report, help_, "length-missing")
        return None
    length = LENGTH.read(node, node.span, report)
    return None if length is None else Written(node.span, length)


class TerminalsShape(Shape[tuple[str, ...]]):
    """`[C, 1 to 8, MV, SEN, SEN]`: the terminal strip in physical order."""

    def read(self, node: Node, at: Span, report: Report) -> tuple[str, ...] | None:
        items = node.items if isinstance(node, nodes.Sequence) else ()
        if not items:
            what = "a list of terminals in brackets"
            expected(what, node, at, report, "for example [C, 1 to 8, MV, SEN, SEN]")
            return None
        terminals: list[str] = []
        good = True
        for item in items:
            found = _terminals(item, report)
            good = good and bool(found)
            twice = next((t for t in found if t.isdigit() and t in terminals), "")
            if twice:
                sentence = f"terminal {twice} is on the strip twice"
                report.error(item.span, "terminal", sentence, "each number is there once")
                good = False
            terminals.extend(found)
        return tuple(terminals) if good else None

    def schema(self) -> Schema:
        return {"type": "array", "minItems": 1, "items": {"type": ["string", "integer"]}}


def _terminals(item: Node, report: Report) -> tuple[str, ...]:
    """`1 to 8` written out; nothing after reporting what is wrong."""
    text = item.text if isinstance(item, Scalar) else ""
    match = re.fullmatch("([1-9][0-9]{0,2})(?: to ([1-9][0-9]{0,2}))?|[A-Z][A-Z0-9+-]{0,5}", text)
    if match is None:
        help_ = "write C, a number from 1, '1 to 8', MV, SEN or another name in capitals"
        expected("a terminal", item, item.span, report, help_, "terminal")
        return ()
    if match[1] is None:
        return (match[0],)
    first, last = int(match[1]), int(match[2] or match[1])
    if first > last:
        sentence = f"'{text}' counts downward"
        report.error(item.span, "terminal", sentence, f"write '{last} to {first}'")
        return ()
    return tuple(str(n) for n in range(first, last + 1))


class ConductorShape(Shape[ConductorWords]):
    """`A-K1 white`, or a stretch of it: `A-K1 blue from VB-3`, `A-K1 red from VB-1 to VB-5`."""

    def __init__(self, *, whole: bool = False) -> None:
        self.whole = whole

    def read(self, node: Node, at: Span, report: Report) -> ConductorWords | None:
        text = TEXT.read(node, at, report)
        if text is None:
            return None
        words, *rest = re.split(r"\s+(from|to)(?:\s+|$)", text)
        keys, names = rest[::2], rest[1::2]
        said = dict(zip(keys, names, strict=True))
        if self.whole and keys:
            sentence = f"'{short(text)}' names a stretch, where only a whole conductor can stand"
            report.error(node.span, "value", sentence, f"write '{short(words)}'")
            return None
        example = f"{short(words)} from VB-3 to VB-5"
        if keys not in ([], ["from"], ["to"], ["from", "to"]):
            sentence = f"'{short(text)}' does not say once from where and to where"
            report.error(node.span, "value", sentence, f"write '{example}'")
            return None
        if "" in names:
            help_ = f"write the box from which on, or to which, it serves: '{example}'"
            report.error(node.span, "value", f"'{short(text)}' names no box", help_)
            return None
        begins, ends = said.get("from", ""), said.get("to", "")
        if begins and begins == ends:
            sentence = f"'{short(text)}' begins and ends in one place"
            report.error(node.span, "value", sentence, f"name two places: '{example}'")
            return None
        return ConductorWords(span=node.span, value=words, begins=begins, ends=ends)

    def schema(self) -> Schema:
        return TEXT.schema()


RUN = RunShape()
TERMINALS = TerminalsShape()
CONDUCTOR_WORDS = ConductorShape()
WHOLE_CONDUCTOR = ConductorShape(whole=True)
