"""Say which notes an entry of `known` means, and what an entry must say to mean one note."""

from __future__ import annotations

from collections.abc import Sequence

from cardgen.problems import Problem, Verdict

_LONGEST_NAME = 24  # letters of a name that a person would write; our choice


def names_of(problem: Problem) -> set[str]:
    """The names by which a note can be said: those of one word."""
    return {name for name in problem.names if _is_word(name)}


def meant_by(said: str, problems: Sequence[Problem]) -> tuple[list[Problem], list[Problem]]:
    """Those of its code, and those of them that are meant; without a name, all of the code are."""
    code, _, owner = said.partition(" ")
    of_code = [problem for problem in problems if problem.code == code]
    return of_code, [problem for problem in of_code if not owner or owner in problem.names]


def entry_for(note: Problem, problems: Sequence[Problem], owner: str = "") -> str:
    """`several-commons A`, which means this note and no other; empty if nothing says that.

    Args:
        owner: whose the note is, which is taken if it will do.
    """
    if note.verdict is not Verdict.NOTE:
        return ""
    names = sorted(names_of(note), key=lambda name: (name != owner, name))
    entries = (*(f"{note.code} {name}" for name in names), note.code)
    return next((each for each in entries if meant_by(each, problems)[1] == [note]), "")


def _is_word(name: str) -> bool:
    return bool(name) and " " not in name and len(name) <= _LONGEST_NAME
