"""README and manual say what the program does: their steps and examples are run as they are typed.

In the manual a block of `yaml` is a job, or sections that take the place of those of the job
before it on the page; a block of `console` is what is typed after `$ ` and what is shown then,
with `...` for what is left out; a block of `python` is run, and the block of `text` after it is
what it prints.
"""

from __future__ import annotations

import contextlib
import io
import os
import re
import subprocess
import sys
import tomllib
from contextlib import redirect_stderr, redirect_stdout
from pathlib import Path

import pytest

from cardgen import __version__, faults
from cardgen.allot import allot
from cardgen.cli.main import main
from cardgen.cli.parser import parser_of_all
from cardgen.electrics.readings import COIL_TOLERANCE
from cardgen.job import schema, starter
from cardgen.job.starter import starter_job
from cardgen.layout import legibility, qr
from cardgen.manual import ManualPage, as_text, pages
from cardgen.manual.manual_pages import LAYOUTS
from cardgen.manual.terminal import WIDTH
from cardgen.output.selection import KINDS
from cardgen.problems import Verdict
from cardgen.record import offline
from cardgen.results.measured import COLUMNS, Kind
from cardgen.server import photos, pins, sessions
from cardgen.server import pin_attempts as attempts
from cardgen.trade.colors import COLORS
from tests.checks.bases import _sections
from tests.cli.terminals import terminal
from tests.jobs import SAMPLES, edit, examined, sample
from tests.outside.pages import text_by_poppler

ROOT = Path(__file__).parents[1]
README = (ROOT / "README.md").read_text(encoding="utf-8")
MOST_WORDS = 900
# All but the one that comes with stock and faces, which tests/layout/test_manual.py tries.
PAGES = [page for topic, page in pages().items() if topic != LAYOUTS]
# Options of other programs that are named.
NOT_OURS = {"--user", "--force", "--directory"}

each_page = pytest.mark.parametrize("page", PAGES, ids=lambda page: page.topic)


def blocks(text: str, language: str) -> list[str]:
    return re.findall(rf"^```{language}\n(.*?)^```", text, re.MULTILINE | re.DOTALL)


def cardgen(folder: Path, *arguments: str) -> subprocess.CompletedProcess[str]:
    """What a terminal shows of one command."""
    return python(folder, "-m", "cardgen", *arguments)


def python(folder: Path, *arguments: str) -> subprocess.CompletedProcess[str]:
    environment = {"PYTHONPATH": str(ROOT), "PYTHONUNBUFFERED": "1", "PYTHONUTF8": "1"}
    return subprocess.run(
        [sys.executable, *arguments],
        cwd=folder,
        env=os.environ | environment,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        encoding="utf-8",
        check=False,
    )


def shown(folder: Path, *arguments: str) -> str:
    """The same in this process: to start another takes longer than most commands do."""
    screen = io.StringIO()
    with contextlib.chdir(folder), redirect_stdout(screen), redirect_stderr(screen):
        main(arguments)
    return screen.getvalue()


# ---- the README ------------------------------------------------------------------------------


def test_the_readme_is_one_page() -> None:
    assert len(README.split()) < MOST_WORDS


def test_whoever_types_the_steps_gets_tags(tmp_path: Path) -> None:
    steps = re.findall(r"^(\d+)\. (.*)", README, re.MULTILINE)
    assert [number for number, _ in steps] == [str(number) for number in range(1, 9)]
    typed = [line for _, step in steps for line in re.findall(r"`cardgen ([^`]+)`", step)]
    assert len(typed) >= 8
    for line in typed:
        done = cardgen(tmp_path, *line.split())
        assert done.returncode == 0, done.stdout
    tags = text_by_poppler((tmp_path / "my-tags" / "valve-tags.pdf").read_bytes())
    assert "A1" in tags[0] and "front lawn" in " ".join(tags[0].split())
    assert list((tmp_path / "web").glob("*/VB-1/index.html"))
    named = re.findall(r"`(my-tags/[^`]+)`", README)
    assert named and all((tmp_path / name).is_file() for name in named)


