"""Show problems to a person, with the line and a mark under the very value, or as JSON."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from cardgen.cli.folding import folded
from cardgen.english_lists import english_list
from cardgen.problems import Problem, Span, Verdict


def as_text(problems: Sequence[Problem], source: str) -> str:
    """Each problem with its line of the file, what belongs to it, and the way out.

    What is the same for several things is told once, with the list of them.
    """
    lines = source.splitlines()
    blocks = []
    for each in folded(problems):
        problem = each.problem
        block = [_headline(problem), *_excerpt(problem.span, lines)]
        for also in problem.also:
            block += [f"{also.span}: {also.text}", *_excerpt(also.span, lines)]
        if each.others:
            block.append(f"the same for {each.others}")
        if problem.help:
            block.append(f"way out: {problem.help}")
        blocks.append("\n".join(block))
    return "\n\n".join(blocks)


def as_short(problems: Iterable[Problem]) -> str:
    """One line for each."""
    return "\n".join(_headline(problem) for problem in problems)


def as_json(problems: Sequence[Problem]) -> str:
    """The same list for other programs."""
    return json.dumps({"problems": [_as_dict(p) for p in problems]}, indent=2, ensure_ascii=False)


def summary(problems: Sequence[Problem]) -> str:
    """`2 errors, 1 warning and 3 notes (2 known)`."""
    told = [problem for problem in problems if not problem.known]
    counts = [(verdict, sum(p.verdict is verdict for p in told)) for verdict in Verdict]
    parts = [f"{n} {verdict}{'s' if n != 1 else ''}" for verdict, n in counts if n]
    known = len(problems) - len(told)
    return (english_list(parts) or "nothing to report") + (f" ({known} known)" if known else "")


def _headline(problem: Problem) -> str:
    return f"{problem.span}: {problem.verdict}: {problem.sentence} [{problem.code}]"


def _excerpt(span: Span, lines: Sequence[str]) -> list[str]:
    if not 0 < span.line <= len(lines):
        return []
    line = lines[span.line - 1].replace("\t", " ")
    if not line.isprintable() or len(line) > 200:
        return []  # a binary file or a endless line would only fill the screen
    length = max(1, min(span.length, len(line) - span.column + 1))
    return [f"{span.line:5} | {line}", f"      | {' ' * (span.column - 1)}{'^' * length}"]


def _as_dict(problem: Problem) -> Mapping[str, Any]:
    return {
        "code": problem.code,
        "verdict": str(problem.verdict),
        **_place(problem.span),
        "sentence": problem.sentence,
        "help": problem.help,
        "known": problem.known,
        "also": [{**_place(also.span), "text": also.text} for also in problem.also],
    }


def _place(span: Span) -> dict[str, Any]:
    return {
        "file": span.file,
        "line": span.line,
        "column": span.column,
        "length": span.length,
    }
