"""The scripts and styles of the pages are judged by the tools that the web uses for them."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from cardgen.desk import desk_assets
from cardgen.record import page_assets
from cardgen.server import crew_assets
from tests.source_trees import BROUGHT

ROOT = Path(__file__).parents[2]
HERE = Path(__file__).parent
TOOLS = ROOT / ".web-tools"  # `tests/run.sh` puts them there
# What is brought is judged by those who made it.
NOT_OURS = {*BROUGHT, "tabulator.LICENSE"}
FILES = sorted(path for path in (ROOT / "cardgen").glob("*/assets/*") if path.name not in NOT_OURS)
SCRIPTS = [path for path in FILES if path.suffix == ".js"]
STYLES = [path for path in FILES if path.suffix == ".css"]
OURS = sorted(path for path in HERE.iterdir() if path.suffix in (".mjs", ".json"))
INSTALL = "\n".join((
    "the tools for scripts and styles are not those of tests/web; this brings them:",
    f"  mkdir -p {TOOLS} && cp {HERE}/*.mjs {HERE}/*.json {TOOLS} && npm ci --prefix {TOOLS}",
))  # fmt: skip


def run(tool: str, *arguments: str | Path, text: str = "") -> subprocess.CompletedProcess[str]:
    """A tool of .web-tools with its configuration there."""
    beside = f"{Path(sys.executable).parent}{os.pathsep}{os.environ['PATH']}"
    node = shutil.which("node", path=beside)
    assert node, "no node; `pip install '.[test]'` brings it"
    script = TOOLS / "node_modules" / tool
    is_ours = all((TOOLS / path.name).is_file() for path in OURS) and script.is_file()
    if not is_ours or any(path.read_bytes() != (TOOLS / path.name).read_bytes() for path in OURS):
        pytest.fail(INSTALL)
    command = [node, script, *arguments]
    return subprocess.run(
        command, cwd=ROOT, input=text, capture_output=True, text=True, check=False
    )


def prettier(*what: str | Path, text: str = "") -> subprocess.CompletedProcess[str]:
    config = TOOLS / "prettier.config.mjs"
    return run("prettier/bin/prettier.cjs", "--config", config, "--check", *what, text=text)


def eslint(*what: str | Path, text: str = "") -> subprocess.CompletedProcess[str]:
    config = TOOLS / "eslint.config.mjs"
    return run("eslint/bin/eslint.js", "--config", config, "--max-warnings", "0", *what, text=text)


def stylelint(*what: str | Path, text: str = "") -> subprocess.CompletedProcess[str]:
    config = TOOLS / "stylelint.config.mjs"
    return run(
        "stylelint/bin/stylelint.mjs", "--config", config, "--max-warnings", "0", *what, text=text
    )


def test_all_are_set_as_prettier_sets_them() -> None:
    configurations = [path for path in OURS if path.name != "package-lock.json"]
    judged = prettier(*FILES, *configurations)
    assert judged.returncode == 0, judged.stdout + judged.stderr


def test_no_script_has_what_eslint_complains_of() -> None:
    judged = eslint(*SCRIPTS)
    assert judged.returncode == 0, judged.stdout + judged.stderr


def test_no_style_has_what_stylelint_complains_of() -> None:
    judged = stylelint(*STYLES)
    assert judged.returncode == 0, judged.stdout + judged.stderr


def test_each_tool_does_complain() -> None:
    script, style = '"use strict";\nvar x = nowhere\n', "a { colour: #abc; }\n"
    judged = prettier("--stdin-filepath", "cardgen/bad.js", text=script)
    assert judged.returncode == 1
    judged = eslint("--stdin", "--stdin-filename", "cardgen/bad.js", text=script)
    assert judged.returncode == 1 and "'nowhere' is not defined" in judged.stdout
    judged = stylelint("--stdin", "--stdin-filename", "cardgen/bad.css", text=style)
    assert 'Unknown property "colour"' in judged.stdout + judged.stderr


def test_every_file_stands_in_a_page_or_is_the_worker() -> None:
    read = {page_assets.FIND, page_assets.SAVED_COPY, page_assets.OFFLINE_WORKER, page_assets.STYLE}
    read |= {*crew_assets.ENTRY_SCRIPTS, *crew_assets.WAITING_SCRIPTS}
    read |= {crew_assets.STYLE.removeprefix(f"{page_assets.STYLE}\n")}
    scripts = (*desk_assets.LIST_SCRIPTS, *desk_assets.JOB_SCRIPTS, *desk_assets.QUEUE_SCRIPTS)
    desk = {*scripts, *desk_assets.PRINT_SCRIPTS, "desk.css"} - NOT_OURS
    folder = ROOT / "cardgen" / "desk" / "assets"
    read |= {(folder / name).read_text(encoding="utf-8") for name in desk}
    assert {path.read_text(encoding="utf-8") for path in FILES} == read