def test_a_new_file_gives_the_warnings_of_which_the_readme_tells(tmp_path: Path) -> None:
    """Three, until code, site and address are one's own; then none."""
    assert "three warnings until code, site and address are your own" in README
    assert cardgen(tmp_path, "new", "my-job.yaml").returncode == 0
    said = cardgen(tmp_path, "check", "my-job.yaml").stdout
    assert said.count(": warning: ") == 3 and said.endswith("my-job.yaml: 3 warnings\n")
    (tmp_path / "own.yaml").write_text(own_job(), encoding="utf-8")
    assert ": warning: " not in cardgen(tmp_path, "check", "own.yaml").stdout


def test_the_desk_comes_before_the_terminal() -> None:
    desk, terminal = README.index("`cardgen desk my-jobs`"), README.index("`cardgen new")
    assert desk < terminal


@pytest.mark.skipif(sys.platform == "win32", reason="a terminal of Unix")
def test_one_line_and_a_letter_open_a_desk_of_a_new_folder(tmp_path: Path) -> None:
    found = re.search(r"Type one line: `cardgen ([^`]+)`, and `(\w)` to make the folder", README)
    assert found is not None
    with terminal(tmp_path, "-m", "cardgen", *found[1].split()) as screen:
        screen.waits_for("Make it? [y/n] ")
        assert not (tmp_path / "my-jobs").exists()
        screen.types(f"{found[2]}\n")
        screen.waits_for("is open at")
    assert list(tmp_path.iterdir()) == [tmp_path / "my-jobs"]


def test_lists_what_is_not_known_and_many_jobs_as_the_readme_types_them(tmp_path: Path) -> None:
    section = README.split("## Lists")[1].split("\n## ")[0]
    typed = re.findall(r"`cardgen ([^`]+)`", section)
    (tmp_path / "list.csv").write_text("Station,What it waters\nA1,lawn\nA2,beds\n", "utf-8")
    (tmp_path / "sites.csv").write_text("Site,Station,Area\nElm,A1,lawn\nOak,A1,bed\n", "utf-8")
    (tmp_path / "my-job.yaml").write_text(own_job(), encoding="utf-8")
    (tmp_path / "parks").mkdir()
    for name in ("larkspur", "sandpiper"):
        (tmp_path / "parks" / f"{name}.yaml").write_text(sample(name), encoding="utf-8")
    assert [line.split()[0] for line in typed] == [
        *("import", "import", "export", "import", "print", "print")
    ]
    for line in typed:
        if "survey" in line:  # a person has said what he can
            job = edit(own_job(), "gauge: 18 AWG", "gauge: not known")
            (tmp_path / "park.yaml").write_text(job, encoding="utf-8")
        done = cardgen(tmp_path, *line.split())
        assert done.returncode == 0, done.stdout
    survey = text_by_poppler((tmp_path / "park" / "survey.pdf").read_bytes())
    assert "gauge" in " ".join(survey)
    assert {path.name for path in (tmp_path / "sites").iterdir()} == {"elm.yaml", "oak.yaml"}
    assert {path.name for path in (tmp_path / "tags").iterdir()} == {"larkspur", "sandpiper"}


def test_the_readme_names_the_wheel_the_python_and_the_samples() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
    needed = f"Python {project['requires-python'].removeprefix('>=')} or newer"
    for text in (README, pages()["install"].text):
        assert f"`cardgen-{__version__}-py3-none-any.whl`" in text
        assert needed in text
    assert all(f"{name}.yaml`" in README for name in SAMPLES)


def test_the_readme_lists_every_page() -> None:
    assert re.findall(r"^\| `([\w-]+)` \|", README, re.MULTILINE) == list(pages())


# ---- the manual ------------------------------------------------------------------------------


def test_every_file_is_a_page() -> None:
    files = {path.stem for path in (ROOT / "cardgen" / "manual").glob("*.md")}
    assert files == {page.topic for page in PAGES}


def test_the_list_of_pages(tmp_path: Path) -> None:
    lines = shown(tmp_path, "manual").splitlines()
    assert [line.split()[0] for line in lines[: len(pages())]] == list(pages())
    assert all(len(line) <= WIDTH for line in lines)


def test_a_page_that_is_not_there(tmp_path: Path) -> None:
    done = cardgen(tmp_path, "manual", "printng")
    assert done.returncode == 2
    assert done.stdout == (
        "cardgen: the manual has no page 'printng'\nway out: did you mean 'printing'?\n"
    )


