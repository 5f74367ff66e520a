"""The wrong example of each fault gives it and nothing else; the right one gives nothing."""

from __future__ import annotations

import re
from collections.abc import Sequence
from pathlib import Path

import pytest

from cardgen.allot import allot
from cardgen.cli.main import main
from cardgen.editing import Put, edited
from cardgen.examine import examine
from cardgen.faults import ALL
from cardgen.faults.fault import Fault
from cardgen.layout.layout_loader import load_layouts
from cardgen.problems import Problem, Verdict
from cardgen.results import KnownNames, read_results, unknown_rows
from cardgen.results.workbook_file import workbook
from cardgen.words import load_words
from cardgen.workbook.book_files import book_of
from cardgen.workbook.exporting import exported
from cardgen.workbook.importing import new_job, update_of
from cardgen.workbook.list_job import NewJob
from tests.checks.bases import BASES, completed
from tests.for_each import for_each
from tests.server.crews import TABLE, enter, send, served, told

PACKAGE = Path(__file__).parents[2] / "cardgen"
STOCK = PACKAGE.parent / "layouts" / "stock" / "id-1-a4.yaml"
JOBS = ("text", "bytes", *BASES)
OTHERS = ("command", "allot", "print", "stock", "face", "words", "results", "server")
SHEETS = ("list", "workbook", "late workbook")


def each(*bases: str) -> pytest.MarkDecorator:
    """Run a test with each fault whose examples belong to these bases."""
    faults = [fault for fault in ALL.values() if fault.base in bases]
    return pytest.mark.parametrize("fault", faults, ids=[fault.code for fault in faults])


@for_each("fault", ALL.values())
def test_each_fault_has_two_examples_of_a_kind_that_is_tried_here(fault: Fault) -> None:
    assert fault.wrong and fault.right and fault.wrong != fault.right
    assert fault.base in (*JOBS, *OTHERS, *SHEETS)


# ---- of a job ---------------------------------------------------------------------------------


def escaped(text: str) -> bytes:
    r"""The bytes of a text in which escapes such as `\xff` show those that are no letters."""
    return re.sub(
        rb"\\x([0-9a-f]{2})", lambda found: bytes.fromhex(found[1].decode()), text.encode()
    )


def problems_of(fault: Fault, example: str, folder: Path) -> tuple[Problem, ...]:
    base = fault.base if fault.base in BASES else "plain"
    whole = example == fault.wrong and fault.base == "text"
    text = example if whole else completed(example, base)
    file = folder / "job.yaml"
    file.write_bytes(escaped(text) if fault.base == "bytes" else text.encode())
    return examine(file).problems


@each(*JOBS)
def test_the_wrong_example_gives_the_code_and_nothing_else(fault: Fault, tmp_path: Path) -> None:
    found = problems_of(fault, fault.wrong, tmp_path)
    bad = {p.code for p in found if p.verdict is not Verdict.NOTE}
    assert bad == ({fault.code} if fault.verdict is not Verdict.NOTE else set())
    assert {p.verdict for p in found if p.code == fault.code} == {fault.verdict}


@each(*JOBS)
def test_the_right_example_is_sound(fault: Fault, tmp_path: Path) -> None:
    found = problems_of(fault, fault.right, tmp_path)
    assert not [p for p in found if p.code == fault.code or p.verdict is not Verdict.NOTE]


@each("allot")
def test_the_examples_of_allotting(fault: Fault) -> None:
    assert {p.code for p in allot(completed(fault.wrong)).problems} == {fault.code}
    assert allot(completed(fault.right)).problems == ()


# ---- of what is typed and printed -------------------------------------------------------------


def told_codes(capsys: pytest.CaptureFixture[str]) -> set[str]:
    """The codes of the errors on the terminal."""
    said = capsys.readouterr().err
    return set(re.findall(r" error: .*\[([a-z0-9-]+)\]$", said, re.MULTILINE))


