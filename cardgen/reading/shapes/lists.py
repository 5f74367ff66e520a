"""Turn a list into the values of its things."""

from __future__ import annotations

import re
from typing import TypeVar

from cardgen.faults.value_faults import TOO_FEW, WRONG_TYPE
from cardgen.problems import Span
from cardgen.reading import nodes
from cardgen.reading.nodes import Node, Scalar, is_absent, short
from cardgen.reading.shapes.report import Report, expected
from cardgen.reading.shapes.values import SaidShape, Schema, Shape

T = TypeVar("T")


class ListOf(Shape[tuple[T, ...]]):
    """A list.

    Attributes:
        what: one such list, in a sentence: 'a list of boxes'.
        example: how one is written, with its brackets.
        single: one value without brackets is a list of one.
        least: how many there are at least.
        section: a whole section of a file, which may stay empty after its colon.
    """

    def __init__(
        self,
        inner: Shape[T],
        *,
        what: str,
        example: str = "[one, two]",
        single: bool = False,
        least: int = 1,
        section: bool = False,
    ) -> None:
        self.inner, self.what, self.example = inner, what, example
        self.single, self.least, self.section = single, least, section

    def read(self, node: Node, at: Span, report: Report) -> tuple[T, ...] | None:
        if is_absent(node) and self.section:
            return ()
        if self.single and not isinstance(node, nodes.Sequence) and not is_absent(node):
            one = self.inner.read(node, at, report)
            return None if one is None else (one,)
        if self._lacks_brackets(node):
            report.add(
                WRONG_TYPE.at(node.span, variant="brackets", what=self.what, example=self.example)
            )
            return None
        if not isinstance(node, nodes.Sequence):
            way = f"for example {self.example}"
            if isinstance(node, Scalar) and re.search("[,;]", node.text):
                listed = ", ".join(re.split(r"\s*[,;]\s*", node.text.strip(",; ")))
                way = f"write '[{short(listed)}]'"
            report.add(expected(self.what, node, at, way))
            return None
        read = [self.inner.read(item, node.span, report) for item in node.items]
        values = tuple(value for value in read if value is not None)
        if len(read) < self.least:
            report.add(
                TOO_FEW.at(
                    node.span,
                    what=self.what,
                    least=self.least,
                    count=len(read),
                    example=self.example,
                )
            )
            return None
        return values if len(values) == len(read) else None

    def _lacks_brackets(self, node: Node) -> bool:
        """A list where a list of lists is meant: one fault, not one for each thing in it."""
        if not isinstance(node, nodes.Sequence):
            return False
        inner = self.inner.inner if isinstance(self.inner, SaidShape) else self.inner
        nested = isinstance(inner, ListOf) and not inner.single
        return nested and bool(node.items) and all(isinstance(i, Scalar) for i in node.items)

    def schema(self) -> Schema:
        array: Schema = {"type": "array", "items": self.inner.schema(), "minItems": self.least}
        if self.section:
            array["type"] = ["array", "null"]
        return {"anyOf": [self.inner.schema(), array]} if self.single else array
