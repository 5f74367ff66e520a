"""The wrong example of each fault gives it and nothing else; the right one gives nothing."""

from __future__ import annotations

from pathlib import Path

import pytest

from cardgen.allot import allot
from cardgen.examine import examine_text
from cardgen.faults import ALL
from cardgen.faults.fault import Fault
from cardgen.layout.load import load_layouts
from cardgen.problems import Problem, Verdict
from cardgen.results import read_results, strangers
from cardgen.words import load_words
from tests.checks.bases import completed
from tests.jobs import SAMPLE_JOBS

PACKAGE = Path(__file__).parents[2] / "cardgen"
STOCK = PACKAGE.parent / "layouts" / "stock" / "id-1-a4.yaml"
# What the text of a job does not show.
OTHER_BASES = ("allot", "print", "stock", "face", "words", "results")
# No text of a job shows these: they are of the file as bytes, or of allotting and printing.
NOT_SHOWN = {
    *("file-unreadable", "file-too-large", "not-utf-8", "not-text", "byte-order-mark"),
    *("too-many-values",),
}


def each(faults: list[Fault]) -> pytest.MarkDecorator:
    """Run a test with each fault that has an example."""
    shown = [fault for fault in faults if fault.wrong]
    return pytest.mark.parametrize("fault", shown, ids=[fault.code for fault in shown])


def of_base(base: str) -> list[Fault]:
    return [fault for fault in ALL.values() if fault.base == base]


def problems_of(fault: Fault, example: str) -> tuple[Problem, ...]:
    text = example if fault.base == "text" else completed(example, fault.base)
    return examine_text(text).problems


SHOWN = [fault for fault in ALL.values() if fault.base not in OTHER_BASES]


def test_what_no_text_can_show() -> None:
    assert {fault.code for fault in SHOWN if not fault.wrong} == NOT_SHOWN


@each(SHOWN)
def test_the_wrong_example_gives_the_code_and_nothing_else(fault: Fault) -> None:
    found = problems_of(fault, fault.wrong)
    bad = {p.code for p in found if p.verdict is not Verdict.NOTE}
    assert bad == ({fault.code} if fault.verdict is not Verdict.NOTE else set())
    assert {p.verdict for p in found if p.code == fault.code} == {fault.verdict}


@each(SHOWN)
def test_the_right_example_is_sound(fault: Fault) -> None:
    if fault.base == "text":
        text = (SAMPLE_JOBS / "larkspur.yaml").read_text(encoding="utf-8")
        found = examine_text(text).problems
    else:
        found = problems_of(fault, fault.right)
    assert not [p for p in found if p.code == fault.code or p.verdict is not Verdict.NOTE]


def layout_codes(folder: Path, kind: str, text: str) -> set[str]:
    """What is found in a stock or face of one's own."""
    (folder / kind).mkdir(exist_ok=True)
    (folder / kind / "id-1-a4.yaml").write_text(text + "\n", encoding="utf-8")
    return {problem.code for problem in load_layouts(folder)[1]}


@each(of_base("stock"))
def test_the_examples_of_stock(fault: Fault, tmp_path: Path) -> None:
    key = fault.wrong.partition(":")[0]
    lines = STOCK.read_text(encoding="utf-8").splitlines()
    rest = [line for line in lines if not line.startswith(f"{key}:")]
    for example, codes in ((fault.wrong, {fault.code}), (fault.right, set())):
        text = "\n".join((*rest, example))
        # Columns of the shipped faces come to lie on what moves.
        assert layout_codes(tmp_path, "stock", text) - {"frame-on-hole", "frame-on-fold"} == codes


@each(of_base("face"))
def test_the_examples_of_faces(fault: Fault, tmp_path: Path) -> None:
    assert layout_codes(tmp_path, "faces", fault.wrong) == {fault.code}
    assert layout_codes(tmp_path, "faces", fault.right) == set()


@each(of_base("words"))
def test_the_examples_of_words(fault: Fault, tmp_path: Path) -> None:
    """A correction of a shipped language; a language of one's own must be whole."""
    (tmp_path / "words").mkdir()
    language = "es" if fault.right else "de"
    examples = {fault.wrong: {fault.code}} | ({fault.right: set()} if fault.right else {})
    for example, codes in examples.items():
        (tmp_path / "words" / f"{language}.yaml").write_text(example, encoding="utf-8")
        _, problems = load_words((language,), tmp_path)
        assert {problem.code for problem in problems} == codes


@each(of_base("allot"))
def test_the_examples_of_allotting(fault: Fault) -> None:
    assert {p.code for p in allot(completed(fault.wrong)).problems} == {fault.code}
    assert allot(completed(fault.right)).problems == ()


@each(of_base("results"))
def test_the_examples_of_readings(fault: Fault) -> None:
    for example, codes in ((fault.wrong, {fault.code}), (fault.right, set())):
        rows, problems = read_results(example.encode(), "readings.csv")
        found = (*problems, *strangers(rows, {"A1", "A2"}, "7Q2F9KX4M3T8"))
        assert {problem.code for problem in found} == codes
