"""Small changes to a module's source, one at a time: what a test ought to notice."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from typing import NamedTuple

SWAPPED_COMPARE: dict[type[ast.cmpop], str] = {
    ast.Lt: "<=", ast.LtE: "<", ast.Gt: ">=", ast.GtE: ">", ast.Eq: "!=", ast.NotEq: "==",
    ast.In: "not in", ast.NotIn: "in", ast.Is: "is not", ast.IsNot: "is",
}  # fmt: skip
COMPARE_TEXT: dict[type[ast.cmpop], str] = {
    ast.Lt: "<", ast.LtE: "<=", ast.Gt: ">", ast.GtE: ">=", ast.Eq: "==", ast.NotEq: "!=",
    ast.In: "in", ast.NotIn: "not in", ast.Is: "is", ast.IsNot: "is not",
}  # fmt: skip
SWAPPED_ARITHMETIC: dict[type[ast.operator], tuple[str, str]] = {
    ast.Add: ("+", "-"), ast.Sub: ("-", "+"), ast.Mult: ("*", "/"), ast.Div: ("/", "*"),
    ast.FloorDiv: ("//", "*"),
}  # fmt: skip


class Mutant(NamedTuple):
    """A span of a module's text, counted in characters from 0, and what stands there instead."""

    line: int
    start: int
    end: int
    text: str

    def of(self, source: str) -> str:
        return source[: self.start] + self.text + source[self.end :]

    def shown(self, source: str) -> str:
        before = " ".join(source[self.start : self.end].split())
        return f"`{before[:60]}` -> `{self.text[:60]}`"


class _Source:
    def __init__(self, text: str) -> None:
        self.text = text
        self.starts = [0]
        for line in text.splitlines(keepends=True):
            self.starts.append(self.starts[-1] + len(line))
        self.lines = text.splitlines(keepends=True)

    def offset(self, line: int, column: int) -> int:
        """`column` counts bytes, as the syntax tree does."""
        return self.starts[line - 1] + len(self.lines[line - 1].encode()[:column].decode())

    def span(self, node: ast.expr | ast.stmt) -> tuple[int, int]:
        assert node.end_lineno is not None
        assert node.end_col_offset is not None
        return (
            self.offset(node.lineno, node.col_offset),
            self.offset(node.end_lineno, node.end_col_offset),
        )


def mutants(text: str) -> list[Mutant]:
    """All small changes of a module, in the order of the text; types and docstrings stay.

    Asserts, and that `zip` is `strict`, state what an earlier stage guarantees: they stay.
    """
    source, tree = _Source(text), _Guarantees().visit(ast.parse(text))
    found = set(_of_body(source, tree.body))
    for node in ast.walk(tree):
        if isinstance(node, (ast.FunctionDef, ast.AsyncFunctionDef)):
            for statement in node.body:
                found.update(_of_statement(source, statement))
    return sorted(found)


class _Guarantees(ast.NodeTransformer):
    """Left out."""

    def visit_Assert(self, _: ast.Assert) -> ast.Pass:
        return ast.Pass()

    def visit_keyword(self, node: ast.keyword) -> ast.keyword | None:
        self.generic_visit(node)
        return None if node.arg == "strict" else node


def _of_body(source: _Source, body: list[ast.stmt]) -> Iterator[Mutant]:
    """Constants of a module and defaults of its classes."""
    for statement in body:
        if isinstance(statement, ast.ClassDef):
            yield from _of_body(source, statement.body)
        elif isinstance(statement, (ast.Assign, ast.AnnAssign)) and statement.value is not None:
            for node in ast.walk(statement.value):
                yield from _of_expression(source, node)


def _of_statement(source: _Source, statement: ast.stmt) -> Iterator[Mutant]:
    for node in ast.walk(statement):
        if isinstance(node, ast.expr):
            yield from _of_expression(source, node)
        elif isinstance(node, ast.stmt):
            yield from _lost(source, node)
            if isinstance(node, (ast.If, ast.While)):
                start, end = source.span(node.test)
                yield Mutant(node.test.lineno, start, end, f"(not ({source.text[start:end]}))")


def _lost(source: _Source, node: ast.stmt) -> Iterator[Mutant]:
    start, end = source.span(node)
    is_text = isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant)
    if isinstance(node, (ast.Expr, ast.AugAssign)) and not is_text:
        yield Mutant(node.lineno, start, end, "pass")
    elif isinstance(node, ast.Continue):
        yield Mutant(node.lineno, start, end, "break")


def _of_expression(source: _Source, node: ast.AST) -> Iterator[Mutant]:
    if isinstance(node, ast.Compare) and len(node.ops) == 1:
        yield from _swapped(
            source, node.left, node.comparators[0],
            COMPARE_TEXT[type(node.ops[0])], SWAPPED_COMPARE[type(node.ops[0])],
        )  # fmt: skip
    elif isinstance(node, ast.BinOp) and type(node.op) in SWAPPED_ARITHMETIC:
        if not isinstance(node.left, ast.Constant) or not isinstance(node.left.value, str):
            yield from _swapped(source, node.left, node.right, *SWAPPED_ARITHMETIC[type(node.op)])
    elif isinstance(node, ast.BoolOp):
        names = ("and", "or") if isinstance(node.op, ast.And) else ("or", "and")
        for left, right in zip(node.values, node.values[1:], strict=False):
            yield from _swapped(source, left, right, *names)
    elif isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.Not):
        start, _ = source.span(node)
        inside, _ = source.span(node.operand)
        yield Mutant(node.lineno, start, inside, "")
    elif isinstance(node, ast.IfExp):
        start, end = source.span(node.test)
        yield Mutant(node.test.lineno, start, end, f"(not ({source.text[start:end]}))")
    elif isinstance(node, ast.Constant) and isinstance(node.value, bool):
        yield Mutant(node.lineno, *source.span(node), str(not node.value))
    elif isinstance(node, ast.Constant) and isinstance(node.value, (int, float)):
        yield Mutant(node.lineno, *source.span(node), f"({node.value} + 1)")


def _swapped(
    source: _Source, left: ast.expr, right: ast.expr, old: str, new: str
) -> Iterator[Mutant]:
    """The operator between two operands; none where brackets or lines hide which text it is."""
    start, end = source.span(left)[1], source.span(right)[0]
    between = source.text[start:end]
    if between.count(old) == 1 and "#" not in between:
        at = start + between.index(old)
        yield Mutant(left.end_lineno or left.lineno, at, at + len(old), new)
