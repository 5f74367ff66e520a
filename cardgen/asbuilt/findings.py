"""Gather what the check found and the owner must know: by kind, with the things that have it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from cardgen.asbuilt.model.as_built import OwnerFinding
from cardgen.problems import Problem, Verdict


def findings(problems: Iterable[Problem]) -> Iterator[OwnerFinding]:
    """Kind by kind in the order of the file; what a job file alone has wrong is left out."""
    things: dict[tuple[str, bool], list[str]] = {}
    for problem in problems:
        if problem.things:
            is_open = problem.verdict is Verdict.WARNING
            things.setdefault((problem.code, is_open), []).extend(problem.things)
    for (code, is_open), names in things.items():
        yield OwnerFinding(code=code, things=tuple(dict.fromkeys(names)), is_open=is_open)
