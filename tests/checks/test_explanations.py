"""Each code of the program is explained, and each explanation is true."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from cardgen.allot import allot
from cardgen.checks.explanations import EXPLANATIONS, Explanation, explain, table
from cardgen.examine import examine_text
from cardgen.layout.load import load_layouts
from cardgen.problems import Problem, Verdict
from cardgen.results import read_results, strangers
from cardgen.words import load_words
from tests.checks.bases import completed
from tests.jobs import SAMPLE_JOBS

PACKAGE = Path(__file__).parents[2] / "cardgen"
STOCK = PACKAGE.parent / "layouts" / "stock" / "id-1-a4.yaml"
# What makes a problem of a code: its call, or a word that stands for the code.
REPORTERS = {
    *("Problem", "problem", "_problem", "error", "_error", "warning", "note", "expected"),
    *("Misread", "fault", "_fault", "_Fault", "_Cause", "stop", "report", "add"),
}
CODE = re.compile(r"[a-z][a-z0-9]*(-[a-z0-9]+)*\Z")
# Words that reporters also take, and that are no codes.
OTHER_WORDS = {"any", "local", "restored"}  # the last two of the trail of a server
# What the text of a job does not show.
OTHER_BASES = ("allot", "print", "stock", "face", "words", "results")
# No text of a job shows these: they are of the file as bytes, or of allotting and printing.
NOT_SHOWN = {
    *("file-unreadable", "file-too-large", "not-utf-8", "not-text", "byte-order-mark"),
    *("too-many-values",),
}


def _words(node: ast.expr) -> Iterator[str]:
    if isinstance(node, ast.Constant) and isinstance(node.value, str) and CODE.match(node.value):
        yield node.value
    elif isinstance(node, ast.IfExp):
        yield from _words(node.body)
        yield from _words(node.orelse)


def _codes_in(tree: ast.Module) -> Iterator[str]:
    for node in ast.walk(tree):
        if isinstance(node, ast.Call):
            called = getattr(node.func, "attr", getattr(node.func, "id", ""))
            for argument in node.args if called in REPORTERS else ():
                yield from _words(argument)
            for keyword in node.keywords:
                if keyword.arg == "code":
                    yield from _words(keyword.value)
        elif isinstance(node, ast.Assign):
            if any(getattr(target, "id", "") in ("code", "_UNIT") for target in node.targets):
                yield from _words(node.value)
        elif isinstance(node, ast.FunctionDef):
            named = node.args.args[len(node.args.args) - len(node.args.defaults) :]
            for parameter, default in zip(named, node.args.defaults, strict=True):
                if parameter.arg == "code":
                    yield from _words(default)


def emitted() -> set[str]:
    """Every code that the source can give."""
    return {
        code
        for path in PACKAGE.rglob("*.py")
        if "explanations" not in path.parts
        for code in _codes_in(ast.parse(path.read_text(encoding="utf-8")))
    } - OTHER_WORDS


def test_every_code_is_explained_and_no_other() -> None:
    assert emitted() == set(EXPLANATIONS)


@pytest.mark.parametrize("entry", EXPLANATIONS.values(), ids=lambda entry: entry.code)
def test_what_is_said_is_fit_to_be_read(entry: Explanation) -> None:
    assert entry.title and not entry.title.endswith(".") and len(entry.title) <= 80
    for text in (entry.why, entry.mend):
        assert text.endswith(".")
    whole = explain(entry.code)
    assert whole is not None
    assert all(len(line) <= 80 for line in whole.splitlines())
    assert not re.search(r"\b(None|str|dict|exception|parser?)\b", entry.why + entry.mend)


def problems_of(entry: Explanation, snippet: str) -> tuple[Problem, ...]:
    text = snippet if entry.base == "text" else completed(snippet, entry.base)
    return examine_text(text).problems


SHOWN = [e for e in EXPLANATIONS.values() if e.base not in OTHER_BASES]


def test_what_no_text_can_show() -> None:
    assert {entry.code for entry in SHOWN if not entry.wrong} == NOT_SHOWN


@pytest.mark.parametrize("entry", [e for e in SHOWN if e.wrong], ids=lambda entry: entry.code)
def test_the_wrong_snippet_gives_the_code_and_nothing_else(entry: Explanation) -> None:
    found = problems_of(entry, entry.wrong)
    bad = {p.code for p in found if p.verdict is not Verdict.NOTE}
    assert bad == ({entry.code} if entry.verdict is not Verdict.NOTE else set())
    assert {p.verdict for p in found if p.code == entry.code} == {entry.verdict}


@pytest.mark.parametrize("entry", [e for e in SHOWN if e.wrong], ids=lambda entry: entry.code)
def test_the_right_snippet_is_sound(entry: Explanation) -> None:
    if entry.base == "text":
        text = (SAMPLE_JOBS / "larkspur.yaml").read_text(encoding="utf-8")
        found = examine_text(text).problems
    else:
        found = problems_of(entry, entry.right)
    assert not [p for p in found if p.code == entry.code or p.verdict is not Verdict.NOTE]


def layout_codes(folder: Path, kind: str, text: str) -> set[str]:
    """What is found in a stock or face of one's own."""
    (folder / kind).mkdir(exist_ok=True)
    (folder / kind / "id-1-a4.yaml").write_text(text + "\n", encoding="utf-8")
    return {problem.code for problem in load_layouts(folder)[1]}


