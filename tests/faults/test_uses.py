"""Every problem is made by its fault, and every fault is told, with all that its words name."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from functools import cache
from importlib import import_module
from pathlib import Path
from string import Formatter

import pytest

from cardgen.faults import ALL
from cardgen.faults.fault import Fault
from tests.for_each import for_each
from tests.source_trees import MODULES, PACKAGE, nodes

pytestmark = pytest.mark.xdist_group("source trees")  # one worker parses them

MAKER = PACKAGE / "faults" / "fault.py"
TELLING = [path for path in MODULES if path.parent != MAKER.parent]


@cache
def called(module: Path) -> tuple[ast.Call, ...]:
    return tuple(node for node in nodes()[module] if isinstance(node, ast.Call))


def test_only_a_fault_makes_a_problem() -> None:
    makers = {
        path
        for path in MODULES
        for call in called(path)
        if getattr(call.func, "id", getattr(call.func, "attr", "")) == "Problem"
    }
    assert makers == {MAKER}


def imported(module: Path) -> dict[str, object]:
    """Families and faults that a module imports, by the name that they have there."""
    found: dict[str, object] = {}
    for node in nodes()[module]:
        if isinstance(node, ast.ImportFrom) and (node.module or "").startswith("cardgen.faults"):
            for alias in node.names:
                source = import_module(node.module or "")
                if node.module == "cardgen.faults" and alias.name != "ALL":
                    source = import_module(f"cardgen.faults.{alias.name}")
                    found[alias.asname or alias.name] = source
                else:
                    found[alias.asname or alias.name] = getattr(source, alias.name)
    return found


@cache
def named_faults(module: Path) -> tuple[tuple[ast.expr, Fault], ...]:
    """Each mention of a fault: `HOT_STOPS`, or `faults.HOT_STOPS` of a family."""
    return tuple(_named_faults(module))


def _named_faults(module: Path) -> Iterator[tuple[ast.expr, Fault]]:
    names = imported(module)
    for node in nodes()[module]:
        fault: object = None
        if isinstance(node, ast.Name):
            fault = names.get(node.id)
        elif isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name):
            fault = getattr(names.get(node.value.id), node.attr, None)
        if isinstance(fault, Fault):
            assert isinstance(node, ast.expr)
            yield node, fault


def test_each_fault_is_told_somewhere() -> None:
    assert {fault.code for path in TELLING for _, fault in named_faults(path)} == set(ALL)


def looks(call: ast.Call, fault: Fault) -> list[str]:
    """The variants that a call may choose; none where only a run can tell."""
    chosen = [word.value for word in call.keywords if word.arg == "variant"]
    if not chosen:
        return [""]
    if isinstance(chosen[0], ast.Constant | ast.IfExp):
        words = [node.value for node in ast.walk(chosen[0]) if isinstance(node, ast.Constant)]
        return [str(word) for word in words if word == "" or word in fault.variants]
    return []


@for_each("module", TELLING)
def test_each_call_gives_the_values_that_the_words_name(module: Path) -> None:
    makers = {id(node): fault for node, fault in named_faults(module)}
    for call in called(module):
        fault = makers.get(id(getattr(call.func, "value", None)))
        if fault is None or getattr(call.func, "attr", "") != "at":
            continue
        given = {word.arg for word in call.keywords}
        if None in given:
            continue  # `**values`: what they are is seen when it runs
        for look in looks(call, fault):
            wanted = {
                name for text in fault.words(look) for _, name, _, _ in Formatter().parse(text)
            }
            wanted |= {fault.thing} if fault.thing else set()
            assert wanted - {None} <= given, f"{fault.code} {look}"


# Exceptions that become a problem where they are caught, and the values that they get there.
LATER = {"BadValue": set[str](), "Misfit": {"what", "card", "over"}}


def test_each_exception_has_the_values_that_the_words_of_its_fault_name() -> None:
    seen = 0
    for module in MODULES:
        makers = {id(node): fault for node, fault in named_faults(module)}
        for call in called(module):
            name = getattr(call.func, "id", "")
            fault = makers.get(id(call.args[0])) if call.args and name in LATER else None
            given = {word.arg for word in call.keywords}
            if fault is None or None in given:
                continue
            variants = [str(word.value) for word in call.args[1:] if isinstance(word, ast.Constant)]
            for look in variants or looks(call, fault):
                words = fault.words(look)
                wanted = {field for text in words for _, field, _, _ in Formatter().parse(text)}
                assert wanted - {None} <= given | LATER[name], f"{fault.code} {look}"
                seen += 1
    assert seen > 30


def test_no_two_faults_have_one_code() -> None:
    codes = [
        fault.code
        for module in sorted(MAKER.parent.glob("*.py"))
        for name, fault in vars(import_module(f"cardgen.faults.{module.stem}")).items()
        if isinstance(fault, Fault) and not name.startswith("_")
    ]
    assert sorted(codes) == sorted(ALL)
