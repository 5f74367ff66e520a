"""Readers for what is written as a line of things: runs, terminal strips, conductors."""

from __future__ import annotations

import re
from itertools import pairwise

from cardgen.faults.value_faults import (
    BAD_RUN,
    BAD_TERMINAL,
    COMMA,
    LENGTH_MISSING,
    VALUE,
)
from cardgen.job.job_parts import ConductorWords, Stop
from cardgen.job.meant_lengths import meant_length
from cardgen.job.quantities import LENGTH
from cardgen.problems import Span
from cardgen.reading import nodes
from cardgen.reading.nodes import Node, Scalar, kind_of, short
from cardgen.reading.shapes import (
    IDENTIFIER,
    TEXT,
    ListOf,
    OrNotKnown,
    Report,
    Schema,
    Shape,
    Written,
    expected,
    means_not_known,
    says_not_known,
)
from cardgen.units import NOT_KNOWN, Length


class RunShape(Shape[tuple[Stop, ...]]):
    """`[A, 85 ft, VB-1, 60 ft, VB-2]`: places with the length of each leg between them."""

    def read(self, node: Node, at: Span, report: Report) -> tuple[Stop, ...] | None:
        items = node.items if isinstance(node, nodes.Sequence) else ()
        split = _split_length(items)
        if split is not None:
            first, second = split
            number = f"{first.text},{second.text}"
            meant = meant_length(number)
            report.add(COMMA.at(first.span, variant="split", number=number, meant=meant))
            return None
        if len(items) < 3 or len(items) % 2 == 0:
            if items:
                report.add(BAD_RUN.at(node.span))
            else:
                example = "for example [A, 85 ft, VB-1, 60 ft, VB-2]"
                report.add(expected("a run in brackets", node, at, example))
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
    """`1,050 ft` or `85,5 ft` in brackets: a bare number, then one with a unit."""
    for first, second in pairwise(items):
        if (
            isinstance(first, Scalar)
            and isinstance(second, Scalar)
            and re.fullmatch("[0-9.]+", first.text)
            and meant_length(f"{first.text},{second.text}")
        ):
            return first, second
    return None


def _name(node: Node, report: Report) -> Written[str] | None:
    name = IDENTIFIER.read(node, node.span, report)
    return None if name is None else Written(node.span, name)


_LENGTH_OR_NOT = OrNotKnown(LENGTH)


def _leg(items: tuple[Node, ...], index: int, report: Report) -> Written[Length | None] | None:
    """The length at `index`, between two places; or that it is not known."""
    node = items[index]
    is_none = (
        isinstance(node, Scalar)
        and (re.match("[A-Za-z]", node.text) or not re.search("[0-9]", node.text))
        and not says_not_known(node)
        and not meant_length(node.text)
    )
    if is_none:  # the next place, words, or a '?'
        following, found = kind_of(items[index + 1]), kind_of(node)
        report.add(LENGTH_MISSING.at(node.span, next=following, found=found))
        return None
    return _LENGTH_OR_NOT.read(node, node.span, report)


class TerminalsShape(Shape[tuple[str, ...]]):
    """`[C, 1 to 8, MV, SEN, SEN]`: the terminal strip in physical order."""

    def read(self, node: Node, at: Span, report: Report) -> tuple[str, ...] | None:
        items = node.items if isinstance(node, nodes.Sequence) else ()
        if not items:
            what, example = "a list of terminals in brackets", "[C, 1 to 8, MV, SEN, SEN]"
            report.add(expected(what, node, at, f"for example {example}"))
            return None
        terminals: list[str] = []
        good = True
        for item in items:
            found = _terminals(item, report)
            good = good and bool(found)
            twice = next((t for t in found if t.isdigit() and t in terminals), "")
            if twice:
                report.add(BAD_TERMINAL.at(item.span, variant="twice", number=twice))
                good = False
            terminals.extend(found)
        return tuple(terminals) if good else None

    def schema(self) -> Schema:
        return {"type": "array", "minItems": 1, "items": {"type": ["string", "integer"]}}


def _terminals(item: Node, report: Report) -> tuple[str, ...]:
    """`1 to 8` written out; nothing after reporting what is wrong."""
    text = item.text if isinstance(item, Scalar) else ""
    match = re.fullmatch("([1-9][0-9]{0,2})(?: to ([1-9][0-9]{0,2}))?|[A-Z][A-Z0-9+-]{0,5}", text)
    hyphen = re.fullmatch("([1-9][0-9]{0,2}) ?[-\u2013] ?([1-9][0-9]{0,2})", text)
    if hyphen is not None:
        meant = f"{hyphen[1]} to {hyphen[2]}"
        report.add(BAD_TERMINAL.at(item.span, variant="hyphen", text=text, meant=meant))
        return ()
    if match is None:
        report.add(BAD_TERMINAL.at(item.span, found=kind_of(item)))
        return ()
    if match[1] is None:
        return (match[0],)
    first, last = int(match[1]), int(match[2] or match[1])
    if first > last:
        upward = f"{last} to {first}"
        report.add(BAD_TERMINAL.at(item.span, variant="downward", text=text, upward=upward))
        return ()
    return tuple(str(n) for n in range(first, last + 1))


class ConductorShape(Shape[ConductorWords]):
    """`A-K1 white`, or a stretch of it: `A-K1 blue from VB-3`, `A-K1 red from VB-1 to VB-5`."""

    def __init__(self, *, whole: bool = False, may_be_unknown: bool = False) -> None:
        self.whole, self.may_be_unknown = whole, may_be_unknown

    def read(self, node: Node, at: Span, report: Report) -> ConductorWords | None:
        if self.may_be_unknown and says_not_known(node):
            return ConductorWords(span=node.span, value=NOT_KNOWN)
        if self.may_be_unknown and means_not_known(node, report):
            return None
        text = TEXT.read(node, at, report)
        if text is None:
            return None
        words, *rest = re.split(r"\s+(from|to)(?:\s+|$)", text)
        keys, names = rest[::2], rest[1::2]
        place_of = dict(zip(keys, names, strict=True))
        begins, ends = place_of.get("from", ""), place_of.get("to", "")
        wrong = ""
        if self.whole and keys:
            wrong = "stretch"
        elif keys not in ([], ["from"], ["to"], ["from", "to"]):
            wrong = "from and to"
        elif "" in names:
            wrong = "no box"
        elif begins and begins == ends:
            wrong = "one box"
        if wrong:
            example = f"{short(words)} from VB-3 to VB-5"
            report.add(
                VALUE.at(
                    node.span, variant=wrong, text=short(text), words=short(words), example=example
                )
            )
            return None
        return ConductorWords(span=node.span, value=words, begins=begins, ends=ends)

    def schema(self) -> Schema:
        return TEXT.schema()


class HotShape(ListOf[ConductorWords]):
    """`[A-K1 red, not known]`: what is known from the terminal outward, and from the valve inward.

    `[A-K1 red, not known, A-K2 blue]` knows both ends; of one gap nobody knows how many parts.
    """

    def read(self, node: Node, at: Span, report: Report) -> tuple[ConductorWords, ...] | None:
        named = super().read(node, at, report)
        gaps = [words for words in named or () if words.is_gap]
        if len(gaps) > 1:
            report.add(VALUE.at(gaps[1].span, variant="two gaps", text=NOT_KNOWN))
            return None
        return named


RUN = RunShape()
TERMINALS = TerminalsShape()
CONDUCTOR_WORDS = ConductorShape()
CONDUCTOR_WORDS_OR_NOT = ConductorShape(may_be_unknown=True)
WHOLE_CONDUCTOR = ConductorShape(whole=True)
