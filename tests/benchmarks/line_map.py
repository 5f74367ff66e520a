"""Which tests run a statement of the program, as `lines_by_test.py` keeps it."""

from __future__ import annotations

import ast
import base64
import json
import re
import zlib
from collections.abc import Iterable, Iterator, Sequence
from functools import cache
from pathlib import Path
from typing import NamedTuple

ROOT = Path(__file__).parents[2]
Place = tuple[str, int]  # a module by its path, and a line where a statement begins


class TimedTest(NamedTuple):
    took_s: float
    name: str


def modules(root: Path) -> Iterator[tuple[str, str]]:
    for path in sorted((root / "cardgen").rglob("*.py")):
        yield str(path.relative_to(root)), path.read_text(encoding="utf-8")


def places(root: Path) -> list[Place]:
    """Every statement of the program, in one order."""
    return [
        (module, line)
        for module, text in modules(root)
        for line in sorted({statement.lineno for statement in _statements(text)})
    ]


@cache
def _statements(text: str) -> tuple[ast.stmt, ...]:
    return tuple(node for node in ast.walk(ast.parse(text)) if isinstance(node, ast.stmt))


def tests_of(root: Path, lines: Sequence[Place]) -> list[list[TimedTest]]:
    """For each line the tests that run its statement, the fastest first.

    What no test runs, constants, defaults and what is called when a module is read, is met by the
    tests that run a statement which names it.
    """
    near = _tests_by_case(root, [{_statement_of(root, *line)} for line in lines])
    far = [
        set() if tests else _naming(root, *line) for tests, line in zip(near, lines, strict=True)
    ]
    return [one or other for one, other in zip(near, _tests_by_case(root, far), strict=True)]


def _statement_of(root: Path, module: str, line: int) -> Place:
    return module, max(s.lineno for s in _around(root, module, line))


def _around(root: Path, module: str, line: int) -> list[ast.stmt]:
    statements = _statements((root / module).read_text(encoding="utf-8"))
    return [s for s in statements if s.lineno <= line <= (s.end_lineno or 0)]


def _naming(root: Path, module: str, line: int) -> set[Place]:
    """The statements that name what a line makes, its class or its function."""
    around = _around(root, module, line)
    defined = [s for s in around if isinstance(s, (ast.FunctionDef, ast.AsyncFunctionDef))]
    names = {name for statement in defined[:1] or around for name in _names(statement)}
    names |= _built_from((root / module).read_text(encoding="utf-8"), names)
    return set(_places_of(root, names))


def _built_from(text: str, names: set[str]) -> set[str]:
    """Other constants of a module that are made from these, and from those."""
    made: set[str] = set()
    for statement in ast.parse(text).body:  # in the order in which they are made
        read = {node.id for node in ast.walk(statement) if isinstance(node, ast.Name)}
        if isinstance(statement, (ast.Assign, ast.AnnAssign)) and read & (names | made):
            made |= set(_names(statement))
    return made


def function_of(text: str, line: int) -> str:
    """The innermost function or class that a line is in, or nothing."""
    around = [
        statement
        for statement in _statements(text)
        if isinstance(statement, (ast.ClassDef, ast.FunctionDef, ast.AsyncFunctionDef))
        if statement.lineno <= line <= (statement.end_lineno or 0)
    ]
    return max(around, key=lambda each: each.lineno).name if around else ""


def _names(statement: ast.stmt) -> Iterator[str]:
    if isinstance(statement, (ast.ClassDef, ast.FunctionDef, ast.AsyncFunctionDef)):
        yield statement.name
        return
    for node in ast.walk(statement):
        if isinstance(node, ast.Name) and isinstance(node.ctx, ast.Store):
            yield node.id


def _places_of(root: Path, names: set[str]) -> Iterator[Place]:
    pattern = re.compile(r"\b(" + "|".join(sorted(names)) + r")\b")
    for module, text in modules(root):
        if pattern.search(text):
            naming = [
                number for number, line in enumerate(text.splitlines(), 1) if pattern.search(line)
            ]
            begins = sorted({statement.lineno for statement in _statements(text)})
            for number in naming:
                yield module, max((b for b in begins if b <= number), default=0)


def _tests_by_case(root: Path, cases: Sequence[Iterable[Place]]) -> list[list[TimedTest]]:
    """For each set of places the tests that run one of them, the fastest first."""
    number = {place: index for index, place in enumerate(places(root))}
    wanted = [[number[place] for place in case if place in number] for case in cases]
    tests: list[list[TimedTest]] = [[] for _ in cases]
    for part in sorted((root / ".mutants").glob("ran-*.jsonl")):
        with part.open(encoding="utf-8") as lines:
            for line in lines:
                name, took_s, packed = json.loads(line)
                ran = zlib.decompress(base64.b64decode(packed))
                for numbers, ours in zip(wanted, tests, strict=True):
                    if any(ran[index] for index in numbers):
                        ours.append(TimedTest(took_s, name))
    return [sorted(ours) for ours in tests]
