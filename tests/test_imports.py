"""Hold the flow: a stage imports what comes before it, and an outside library has one door."""

from __future__ import annotations

import ast
import sys
import tomllib
from collections import defaultdict
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.for_each import for_each
from tests.source_trees import MODULES, PACKAGE, nodes

pytestmark = pytest.mark.xdist_group("source trees")  # one worker parses them

ROOT = Path(__file__).parents[1]

# In the order of the flow; each may import those that stand before it.
FLOW = (
    "light_dataclass",
    *("stages", "problems", "files", "faults", "units", "printer", "trade"),
    *("english_lists", "owners", "address", "alike_problems", "acknowledgment"),
    *("gc_pause", "once"),
    *(
        "reading",
        "editing",
        "job",
        "wiring",
        "electrics",
        "facts",
        "checks",
        "asbuilt",
        "examine",
        "allot",
        "renaming",
    ),
    *("words", "cards"),
    *("fonts", "layout", "drawing", "draw", "results", "diagnosis", "advice"),
    "workbook",
    *("memory", "record"),
    *("examine", "output"),  # run the stages: the first five, and all
    "library",  # for other programs
    *("manual", "server", "desk", "cli", "__main__"),
)
# What only the as-built model may look at: what it says is not worked out again after it.
BEHIND_THE_MODEL = {"job", "wiring", "electrics", "facts", "checks"}
# Beyond the order: what a stage must not know although it comes before.
STRANGERS = {
    **dict.fromkeys(
        ("cards", "drawing", "layout", "results", "advice", "memory", "record", "output", "server"),
        BEHIND_THE_MODEL,
    ),
    "desk": BEHIND_THE_MODEL,
    "fonts": BEHIND_THE_MODEL | {"reading", "asbuilt", "cards"},
    # It solves the as-built network by the same arithmetic.
    "diagnosis": BEHIND_THE_MODEL - {"electrics"},
    # A page has only shapes.
    "draw": BEHIND_THE_MODEL | {"reading", "asbuilt", "cards", "drawing"},
}
# Import name by the name under which it is installed, where they differ.
INSTALLED_AS = {"yaml": "pyyaml", "PIL": "pillow"}
# A framework is the shape of whole stages; they are its door.
FRAMEWORKS = {"starlette": ("server", "desk")}


def imported(module: Path) -> Iterator[str]:
    """Each full name that a module imports, also inside functions."""
    for node in nodes()[module]:
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert not node.level, f"{module} imports from its neighbors without their full name"
            yield from (f"{node.module}.{alias.name}" for alias in node.names)


def stage_of(module: Path) -> str:
    return module.relative_to(PACKAGE).with_suffix("").parts[0]


def stages_imported(module: Path) -> set[str]:
    names = [name.split(".") for name in imported(module)]
    return {name[1] for name in names if name[0] == "cardgen" and not name[1].startswith("__v")}


@for_each("module", MODULES)
def test_a_module_imports_only_what_comes_before(module: Path) -> None:
    stage = stage_of(module)
    if stage == "__init__":
        assert stages_imported(module) == {"library"}  # when it is used, see tests/test_library.py
        return
    assert stage in FLOW, f"{stage} has no place in the flow"
    before = set(FLOW[: FLOW.index(stage)]) - STRANGERS.get(stage, set())
    assert stages_imported(module) - {stage} <= before


def test_each_outside_library_is_declared_and_imported_in_one_module() -> None:
    doors = defaultdict(set)
    for module in MODULES:
        for name in imported(module):
            library = name.split(".")[0]
            if library != "cardgen" and library not in sys.stdlib_module_names:
                stages = FRAMEWORKS.get(library, ())
                is_inside = stage_of(module) in stages
                door = " and ".join(stages) if is_inside else str(module.relative_to(ROOT))
                doors[INSTALLED_AS.get(library, library)].add(door)
    assert {name: modules for name, modules in doors.items() if len(modules) > 1} == {}
    assert set(doors) == declared()


def declared() -> set[str]:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    extras = {name: of for name, of in project["optional-dependencies"].items() if name != "test"}
    lines = [*project["dependencies"], *(line for of in extras.values() for line in of)]
    own = f"{project['name']}["  # an extra of several others
    return {line.split(">=")[0] for line in lines if not line.startswith(own)}
