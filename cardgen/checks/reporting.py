"""Where joints are written."""

from __future__ import annotations

from cardgen.facts import Facts
from cardgen.problems import Span
from cardgen.wiring.wiring_parts import Joint


def place_of_joint(joint: Joint | None) -> Span | None:
    """Where a joint is written, if it is; what is made up as usual has no place of its own."""
    return joint.span if joint and joint.as_built else None


def place_of_joints(facts: Facts, at: str) -> Span | None:
    """Where the joints of a place are written, if they are."""
    written = facts.job.joints.get(at)
    return written.span if written else None
