"""Jobs to test with, and what is found in them: codes with their places."""

from __future__ import annotations

import re
from pathlib import Path

from cardgen.examine import Examined, examine_text
from cardgen.job import load_text
from cardgen.job.job_parts import Job
from cardgen.problems import Problem, in_order

Found = tuple[str, int, int]

SAMPLE_JOBS = Path(__file__).parents[1] / "sample_jobs"
SAMPLES = ("heron", "larkspur", "quarry", "sandpiper")

# Words of the program that a foreman never asked for.
_NOT_FOR_PEOPLE = re.compile(
    r"\b(None|NoneType|str|int|float|bool|dict|tuple|mapping|sequence|scalar|node|string|boolean"
    r"|integer|object|exception|traceback|invalid|token|parse[rd]?|regex|schema)\b",
    re.IGNORECASE,
)


def sample(name: str) -> str:
    """The text of a sample job."""
    return (SAMPLE_JOBS / f"{name}.yaml").read_text(encoding="utf-8")


def edit(text: str, old: str, new: str) -> str:
    """The text with its one `old` replaced."""
    assert text.count(old) == 1, f"{old!r} occurs {text.count(old)} times"
    return text.replace(old, new)


def place_of(text: str, found: str) -> tuple[int, int]:
    """Line and column, from 1, of the one place where `found` stands."""
    assert text.count(found) == 1, f"{found!r} occurs {text.count(found)} times"
    before = text[: text.index(found)]
    return before.count("\n") + 1, len(before) - (before.rfind("\n") + 1) + 1


def well_said(problem: Problem) -> Problem:
    """The problem, if its words are fit for a person."""
    for text in (problem.sentence, problem.help, *(also.text for also in problem.also)):
        ours = re.sub("'[^']*'", "''", text)  # what is quoted is the file's own
        assert not _NOT_FOR_PEOPLE.search(ours), text
        assert not text.endswith("."), text
        assert "\n" not in text, text
        assert len(text) <= 400, text
    assert problem.sentence
    assert problem.help, f"no way out: {problem.sentence}"
    assert problem.span.line >= 1 and problem.span.column >= 1 and problem.span.length >= 1
    return problem


def loaded(text: str) -> tuple[Job | None, tuple[Problem, ...]]:
    """The job in a text, and what is wrong with it in the order of the file."""
    job, problems = load_text(text, "job.yaml")
    return job, in_order(well_said(problem) for problem in problems)


def problems_of(text: str) -> list[Found]:
    """Code, line and column of everything that loading a job finds."""
    return found_in(loaded(text)[1])


def found_in(problems: tuple[Problem, ...]) -> list[Found]:
    return [(p.code, p.span.line, p.span.column) for p in problems]


def examined(text: str) -> Examined:
    """Everything found out about a job, each problem in words fit for a person."""
    result = examine_text(text)
    for problem in result.problems:
        well_said(problem)
    return result
