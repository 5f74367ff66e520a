"""What is written as a line of things: runs, terminal strips, commons."""

from __future__ import annotations

from typing import Any

import pytest

from cardgen.job.job_parts import ConductorWords
from cardgen.job.runs import CONDUCTOR_WORDS, RUN, TERMINALS, WHOLE_CONDUCTOR
from cardgen.problems import Span
from cardgen.reading.nodes import Mapping
from cardgen.reading.parse import parse
from cardgen.reading.shapes import Report, Shape
from tests.jobs import Found, found_in, well_said


def read(shape: Shape[Any], value: str) -> tuple[Any, list[Found]]:
    root, problems = parse(f"x: {value}", "job.yaml")
    assert isinstance(root, Mapping), problems
    report = Report()
    found = shape.read(root.entries[0].value, root.entries[0].key.span, report)
    return found, found_in(tuple(well_said(problem) for problem in report.problems))


def test_run() -> None:
    stops, problems = read(RUN, "[A, 85 ft, VB-1, 18.5 m, VB-2]")
    assert problems == []
    assert [stop.at for stop in stops] == ["A", "VB-1", "VB-2"]
    assert [stop.leg and str(stop.leg.value) for stop in stops] == [None, "85 ft", "18.5 m"]
    assert [stop.span.column for stop in stops] == [5, 15, 29]
    assert [stop.leg and stop.leg.span.column for stop in stops] == [None, 8, 21]


def test_run_may_be_a_list_of_lines() -> None:
    stops, problems = read(RUN, "\n  - A\n  - 85 ft\n  - VB-1\n")
    assert (len(stops), problems) == (2, [])


@pytest.mark.parametrize(
    ("value", "found"),
    [
        ("", [("wrong-type", 1, 1)]),
        ("A, 85 ft, VB-1", [("wrong-type", 1, 4)]),
        ("{A: VB-1}", [("wrong-type", 1, 4)]),
        ("[]", [("wrong-type", 1, 4)]),
        ("[A]", [("run", 1, 4)]),
        ("[A, 85 ft]", [("run", 1, 4)]),
        ("[A, 85 ft, VB-1, 60 ft]", [("run", 1, 4)]),
        ("[A, VB-1, VB-2]", [("length-missing", 1, 8)]),
        ("[A, VB-1, 85 ft]", [("run", 1, 8)]),
        ("[A, 85, VB-1]", [("unit-missing", 1, 8)]),
        ("[A, 85,5 ft, VB-1]", [("comma", 1, 8)]),
        ("[A, 60 ft, VB-1, 85,5 ft, VB-2]", [("comma", 1, 21)]),
        ("[A, '85,5 ft', VB-1]", [("comma", 1, 8)]),
        ("[A, ~, VB-1]", [("length-missing", 1, 8)]),
        ("[A, null, VB-1]", [("length-missing", 1, 8)]),
        ("[A, [85 ft], VB-1]", [("wrong-type", 1, 8)]),
        ("[A, 85 ft, [VB-1]]", [("wrong-type", 1, 15)]),
        ("[[A, 85 ft, VB-1]]", [("run", 1, 4)]),
        ("[A, 0 ft, VB 1]", [("name", 1, 14), ("out-of-range", 1, 8)]),
        (
            "[A, 85 ft, VB-1, -60 ft, VB-2, 1e3 ft, VB-3]",
            [("out-of-range", 1, 21), ("value", 1, 35)],
        ),
    ],
)
def test_no_run(value: str, found: list[Found]) -> None:
    stops, problems = read(RUN, value)
    assert stops is None
    assert sorted(problems) == sorted(found)


@pytest.mark.parametrize(
    ("value", "terminals"),
    [
        ("[C, 1 to 3, MV, SEN, SEN]", ("C", "1", "2", "3", "MV", "SEN", "SEN")),
        ("[1, 2, C, C]", ("1", "2", "C", "C")),
        ("[MV+, MV-, P2]", ("MV+", "MV-", "P2")),
        ("[5 to 6, 1 to 2]", ("5", "6", "1", "2")),
    ],
)
def test_terminals(value: str, terminals: tuple[str, ...]) -> None:
    assert read(TERMINALS, value) == (terminals, [])


