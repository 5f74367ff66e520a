"""What the wrong example of a fault gives, whatever it is part of."""

from __future__ import annotations

import re
from collections.abc import Sequence
from pathlib import Path

from cardgen.allot import allot
from cardgen.faults.fault import Fault
from cardgen.layout.layout_loader import load_layouts
from cardgen.problems import Problem
from cardgen.results import KnownNames, read_results, unknown_rows
from cardgen.words import load_words
from cardgen.workbook.book_files import book_of
from cardgen.workbook.importing import new_job
from cardgen.workbook.list_job import NewJob
from tests.checks.bases import completed
from tests.faults.test_examples import JOBS, STOCK, problems_of, workbook_problems

_KEY = "7Q2F9KX4M3T8"


def problems_of_any(fault: Fault, folder: Path) -> Sequence[Problem]:
    """Not of commands, prints and servers, which tell nothing but lines."""
    if fault.base in JOBS:
        return problems_of(fault, fault.wrong, folder)
    return {
        "allot": _of_allotting,
        "stock": _of_layouts,
        "face": _of_layouts,
        "words": _of_words,
        "results": _of_readings,
        "list": _of_a_list,
        "workbook": _of_a_workbook,
        "late workbook": _of_a_workbook,
    }[fault.base](fault, folder)


def _of_allotting(fault: Fault, _: Path) -> Sequence[Problem]:
    return allot(completed(fault.wrong)).problems


def _of_layouts(fault: Fault, folder: Path) -> Sequence[Problem]:
    kind, text = "faces", fault.wrong
    if fault.base == "stock":
        kind, key = "stock", fault.wrong.partition(":")[0]
        lines = STOCK.read_text(encoding="utf-8").splitlines()
        text = "\n".join([*(line for line in lines if not line.startswith(f"{key}:")), text])
    (folder / kind).mkdir()
    (folder / kind / "id-1-a4.yaml").write_text(f"{text}\n", encoding="utf-8")
    return load_layouts(folder)[1]


def _of_words(fault: Fault, folder: Path) -> Sequence[Problem]:
    named = re.match(r"# layouts/words/(\w+)\.yaml\n", fault.wrong)
    assert named
    (folder / "words").mkdir()
    (folder / "words" / f"{named[1]}.yaml").write_text(fault.wrong, encoding="utf-8")
    return load_words((named[1],), folder)[1]


def _of_readings(fault: Fault, _: Path) -> Sequence[Problem]:
    rows, problems = read_results(fault.wrong.encode(), "readings.csv")
    names = KnownNames(valves=frozenset({"A1", "A2"}), revision=2)
    return (*problems, *unknown_rows(rows, names, _KEY))


def _of_a_list(fault: Fault, _: Path) -> Sequence[Problem]:
    book, problems = book_of(fault.wrong.encode(), "list.csv")
    return problems if book is None else new_job(book, NewJob(key=_KEY)).problems


def _of_a_workbook(fault: Fault, _: Path) -> Sequence[Problem]:
    return workbook_problems(fault, fault.wrong)