@each("command")
def test_the_examples_of_commands(
    fault: Fault,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    """In a folder with a job; a file whose size is said is there, too."""
    monkeypatch.chdir(tmp_path)
    Path("job.yaml").write_text(completed(""), encoding="utf-8")
    for example, codes in ((fault.wrong, {fault.code}), (fault.right, set())):
        command, _, size = example.partition("  # ")
        program, *words = command.split()
        assert program == "cardgen"
        if size:
            with Path(words[-1]).open("wb") as file:
                file.truncate(int(size.removesuffix(" MB")) * 1_000_000)
        main([*words, "--format", "short"])
        assert told_codes(capsys) == codes


@each("print")
def test_the_examples_of_printing(
    fault: Fault, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Sections of a job; or a file of the layouts, which a comment names, for a sound job."""
    job = tmp_path / "job.yaml"
    for example, codes in ((fault.wrong, {fault.code}), (fault.right, set())):
        named = re.match(r"# (layouts/\S+)\n", example)
        job.write_text(completed("" if named else example), encoding="utf-8")
        words = ["--only", "valve-tags", "--format", "short", "--out", str(tmp_path / "out")]
        if named:
            file = tmp_path / named[1]
            file.parent.mkdir(parents=True, exist_ok=True)
            file.write_text(example, encoding="utf-8")
            words += ["--layouts", str(tmp_path / "layouts")]
        main(["print", str(job), *words])
        assert told_codes(capsys) == codes


# ---- of layouts -------------------------------------------------------------------------------


def layout_codes(folder: Path, kind: str, text: str) -> set[str]:
    """What is found in an added stock or face."""
    (folder / kind).mkdir(exist_ok=True)
    (folder / kind / "id-1-a4.yaml").write_text(text + "\n", encoding="utf-8")
    return {problem.code for problem in load_layouts(folder)[1]}


@each("stock")
def test_the_examples_of_stock(fault: Fault, tmp_path: Path) -> None:
    key = fault.wrong.partition(":")[0]
    lines = STOCK.read_text(encoding="utf-8").splitlines()
    rest = [line for line in lines if not line.startswith(f"{key}:")]
    for example, codes in ((fault.wrong, {fault.code}), (fault.right, set())):
        text = "\n".join((*rest, example))
        # Columns of the shipped faces come to be on what moves.
        assert layout_codes(tmp_path, "stock", text) - {"frame-on-hole", "frame-on-fold"} == codes


@each("face")
def test_the_examples_of_faces(fault: Fault, tmp_path: Path) -> None:
    assert layout_codes(tmp_path, "faces", fault.wrong) == {fault.code}
    assert layout_codes(tmp_path, "faces", fault.right) == set()


@each("words")
def test_the_examples_of_words(fault: Fault, tmp_path: Path) -> None:
    """A file that the first line names: of a shipped language it may hold some texts only."""
    for example, codes in ((fault.wrong, {fault.code}), (fault.right, set())):
        named = re.match(r"# (layouts/words/(\w+)\.yaml)\n", example)
        assert named
        file = tmp_path / fault.code / named[1]
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text(example, encoding="utf-8")
        _, problems = load_words((named[2],), file.parents[1])
        assert {problem.code for problem in problems} == codes


# ---- of readings ------------------------------------------------------------------------------


@each("results")
def test_the_examples_of_readings(fault: Fault) -> None:
    names = KnownNames(valves=frozenset({"A1", "A2"}), revision=2)
    for example, codes in ((fault.wrong, {fault.code}), (fault.right, set())):
        rows, problems = read_results(example.encode(), "readings.csv")
        found = (*problems, *unknown_rows(rows, names, "7Q2F9KX4M3T8"))
        assert {problem.code for problem in found} == codes


@each("server")
def test_the_examples_of_readings_that_come_back(fault: Fault, tmp_path: Path) -> None:
    """The ID of the example stands for that of the stored reading, which no file could know."""
    id_ = fault.right.splitlines()[1].partition(",")[0]
    with served(tmp_path) as record:
        crew = record.crew()
        stored = told(enter(crew, {"when": "2026-06-01T09:30"}))["id"]
        for example, status in ((fault.wrong, 400), (fault.right, 200)):
            file = ("readings.csv", "text/csv", example.replace(id_, str(stored)).encode())
            answer = send(crew, TABLE, {}, {"table": file})
            assert answer.status == status
            assert (fault.sentence in answer.body.decode()) is (status == 400)


# ---- of spreadsheets --------------------------------------------------------------------------


@each("list")
def test_the_examples_of_lists(fault: Fault) -> None:
    for example, codes in ((fault.wrong, {fault.code}), (fault.right, set())):
        book, problems = book_of(example.encode(), "list.csv")
        assert book is not None and problems == ()
        assert {
            problem.code for problem in new_job(book, NewJob(key="7Q2F9KX4M3T8")).problems
        } == codes


def workbook_problems(fault: Fault, example: str) -> Sequence[Problem]:
    """A sheet, under its name in brackets, instead of that of a sound job."""
    job = completed("")
    title, *lines = example.splitlines()
    rows = {title.strip("[]"): [line.split(",") for line in lines]}
    sheets = exported(job, "job.yaml").sheets
    book, problems = book_of(workbook({**sheets, **rows}), "book.xlsx")
    assert book is not None and problems == ()
    if fault.base == "workbook":
        return new_job(book, NewJob(key="7Q2F9KX4M3T8")).problems
    changed = edited(job, [Put(path=("boxes", "VB-1", "place"), value="driveway")])
    return update_of(book, changed, "job.yaml").problems


@each("workbook", "late workbook")
def test_the_examples_of_workbooks(fault: Fault) -> None:
    for example, codes in ((fault.wrong, {fault.code}), (fault.right, set())):
        found = {problem.code for problem in workbook_problems(fault, example)}
        assert found - {"sheet-left-out"} == codes  # of those that are worked out
