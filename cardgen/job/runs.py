"""Readers for what is written as a line of things: runs, terminal strips, conductors."""

from __future__ import annotations

import re
from itertools import pairwise

from cardgen.faults.value_faults import (
    BAD_RUN,
    BAD_TERMINAL,
    COMMA,
    LENGTH_MISSING,
    NAME,
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
    BadValue,
    ListOf,
    OrNotKnown,
    Parsed,
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
        meant = _meant_run(items)
        swapped = next(
            (i for i in items[1::2] if not meant and _is_before_its_length(i, items)), None
        )
        if swapped is not None and isinstance(swapped, Scalar):
            report.add(BAD_RUN.at(swapped.span, variant="place first", place=short(swapped.text)))
            return None
        if meant or len(items) < 3 or len(items) % 2 == 0:
            if items:
                variant = "meant" if meant else ""
                report.add(BAD_RUN.at(node.span, variant=variant, meant=short(meant)))
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


# What people put where a comma belongs.
_BETWEEN = re.compile(r"\s*(?:->|\u2192|;|>|\bto\b|\s[-\u2013\u2014]+\s)\s*")
_LENGTH = re.compile(r"([0-9][0-9.]*\s*(?:ft|feet|m|'|yd)\b\.?|not known)", re.IGNORECASE)


def _meant_run(items: tuple[Node, ...]) -> str:
    """`[A, 85 ft, VB-1]` of a run in which commas are missing; empty where they are not."""
    texts = [item.text for item in items if isinstance(item, Scalar)]
    parts: list[str] = []
    for text in texts:
        for piece in _LENGTH.split(_BETWEEN.sub(" ", text)):
            parts += piece.split() if not _LENGTH.fullmatch(piece) else [piece]
    lengths = [bool(_LENGTH.fullmatch(part)) for part in parts]
    good = len(parts) > 2 and lengths == [bool(n % 2) for n in range(len(parts))]
    names = all(re.fullmatch(IDENTIFIER.pattern, name) for name in parts[::2])
    was_split = len(parts) != len(items) and len(texts) == len(items)
    return f"[{', '.join(parts)}]" if good and names and was_split and len(parts) % 2 else ""


def _is_before_its_length(item: Node, items: tuple[Node, ...]) -> bool:
    """`[A, VB-1, 85 ft]`: a place where a length belongs, and the length behind it."""
    behind = items[items.index(item) + 1 : items.index(item) + 2]
    following = behind[0].text if behind and isinstance(behind[0], Scalar) else ""
    place = item.text if isinstance(item, Scalar) else ""
    is_place = re.fullmatch(IDENTIFIER.pattern, place) and not meant_length(place)
    return bool(is_place and _LENGTH.fullmatch(following))


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
            what, way = "a list of terminals in brackets", "for example [C, 1 to 8, MV, SEN, SEN]"
            if isinstance(node, Scalar) and "," in node.text:
                way = f"write '[{short(node.text)}]'"
            report.add(expected(what, node, at, way))
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


_RANGE = re.compile(
    r"^([1-9][0-9]{0,2}) ?(?:[-\u2013\u2014]|\.{2,3}|\u2026|thru|through|a|al|until)"
    r" ?([1-9][0-9]{0,2})$"
)


def _terminals(item: Node, report: Report) -> tuple[str, ...]:
    """`1 to 8` written out; nothing after reporting what is wrong."""
    text = item.text if isinstance(item, Scalar) else ""
    match = re.fullmatch("([1-9][0-9]{0,2})(?: to ([1-9][0-9]{0,2}))?|[A-Z][A-Z0-9+-]{0,5}", text)
    meant = _RANGE.sub(r"\1 to \2", text)
    if match is None and meant != text:
        report.add(BAD_TERMINAL.at(item.span, variant="hyphen", text=text, meant=meant))
        return ()
    meant = re.sub("[^A-Z0-9+-]", "", text.upper())
    if match is None and " " not in text and re.fullmatch("[A-Z][A-Z0-9+-]{0,5}", meant):
        report.add(BAD_TERMINAL.at(item.span, variant="capitals", text=short(text), meant=meant))
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


_NONE = frozenset(("none", "no", "ninguno", "ninguna", "-", "--", "\u2013", "\u2014", "x", "0"))


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
        if text.lower() in _NONE:
            report.add(VALUE.at(node.span, variant="none", text=text))
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


class StationName(Parsed[str]):
    """`A3`; of `Zone 3` it is told at once that the controller's name belongs to it."""

    def __init__(self) -> None:
        super().__init__(IDENTIFIER.what, self._parse, IDENTIFIER.pattern)

    def _parse(self, text: str) -> str:
        found = re.fullmatch(r"(?:[^\W\d]{2,}\.?|#|no\.?) *#? *0*(\d{1,3})", text)
        if found and not re.fullmatch(IDENTIFIER.pattern, text):
            raise BadValue(NAME, "station", text=short(text), number=found[1])
        return IDENTIFIER.parse(text)


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
