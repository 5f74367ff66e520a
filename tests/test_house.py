"""Hold the house in order: top level, the README's commands, a sentence and a test per module."""

from __future__ import annotations

import builtins
import re
import subprocess
from pathlib import Path

import pytest

from tests.conftest import LONG
from tests.for_each import for_each

ROOT = Path(__file__).parents[1]
TOP = {
    *(".ci", ".gitignore", "README.md", "DEVELOPERS.md", "pyproject.toml"),
    *("cardgen", "layouts", "sample_jobs", "tests"),
}
TRY = "sh sample_jobs/try.sh"
TEST = "sh tests/run.sh"


def tracked(*arguments: str) -> list[str]:
    # A checkout that belongs to another account is as good as one's own to look at.
    command = ["git", "-c", "safe.directory=*", "ls-files", *arguments]
    return subprocess.run(
        command, cwd=ROOT, capture_output=True, text=True, check=True
    ).stdout.splitlines()


def test_the_program_is_tested_as_it_is_and_not_with_probes(pytestconfig: pytest.Config) -> None:
    """The plugin of the mutation tool changes whatever is imported after it, and makes it slow."""
    is_asked_for = pytestconfig.pluginmanager.has_plugin("tests.benchmarks.lines_by_test")
    assert hasattr(builtins, "__ran__") == is_asked_for


def test_the_top_level_holds_what_it_should_and_no_more() -> None:
    assert {path.split("/")[0] for path in tracked()} == TOP


def test_no_file_has_the_marks_of_a_merge_that_is_not_done() -> None:
    marks = re.compile(rb"^(<{7}|>{7}) ", re.MULTILINE)
    assert [name for name in tracked() if marks.search((ROOT / name).read_bytes())] == []


def test_what_is_begun_first_is_there() -> None:
    assert [name for name in LONG if name.endswith(".py") and not (ROOT / name).exists()] == []


@pytest.fixture(scope="module")
def readme() -> str:
    return (ROOT / "README.md").read_text(encoding="utf-8")


def test_the_readme_begins_with_a_paragraph_that_says_what_it_is(readme: str) -> None:
    title, paragraph, *_ = readme.split("\n\n")
    assert title.startswith("# ")
    assert re.match(r"\w", paragraph), "the first paragraph is prose"
    assert "cardgen" in paragraph
    assert paragraph.rstrip().endswith(".")


@pytest.mark.parametrize("command", [TRY, TEST])
def test_the_readme_gives_each_command_once(readme: str, command: str) -> None:
    blocks = re.findall(r"^```\w*\n(.*?)^```", readme, re.MULTILINE | re.DOTALL)
    lines = [line.strip() for block in blocks for line in block.splitlines()]
    # `cd` and `git clone` before it would make two of it.
    assert [line for line in lines if line.startswith(command)] == [command]


def test_ci_runs_the_readmes_test_command_and_nothing_else() -> None:
    lines = (ROOT / ".ci" / "run").read_text(encoding="utf-8").splitlines()
    said = [line for line in lines if not line.startswith(("#", "set ", "cd "))]
    assert said == [f"exec {TEST}"]


def test_what_is_run_is_executable() -> None:
    modes = {line.split("\t")[1]: line.split()[0] for line in tracked("--stage")}
    run = [".ci/run", TRY.removeprefix("sh "), TEST.removeprefix("sh ")]
    assert {path: modes[path] for path in run} == dict.fromkeys(run, "100755")


def own_test(module: Path) -> Path:
    """Where the test of a module is looked for: in the folder of its stage, by its name."""
    stage = module.parts[1:-1][:1]
    return Path("tests", *stage, f"test_{module.name}")


def test_each_module_has_a_test_of_its_name_or_a_line_that_says_which_covers_it() -> None:
    text = (ROOT / "tests" / "covered_by.txt").read_text(encoding="utf-8")
    lines = [line.split() for line in text.splitlines()]
    assert lines == sorted(lines)
    covered = {Path(module): Path(test) for module, test in lines}
    tests = {Path(path) for path in tracked("tests/*/test_*.py", "tests/test_*.py")}
    modules = {Path(path) for path in tracked("cardgen/*.py") if (ROOT / path).exists()}
    without = {m for m in modules if m.name != "__init__.py" and own_test(m) not in tests}
    assert without == covered.keys()
    assert set(covered.values()) <= tests


@for_each("path", [path for path in tracked("*.py") if (ROOT / path).exists()])
def test_each_module_says_in_a_sentence_what_it_does(path: str) -> None:
    text = (ROOT / path).read_text(encoding="utf-8")
    if path.startswith("tests/") and not text:
        return  # a folder of tests is named for what it tests
    # A comment may stand before it; to parse all of it for its first string takes long.
    said = re.match(r'(?:#.*\n|\s)*r?"""(.+?)"""', text, re.DOTALL)
    assert said, "no docstring"
    first = said[1].split("\n\n")[0].rstrip()
    assert first.endswith((".", ":"))
