"""Say whose a thing is, in the words of a sentence, and where joints are written."""

from __future__ import annotations

from cardgen.facts import Facts
from cardgen.problems import Span
from cardgen.wiring.uses import Role, Use


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
