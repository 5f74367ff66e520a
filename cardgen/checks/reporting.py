"""Make the problems of the checks, and say whose a thing is."""

from __future__ import annotations

from cardgen.facts import Facts
from cardgen.problems import Also, Problem, Span, Verdict
from cardgen.wiring.uses import Role, Use


def problem(
    code: str,
    verdict: Verdict,
    span: Span,
    sentence: str,
    help_: str = "",
    also: tuple[Also, ...] = (),
) -> Problem:
    return Problem(code=code, verdict=verdict, span=span, sentence=sentence, help=help_, also=also)


def error(code: str, span: Span, sentence: str, help_: str = "", *also: Also) -> Problem:
    return problem(code, Verdict.ERROR, span, sentence, help_, also)


def warning(code: str, span: Span, sentence: str, help_: str = "", *also: Also) -> Problem:
    return problem(code, Verdict.WARNING, span, sentence, help_, also)


def note(code: str, span: Span, sentence: str, help_: str = "", *also: Also) -> Problem:
    return problem(code, Verdict.NOTE, span, sentence, help_, also)


def spoken(owner: str) -> str:
    """An owner as a sentence names it: `COM-A` is the common of A."""
    return f"the common of {owner[4:]}" if owner.startswith("COM-") else owner


def use_words(use: Use) -> str:
    """What a conductor serves, as a sentence names it."""
    if use.role is Role.COMMON:
        return f"the common of {use.of}"
    if use.role is Role.PATH:
        return f"path {use.side} of {use.of}"
    if use.role is Role.TERMINAL:
        return f"terminal {use.side} of {use.of}"
    return use.of


def place_of_joints(facts: Facts, at: str) -> Span | None:
    """Where the joints of a place are written, if they are."""
    written = facts.job.joints.get(at)
    return written.span if written else None
