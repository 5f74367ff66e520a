"""Make the problems of the checks, and say whose a thing is."""

from __future__ import annotations

from cardgen.facts import Facts
from cardgen.problems import Also, Place, Problem, Verdict


def problem(
    code: str,
    verdict: Verdict,
    place: Place,
    sentence: str,
    help_: str = "",
    also: tuple[Also, ...] = (),
) -> Problem:
    return Problem(
        code=code, verdict=verdict, place=place, sentence=sentence, help=help_, also=also
    )


def error(code: str, place: Place, sentence: str, help_: str = "", *also: Also) -> Problem:
    return problem(code, Verdict.ERROR, place, sentence, help_, also)


def warning(code: str, place: Place, sentence: str, help_: str = "", *also: Also) -> Problem:
    return problem(code, Verdict.WARNING, place, sentence, help_, also)


def note(code: str, place: Place, sentence: str, help_: str = "", *also: Also) -> Problem:
    return problem(code, Verdict.NOTE, place, sentence, help_, also)


def spoken(owner: str) -> str:
    """An owner as a sentence names it: `COM-A` is the common of A."""
    return f"the common of {owner[4:]}" if owner.startswith("COM-") else owner


def place_of_joints(facts: Facts, at: str) -> Place | None:
    """Where the joints of a place are written, if they are."""
    written = facts.job.joints.get(at)
    return written.place if written else None
