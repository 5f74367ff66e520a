"""Hold the names: one thing has a name, so that who searches for it finds it and nothing else."""

from __future__ import annotations

import ast
from collections import defaultdict
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.source_trees import MODULES, PACKAGE, nodes

pytestmark = pytest.mark.xdist_group("source trees")  # one worker parses them

ROOT = Path(__file__).parents[1]

# Class names that stand in several modules, each with the reason.
SHARED_CLASSES = {
    "Options": "what each command of cli/ is told: main.py calls `module.run(module.Options(...))`",
}
# Module names that stand in several folders, each with the reason.
SHARED_MODULES = {
    "__init__": "Python's name for what a folder offers",
}

# Where bare numbers are passed about; elsewhere quantities have types, see cardgen/units.py.
WITH_NUMBERS = ("layout", "drawing", "draw", "fonts", "server", "electrics")
UNITS = ("mm", "s", "bytes", "dots", "modules", "capitals", "pitches")
# Numbers that count something or name it, so have no unit.
COUNTS = {
    *("card", "count", "index", "lines", "net", "number", "port", "scale", "start", "status"),
    "version",
}
# Other parameters without a unit, each with the reason.
WITHOUT_UNIT = {
    "cardgen/fonts/family.py size capital": "the font size is in whatever unit this is in",
    "cardgen/server/http_server.py handle_exit sig": "a signal by its number, as uvicorn names it",
}


def test_no_class_name_is_used_twice() -> None:
    places = defaultdict(list)
    for path, found in nodes().items():
        for node in found:
            if isinstance(node, ast.ClassDef):
                places[node.name].append(f"{path.relative_to(ROOT)}:{node.lineno}")
    twice = {name: found for name, found in places.items() if len(found) > 1}
    assert {name: twice[name] for name in sorted(twice.keys() - SHARED_CLASSES.keys())} == {}
    assert set(twice) >= SHARED_CLASSES.keys(), "a reason for what is no longer so"


def test_no_module_name_is_used_twice() -> None:
    places = defaultdict(list)
    for path in MODULES:
        places[path.stem].append(str(path.relative_to(ROOT)))
    twice = {name: found for name, found in places.items() if len(found) > 1}
    assert {name: twice[name] for name in sorted(twice.keys() - SHARED_MODULES.keys())} == {}
    assert set(twice) >= SHARED_MODULES.keys(), "a reason for what is no longer so"


def test_owners_are_named_in_one_module() -> None:
    """No other makes `COM-A` or takes it apart; what is shown as an example may have it."""
    found = {
        f"{path.relative_to(ROOT)}:{node.lineno}"
        for path, of in nodes().items()
        for node in of
        if isinstance(node, ast.Constant) and str(node.value).endswith(("COM-", "PATH-"))
    }
    assert {place.split(":")[0] for place in found} == {"cardgen/owners.py"}


def test_a_parameter_that_is_a_bare_number_names_its_unit() -> None:
    bare = {
        f"{path.relative_to(ROOT)} {function.name} {argument.arg}"
        for path, of in nodes().items()
        if path.relative_to(PACKAGE).parts[0] in WITH_NUMBERS
        for function in of
        if isinstance(function, ast.FunctionDef | ast.AsyncFunctionDef)
        if not function.name.startswith("_")
        for argument in bare_numbers(function.args)
        if argument.arg not in COUNTS and not argument.arg.endswith(tuple(f"_{u}" for u in UNITS))
    }
    assert bare == WITHOUT_UNIT.keys()


def bare_numbers(arguments: ast.arguments) -> Iterator[ast.arg]:
    """Those that are an int or a float, or one of these or None."""
    for each in (*arguments.posonlyargs, *arguments.args, *arguments.kwonlyargs):
        said = ast.unparse(each.annotation) if each.annotation else ""
        if {"int", "float"}.intersection(said.split(" | ")):
            yield each