@each_page
def test_a_page_fits_a_terminal(page: ManualPage, tmp_path: Path) -> None:
    said = shown(tmp_path, "manual", page.topic)
    assert said == as_text(page.text) + "\n"
    assert said.startswith(page.title + "\n===")
    typed = "".join(blocks(page.text, "console")).splitlines()  # as wide as the program has it
    wide = [line.removeprefix("    ") for line in said.splitlines() if len(line) > WIDTH]
    assert set(wide) <= set(typed)


def test_how_a_page_looks() -> None:
    """Headings underlined, paragraphs wrapped, code set in, a table as a list."""
    page = "# Title\n\nOne **word**\nmore.\n\n- a\n  b\n1. c\n\n```sh\nx  y\n```\n\n"
    table = "| key | what | |\n|---|---|---|\n| `k` | said | needed |\n| `l` | | |\n"
    assert as_text(page + table) == (
        "Title\n=====\n\nOne word more.\n\n- a b\n1. c\n\n    x  y\n\n- `k`: said (needed)\n- `l`"
    )
    assert as_text("word " * 15 + "`typed as one`").splitlines()[1] == "`typed as one`"
    long = as_text("- " + "word " * 40).splitlines()
    assert len(long) == 3
    assert all(line.startswith("  word") and len(line) <= WIDTH for line in long[1:])


@each_page
def test_every_page_has_an_example_that_is_run(page: ManualPage) -> None:
    assert any(blocks(page.text, language) for language in ("yaml", "console", "python"))


@each_page
def test_the_jobs_of_a_page_have_no_faults(page: ManualPage) -> None:
    whole = sample("larkspur")
    for block in blocks(page.text, "yaml"):
        own = _sections(block)
        if {"job", "stations"} <= own.keys():
            whole = block
        text = "".join({**_sections(whole), **own}.values())
        if page.topic == "allot":  # which shows a job without hots
            text = allot(text, "job.yaml").text or ""
        found = [p for p in examined(text).problems if p.verdict is not Verdict.NOTE]
        assert not found, (block, found)


def own_job() -> str:
    """The file that `cardgen new` writes, with a site of one's own."""
    text = edit(starter_job("7Q2F9KX4M3T8"), starter.CODE, "LARK-06")
    text = edit(text, starter.SITE, "Larkspur Cottage")
    return edit(text, starter.ADDRESS, "https://jobs.example.com")


@each_page
def test_the_sessions_of_a_page(page: ManualPage, tmp_path: Path) -> None:
    own = own_job()
    files = {f"{name}.yaml": sample(name) for name in SAMPLES}
    files["my-job.yaml"] = own
    files["bare.yaml"] = files["broken.yaml"] = edit(own, "    hot: A-K1 blue\n", "")
    tables = blocks(page.text, "csv") or [""]
    files["readings.csv"] = files["list.csv"] = tables[0]
    files["sites.csv"] = tables[-1]
    for name, text in files.items():
        (tmp_path / name).write_text(text, encoding="utf-8")
    for block in blocks(page.text, "console"):
        for session in re.split(r"^\$ ", block, flags=re.MULTILINE)[1:]:
            line, _, expected = session.partition("\n")
            program, *arguments = line.split()
            assert program == "cardgen"
            said = shown(tmp_path, *arguments)
            assert matches(expected, said), f"$ {line}\n{said}"


def matches(expected: str, said: str) -> bool:
    """Whether all that is expected is shown; `...` stands for whatever else there is."""
    pattern = re.escape(expected.strip("\n")).replace(re.escape("..."), "(?s:.*)")
    return re.fullmatch(pattern, said.strip("\n")) is not None


def test_what_matches() -> None:
    assert matches("a\n...\nd\n", "a\nb\nc\nd") and matches("a...", "a\nb")
    assert not matches("a\n", "a\nb") and not matches("a...c", "ab")


@each_page
def test_the_programs_of_a_page(page: ManualPage, tmp_path: Path) -> None:
    (tmp_path / "my-job.yaml").write_text(own_job(), encoding="utf-8")
    programs, printed = blocks(page.text, "python"), blocks(page.text, "text")
    for program, text in zip(programs, printed, strict=True):
        assert python(tmp_path, "-c", program).stdout == text


def test_every_key_of_a_job_is_in_the_manual() -> None:
    text = pages()["job-file"].text + pages()["conductors"].text
    assert {key for key in _keys(schema()) if not re.search(rf"`{key}\b|\b{key}:", text)} == set()


