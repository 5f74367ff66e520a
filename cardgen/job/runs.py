"""Readers for what is written as a line of things: runs, terminal strips, commons."""

from __future__ import annotations

import re

from cardgen.job.model import CommonWords, Stop
from cardgen.job.quantities import LENGTH
from cardgen.problems import Place
from cardgen.reading import nodes
from cardgen.reading.nodes import Node, Scalar, is_absent, kind_of
from cardgen.reading.shapes import IDENTIFIER, TEXT, Report, Said, Schema, Shape


class RunShape(Shape[tuple[Stop, ...]]):
    """`[A, 85 ft, VB-1, 60 ft, VB-2]`: places with the length of each leg between them."""

    def read(self, node: Node, at: Place, report: Report) -> tuple[Stop, ...] | None:
        items = node.items if isinstance(node, nodes.Sequence) else ()
        if len(items) < 3 or len(items) % 2 == 0:
            found = f"{len(items)} things" if items else kind_of(node)
            report.error(
                at if is_absent(node) else node.place,
                "run",
                f"a run is places with a length between each two, but {found} stand here",
                "for example [A, 85 ft, VB-1, 60 ft, VB-2]",
            )
            return None
        stops = [_stop(items, index, report) for index in range(0, len(items), 2)]
        read = tuple(stop for stop in stops if stop is not None)
        return read if len(read) == len(stops) else None

    def schema(self) -> Schema:
        return {"type": "array", "minItems": 3, "items": {"type": ["string", "number"]}}


def _stop(items: tuple[Node, ...], index: int, report: Report) -> Stop | None:
    """The place at `index` with the leg before it."""
    name = IDENTIFIER.read(items[index], items[index].place, report)
    if index == 0:
        return None if name is None else Stop(place=items[0].place, at=name, leg=None)
    node = items[index - 1]
    if isinstance(node, Scalar) and re.match("[A-Za-z]", node.text):
        report.error(
            node.place,
            "length-missing",
            f"a length is expected before {kind_of(items[index])}, but '{node.text}' stands here",
            "write places and lengths in turn: [A, 85 ft, VB-1]",
        )
        return None
    length = LENGTH.read(node, node.place, report)
    if name is None or length is None:
        return None
    return Stop(place=items[index].place, at=name, leg=Said(node.place, length))


class TerminalsShape(Shape[tuple[str, ...]]):
    """`[C, 1 to 8, MV, SEN, SEN]`: the terminal strip in physical order."""

    def read(self, node: Node, at: Place, report: Report) -> tuple[str, ...] | None:
        items = node.items if isinstance(node, nodes.Sequence) else ()
        if not items:
            report.error(
                node.place,
                "wrong-type",
                f"the terminals are a list, but {kind_of(node)} stands here",
                "for example [C, 1 to 8, MV, SEN, SEN]",
            )
            return None
        terminals: list[str] = []
        for item in items:
            text = TEXT.read(item, item.place, report)
            match = re.fullmatch(r"(\d{1,3})(?: to (\d{1,3}))?|[A-Z][A-Z0-9+-]{0,5}", text or "")
            if match is None:
                report.error(
                    item.place,
                    "terminal",
                    f"{kind_of(item)} is no terminal",
                    "write C, a number, '1 to 8', MV, SEN or another name in capitals",
                )
                return None
            if match[1] is None:
                terminals.append(match[0])
            else:
                terminals.extend(
                    str(n) for n in range(int(match[1]), int(match[2] or match[1]) + 1)
                )
        return tuple(terminals)

    def schema(self) -> Schema:
        return {"type": "array", "minItems": 1, "items": {"type": ["string", "integer"]}}


class CommonShape(Shape[CommonWords]):
    """`A-K1 white`, or `A-K1 blue from VB-3` for a conductor that joins in later."""

    def read(self, node: Node, at: Place, report: Report) -> CommonWords | None:
        text = TEXT.read(node, at, report)
        if text is None:
            return None
        words, _, begins = text.partition(" from ")
        return CommonWords(place=node.place, words=words.strip(), begins=begins.strip())

    def schema(self) -> Schema:
        return TEXT.schema()


RUN = RunShape()
TERMINALS = TerminalsShape()
COMMON_WORDS = CommonShape()
