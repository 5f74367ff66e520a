"""Fold findings that say the same of several things into one, with the list of the others."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from cardgen.alike_problems import Alike, told_once
from cardgen.english_lists import english_list
from cardgen.problems import Problem


@dataclass(frozen=True, slots=True)
class Folded:
    """A finding, and what it holds of as well: `A2 to A16 (lines 40 to 54)`; else empty."""

    problem: Problem
    others: str = ""


def folded(problems: Sequence[Problem]) -> tuple[Folded, ...]:
    """In the order of the first of each."""
    return tuple(
        Folded(problem, _others(problems, others) if others else "")
        for problem, others in told_once(problems)
    )


def _others(problems: Sequence[Problem], others: Sequence[Alike]) -> str:
    names = english_list(each.name for each in others)
    lines = list(dict.fromkeys(str(problems[each.index].span.line) for each in others))
    return f"{names} ({'line' if len(lines) == 1 else 'lines'} {english_list(lines)})"