def _keys(node: object) -> set[str]:
    """All names of the schema that a person may write, at any depth."""
    if isinstance(node, list):
        return {key for each in node for key in _keys(each)}
    if not isinstance(node, dict):
        return set()
    below = {key for each in node.values() for key in _keys(each)}
    return below | set(node.get("properties", {}))


@pytest.mark.parametrize(
    "text", [README, *(page.text for page in PAGES)], ids=["README", *(p.topic for p in PAGES)]
)
def test_every_option_and_command_that_is_named_exists(text: str) -> None:
    # The parser keeps its commands in the one action that has choices.
    (commands,) = (a.choices for a in parser_of_all()._actions if isinstance(a.choices, dict))
    options = {o for one in commands.values() for a in one._actions for o in a.option_strings}
    assert set(re.findall(r"(?<![\w-])--[a-z][a-z-]+", text)) <= options | NOT_OURS
    named = re.findall(r"`cardgen ([a-z]+)", text)
    assert {*named} <= commands.keys()


def test_every_word_that_a_key_takes_is_in_the_manual() -> None:
    text = pages()["job-file"].text
    assert {word for word in _words_to_choose(schema()) if f"`{word}`" not in text} == set()
    colors = {color.name for color in COLORS.values()}
    assert {name for name in colors if name not in text.lower()} == set()


def _words_to_choose(node: object) -> set[str]:
    if isinstance(node, list):
        return {word for each in node for word in _words_to_choose(each)}
    if not isinstance(node, dict):
        return set()
    chosen = {word for word in node.get("enum", []) if isinstance(word, str)}
    return chosen | {word for each in node.values() for word in _words_to_choose(each)}


def test_the_limits_that_the_manual_names_are_those_of_the_program() -> None:
    named = {
        "server": (
            f"{pins.LEAST} characters or more",
            f"for {sessions.LASTS_S // sessions.DAY_S} days",
            f"after {attempts.FREE_ATTEMPTS} wrong ones",
            f"one try in {attempts.PAUSE_S:g} seconds",
            f"{24 * 60 * 60 / attempts.PAUSE_S:,.0f} a day",
            f"within {attempts.PATIENCE_S:g} seconds, within {attempts.NOISY_PATIENCE_S:g} where",
        ),
        "readings": (
            f"{photos.LONGEST_PX} pixels",
            *(kind.most_text for kind in Kind if kind.unit),
            *(f"`{kind}`" for kind in Kind),
            *(f"`{column}`" for column in COLUMNS),
        ),
        "record": (f"keeps {offline.LIMIT / 1e6:g} MB",),
        "printing": (
            f"{legibility.NEAREST:g} to {legibility.FARTHEST:g} m",
            f"at least {qr.SMALLEST_MODULE:g} mm",
            *(f"`{word}`" for word in KINDS),
        ),
        "numbers": (f"coil {COIL_TOLERANCE:.0%} and".replace("%", " %"),),
    }
    for topic, phrases in named.items():
        text = " ".join(pages()[topic].text.split())
        assert [phrase for phrase in phrases if phrase not in text] == [], topic


@pytest.mark.parametrize("topic", ["stock", "numbers"])
def test_a_terminal_with_few_letters_gets_no_traceback(topic: str, tmp_path: Path) -> None:
    done = subprocess.run(
        [sys.executable, "-m", "cardgen", "manual", topic],
        cwd=tmp_path,
        env=os.environ | {"PYTHONPATH": str(ROOT), "PYTHONIOENCODING": "ascii"},
        capture_output=True,
        check=True,
    )
    assert not pages()[topic].text.isascii()  # else there is nothing to be afraid of
    assert done.stdout.isascii() and not done.stderr


def test_every_option_is_in_the_manual() -> None:
    text = "".join(page.text for page in PAGES)
    (commands,) = (a.choices for a in parser_of_all()._actions if isinstance(a.choices, dict))
    options = {o for one in commands.values() for a in one._actions for o in a.option_strings}
    small = {"-h", "--help", "--host", "--port"}  # as in any program
    assert {option for option in options - small if f"{option}" not in text} == set()


def test_explain_without_a_code_lists_all(tmp_path: Path) -> None:
    lines = shown(tmp_path, "explain").splitlines()
    assert sorted(line.split()[0] for line in lines) == sorted(faults.ALL)
    for line in lines:
        code, verdict, title = line.split(maxsplit=2)
        entry = faults.ALL[code]
        assert (verdict, title) == (str(entry.verdict), entry.title)
