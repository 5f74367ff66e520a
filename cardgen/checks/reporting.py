"""Where joints are written."""

from __future__ import annotations

from cardgen.facts import Facts
from cardgen.problems import Span


def place_of_joints(facts: Facts, at: str) -> Span | None:
    """Where the joints of a place are written, if they are."""
    written = facts.job.joints.get(at)
    return written.span if written else None