@pytest.mark.parametrize(
    ("value", "found"),
    [
        ("", [("wrong-type", 1, 1)]),
        ("C", [("wrong-type", 1, 4)]),
        ("[]", [("wrong-type", 1, 4)]),
        ("{C: 1}", [("wrong-type", 1, 4)]),
        ("[C, mv]", [("terminal", 1, 8)]),
        ("[C, 1-8]", [("terminal", 1, 8)]),
        ("[C, 8 to 1]", [("terminal", 1, 8)]),
        ("[C, 0 to 8]", [("terminal", 1, 8)]),
        ("[C, 08]", [("terminal", 1, 8)]),
        ("[C, 1 to 8, 5]", [("terminal", 1, 16)]),
        ("[C, '']", [("terminal", 1, 8)]),
        ("[C, {a: b}]", [("terminal", 1, 8)]),
        ("[C, [1, 2]]", [("terminal", 1, 8)]),
        ("[C, \u0663]", [("terminal", 1, 8)]),
        ("[\u0421, 1]", [("terminal", 1, 5)]),
        ("[C, 1 to 9999]", [("terminal", 1, 8)]),
        ("[c, 1, m v]", [("terminal", 1, 5), ("terminal", 1, 11)]),
    ],
    ids=ascii,
)
def test_no_terminals(value: str, found: list[Found]) -> None:
    assert read(TERMINALS, value) == (None, found)


@pytest.mark.parametrize(
    ("value", "words"),
    [
        ("A-K1 white", ("A-K1 white", "", "")),
        ("A-K1 blue from VB-3", ("A-K1 blue", "VB-3", "")),
        ("A-K1 blue to VB-5", ("A-K1 blue", "", "VB-5")),
        ("A-S1 red A1 from A to VB-5", ("A-S1 red A1", "A", "VB-5")),
        ("A-K1 blue  from  VB-3  to  VB-5", ("A-K1 blue", "VB-3", "VB-5")),
        ("A-S1 red to-3", ("A-S1 red to-3", "", "")),  # a flag
    ],
)
def test_conductors_and_their_stretches(value: str, words: tuple[str, str, str]) -> None:
    name, begins, ends = words
    place = Span("job.yaml", 1, 4, len(value))
    assert read(CONDUCTOR_WORDS, value) == (
        ConductorWords(span=place, value=name, begins=begins, ends=ends),
        [],
    )


@pytest.mark.parametrize(
    ("value", "found"),
    [
        ("A-K1 blue from", [("value", 1, 4)]),
        ("A-K1 blue to", [("value", 1, 4)]),
        ("A-K1 blue from VB-1 to", [("value", 1, 4)]),
        ("A-K1 blue to VB-5 from VB-1", [("value", 1, 4)]),
        ("A-K1 blue from VB-1 from VB-2", [("value", 1, 4)]),
        ("A-K1 blue from VB-1 to VB-1", [("value", 1, 4)]),
        ("[A-K1 blue]", [("wrong-type", 1, 4)]),
        ("''", [("wrong-type", 1, 4)]),
        ("", [("wrong-type", 1, 1)]),
    ],
)
def test_no_conductor(value: str, found: list[Found]) -> None:
    assert read(CONDUCTOR_WORDS, value) == (None, found)


def test_where_only_a_whole_conductor_can_stand() -> None:
    place = Span("job.yaml", 1, 4, 10)
    assert read(WHOLE_CONDUCTOR, "A-K1 white") == (
        ConductorWords(span=place, value="A-K1 white"),
        [],
    )
    assert read(WHOLE_CONDUCTOR, "A-K1 white from VB-1") == (None, [("value", 1, 4)])
