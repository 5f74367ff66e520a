"""The program's modules as syntax trees, parsed when a test first looks at them.

Not where a test module is read: each worker reads all of those, and runs only some.
"""

from __future__ import annotations

import ast
from functools import cache
from pathlib import Path

PACKAGE = Path(__file__).parents[1] / "cardgen"
# Files of the desk that are brought, not written by us; DEVELOPERS.md tells how.
BROUGHT = ("tabulator.js", "tabulator.css")
MODULES = tuple(sorted(PACKAGE.rglob("*.py")))


@cache
def nodes() -> dict[Path, tuple[ast.AST, ...]]:
    """All that stands in each module, outermost first."""
    return {path: tuple(ast.walk(tree)) for path, tree in trees().items()}


@cache
def trees() -> dict[Path, ast.Module]:
    return {path: ast.parse(path.read_text(encoding="utf-8")) for path in MODULES}
