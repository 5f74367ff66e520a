"""What only Unix has is asked for behind a guard; Windows itself is not at hand.

What is simulated of it elsewhere: its lock (`tests/output/test_locking.py`), a disk without links
(`tests/files/test_one.py`), a file that another program has open (`tests/output/test_writing.py`),
a terminal of few letters (`tests/cli/test_plain_output.py`), commands for its shell
(`tests/cli/test_shell_words.py`).
"""

from __future__ import annotations

import ast
from collections.abc import Iterator

import pytest

from cardgen.cli.selecting import MOST_PROCESSES
from tests.source_trees import nodes, trees

pytestmark = pytest.mark.xdist_group("source trees")  # one worker parses them

# The Python library reference, "Unix-specific services" and the availability notes of `os`.
UNIX_MODULES = {"fcntl", "grp", "pty", "pwd", "resource", "syslog", "termios", "tty"}
UNIX_NAMES = {
    "O_DIRECTORY", "O_NOFOLLOW", "SIGALRM", "SIGHUP", "SIGKILL", "alarm", "chown", "fork",
    "getuid", "geteuid", "killpg", "mkfifo", "setsid", "sysconf", "uname", "SO_REUSEADDR",
}  # fmt: skip
# Sharing a port there (Windows Sockets, "Using SO_REUSEADDR"); waiting for more processes than it
# can (the Python library reference, `ProcessPoolExecutor`).
MOST_AT_ONCE = 61


def guarded(tree: ast.AST) -> Iterator[ast.AST]:
    """All that stands under `if sys.platform != "win32":`, or after `== "win32": return`."""
    for node in ast.walk(tree):
        if isinstance(node, ast.If) and ast.unparse(node.test) == "sys.platform != 'win32'":
            yield from (inner for line in node.body for inner in ast.walk(line))
        if isinstance(node, ast.FunctionDef):
            for number, line in enumerate(node.body):
                if isinstance(line, ast.If) and ast.unparse(line.test) == "sys.platform == 'win32'":
                    assert isinstance(line.body[-1], ast.Return)
                    yield from (n for rest in node.body[number:] for n in ast.walk(rest))


def of_unix(tree: ast.AST) -> Iterator[tuple[ast.AST, str]]:
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from ((node, a.name) for a in node.names if a.name in UNIX_MODULES)
        elif isinstance(node, ast.ImportFrom) and node.module in UNIX_MODULES:
            yield node, node.module
        elif isinstance(node, ast.Attribute) and node.attr in UNIX_NAMES:
            of = ast.unparse(node.value)
            if of in ("os", "signal", "socket"):
                yield node, f"{of}.{node.attr}"


def unguarded(text: str) -> list[str]:
    return unguarded_in(ast.parse(text))


def unguarded_in(tree: ast.AST) -> list[str]:
    free = set(map(id, guarded(tree)))
    return [name for node, name in of_unix(tree) if id(node) not in free]


def test_nothing_of_unix_alone_without_a_guard() -> None:
    found = {path.name: unguarded_in(tree) for path, tree in trees().items()}
    assert {name: names for name, names in found.items() if names} == {}


def test_no_line_end_is_changed_on_the_way_to_a_file() -> None:
    """Text written as text has other line ends on Windows, so all is written as bytes."""
    for path, found in nodes().items():
        for node in found:
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute):
                assert node.func.attr != "write_text", path
                modes = [a.value for a in node.args if isinstance(a, ast.Constant)]
                if node.func.attr == "open" and modes:
                    assert all("b" in str(mode) for mode in modes), path


def test_no_more_processes_than_windows_waits_for() -> None:
    assert MOST_PROCESSES <= MOST_AT_ONCE


def test_the_guard_is_seen() -> None:
    assert unguarded("import fcntl") == ["fcntl"]
    assert unguarded("import sys\nif sys.platform != 'win32':\n    import fcntl") == []
    assert unguarded("import os\nos.killpg(1, 2)") == ["os.killpg"]
