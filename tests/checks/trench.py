"""Jobs as short as they can be, with each expected problem as a comment on its line."""

from __future__ import annotations

import re
from textwrap import dedent

from cardgen.problems import Problem
from tests.checks.bases import completed
from tests.jobs import examined

_MARK = re.compile(r" # <- (.*)$")


def assert_problems(snippet: str, base: str = "plain") -> tuple[Problem, ...]:
    """Exactly the problems that `# <- verdict code @ marked text` announces, and no other."""
    text = completed(dedent(snippet).lstrip("\n"), base)
    problems = examined(text).problems
    assert found_in(text, problems) == sorted(wanted_in(text))
    return problems


def wanted_in(text: str) -> list[str]:
    """Line, verdict, code and marked text of each announced problem."""
    wanted = []
    for number, line in enumerate(text.splitlines(), 1):
        match = _MARK.search(line)
        if match:
            wanted += [f"{number:4} {one.strip()}" for one in match[1].split(" & ")]
    return wanted


def found_in(text: str, problems: tuple[Problem, ...]) -> list[str]:
    """The same of each problem that was found."""
    return sorted(f"{p.span.line:4} {p.verdict} {p.code} @ {marked(text, p)}" for p in problems)


def marked(text: str, problem: Problem) -> str:
    """What the place of a problem underlines."""
    line = text.splitlines()[problem.span.line - 1]
    start = problem.span.column - 1
    return _MARK.sub("", line)[start : start + problem.span.length]
