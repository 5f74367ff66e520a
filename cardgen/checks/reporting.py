"""Say what a conductor serves, in the words of a sentence, and where joints are written."""

from __future__ import annotations

from cardgen.facts import Facts
from cardgen.owners import terminal_of
from cardgen.problems import Span
from cardgen.wiring.uses import Role, Use


def use_words(use: Use) -> str:
    """What a conductor serves, as a sentence names it."""
    if use.role is Role.COMMON:
        return f"the common of {use.of}"
    if use.role is Role.PATH:
        return f"path {use.side} of {use.of}"
    if use.role is Role.TERMINAL:
        return terminal_of(use.of, use.side)
    return use.of


def place_of_joints(facts: Facts, at: str) -> Span | None:
    """Where the joints of a place are written, if they are."""
    written = facts.job.joints.get(at)
    return written.span if written else None
