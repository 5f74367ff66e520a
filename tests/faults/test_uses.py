"""Every problem is made by its fault, and every fault is told, with all that its words name."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from importlib import import_module
from pathlib import Path
from string import Formatter

import pytest

from cardgen.faults import ALL
from cardgen.faults.fault import Fault

PACKAGE = Path(__file__).parents[2] / "cardgen"
MAKER = PACKAGE / "faults" / "fault.py"
TREES = {path: ast.parse(path.read_text(encoding="utf-8")) for path in PACKAGE.rglob("*.py")}
MODULES = [path for path in TREES if path.parent != MAKER.parent]


def called(tree: ast.AST) -> Iterator[ast.Call]:
    return (node for node in ast.walk(tree) if isinstance(node, ast.Call))


def test_only_a_fault_makes_a_problem() -> None:
    makers = {
        path
        for path, tree in TREES.items()
        for call in called(tree)
        if getattr(call.func, "id", getattr(call.func, "attr", "")) == "Problem"
    }
    assert makers == {MAKER}


def imported_faults(tree: ast.AST) -> dict[str, Fault]:
    """Each fault that a module imports, by the name that it has there."""
    found = {}
    for node in ast.walk(tree):
        if isinstance(node, ast.ImportFrom) and (node.module or "").startswith("cardgen.faults."):
            family = import_module(node.module or "")
            for alias in node.names:
                if isinstance(fault := getattr(family, alias.name), Fault):
                    found[alias.asname or alias.name] = fault
    return found


def test_each_fault_is_told_somewhere() -> None:
    told = {fault.code for path in MODULES for fault in imported_faults(TREES[path]).values()}
    assert told == set(ALL)


def looks(call: ast.Call, fault: Fault) -> list[str]:
    """The variants that a call may choose; none where only a run can tell."""
    chosen = [word.value for word in call.keywords if word.arg == "variant"]
    if not chosen:
        return [""]
    if isinstance(chosen[0], ast.Constant | ast.IfExp):
        words = [node.value for node in ast.walk(chosen[0]) if isinstance(node, ast.Constant)]
        return [str(word) for word in words if word == "" or word in fault.variants]
    return []


@pytest.mark.parametrize("module", MODULES, ids=lambda path: str(path.relative_to(PACKAGE)))
def test_each_call_gives_the_values_that_the_words_name(module: Path) -> None:
    faults = imported_faults(TREES[module])
    for call in called(TREES[module]):
        owner = getattr(call.func, "value", None)
        fault = faults.get(getattr(owner, "id", ""))
        if fault is None or getattr(call.func, "attr", "") != "at":
            continue
        given = {word.arg for word in call.keywords}
        for look in looks(call, fault):
            wanted = {
                name for text in fault.words(look) for _, name, _, _ in Formatter().parse(text)
            }
            assert wanted - {None} <= given, f"{fault.code} {look}"