@pytest.mark.parametrize(
    "entry", [e for e in EXPLANATIONS.values() if e.base == "stock"], ids=lambda entry: entry.code
)
def test_the_snippets_of_stock(entry: Explanation, tmp_path: Path) -> None:
    key = entry.wrong.partition(":")[0]
    lines = STOCK.read_text(encoding="utf-8").splitlines()
    rest = [line for line in lines if not line.startswith(f"{key}:")]
    for snippet, codes in ((entry.wrong, {entry.code}), (entry.right, set())):
        text = "\n".join((*rest, snippet))
        # Columns of the shipped faces come to lie on what moves.
        assert layout_codes(tmp_path, "stock", text) - {"frame-on-hole", "frame-on-fold"} == codes


@pytest.mark.parametrize(
    "entry", [e for e in EXPLANATIONS.values() if e.base == "face"], ids=lambda entry: entry.code
)
def test_the_snippets_of_faces(entry: Explanation, tmp_path: Path) -> None:
    assert layout_codes(tmp_path, "faces", entry.wrong) == {entry.code}
    assert layout_codes(tmp_path, "faces", entry.right) == set()


@pytest.mark.parametrize(
    "entry", [e for e in EXPLANATIONS.values() if e.base == "words"], ids=lambda entry: entry.code
)
def test_the_snippets_of_words(entry: Explanation, tmp_path: Path) -> None:
    """A correction of a shipped language; a language of one's own must be whole."""
    (tmp_path / "words").mkdir()
    language = "es" if entry.right else "de"
    snippets = {entry.wrong: {entry.code}} | ({entry.right: set()} if entry.right else {})
    for snippet, codes in snippets.items():
        (tmp_path / "words" / f"{language}.yaml").write_text(snippet, encoding="utf-8")
        _, problems = load_words((language,), tmp_path)
        assert {problem.code for problem in problems} == codes


@pytest.mark.parametrize(
    "entry", [e for e in EXPLANATIONS.values() if e.base == "allot"], ids=lambda entry: entry.code
)
def test_the_snippets_of_allotting(entry: Explanation) -> None:
    assert {p.code for p in allot(completed(entry.wrong)).problems} == {entry.code}
    assert allot(completed(entry.right)).problems == ()


@pytest.mark.parametrize(
    "entry",
    [e for e in EXPLANATIONS.values() if e.base == "results" and e.wrong],
    ids=lambda entry: entry.code,
)
def test_the_snippets_of_readings(entry: Explanation) -> None:
    for snippet, codes in ((entry.wrong, {entry.code}), (entry.right, set())):
        rows, problems = read_results(snippet.encode(), "readings.csv")
        found = (*problems, *strangers(rows, {"A1", "A2"}, "7Q2F9KX4M3T8"))
        assert {problem.code for problem in found} == codes


def test_nothing_is_said_of_a_code_that_is_not_there() -> None:
    assert explain("no-such-code") is None


def test_the_whole_text_once() -> None:
    assert explain("units-mixed") == (
        "warning units-mixed: some legs are in feet and some in metres\n"
        "\n"
        "The odd one out is likely a slip, and the volts come out three times wrong.\n"
        "\n"
        "Write all legs in one unit.\n"
        "\n"
        "Gives it:\n"
        "\n"
        "    cables:\n"
        "      K1:\n"
        "        gauge: 18 AWG\n"
        "        colours: [white, red, blue, green, yellow]\n"
        "        run: [A, 85 ft, VB-1, 60 m, VB-2]\n"
        "\n"
        "Does not:\n"
        "\n"
        "    cables:\n"
        "      K1:\n"
        "        gauge: 18 AWG\n"
        "        colours: [white, red, blue, green, yellow]\n"
        "        run: [A, 85 ft, VB-1, 60 ft, VB-2]"
    )


def test_the_table_holds_each_code_once() -> None:
    rows = re.findall(r"^\| `([a-z0-9-]+)` \| (error|warning|note) \|", table(), re.MULTILINE)
    assert [code for code, _ in rows] == sorted(EXPLANATIONS)
