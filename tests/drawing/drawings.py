"""Wiring drawings of jobs, to test with."""

from __future__ import annotations

from functools import cache

from cardgen.drawing import HomeRun, Sheet, home_runs, picture
from cardgen.layout import Stamp
from cardgen.problems import Problem
from tests.cards.printables import printable
from tests.jobs import sample

STAMP = Stamp(job_code="TEST-1", revision="rev 1, 2026-03-14", site="Test Court")


def homes_of(text: str) -> tuple[HomeRun, ...]:
    """The home runs of a job without errors."""
    return home_runs(printable(text))


@cache
def of_sample(name: str) -> tuple[HomeRun, ...]:
    return homes_of(sample(name))


def drawn(
    homes: tuple[HomeRun, ...], paper: str = "letter"
) -> tuple[tuple[Sheet, ...], tuple[Problem, ...]]:
    return picture(homes, paper, STAMP)


@cache
def sheets_of(name: str, paper: str = "letter") -> tuple[Sheet, ...]:
    """The sheets of a sample job."""
    sheets, problems = drawn(of_sample(name), paper)
    assert not problems
    return sheets
