"""The wiring drawing: a checked job as a tree in words, then as pages of items."""

from __future__ import annotations

from cardgen.cards import Printable
from cardgen.drawing.picture import Sheet, picture
from cardgen.drawing.tree import home_runs
from cardgen.drawing.words import outline
from cardgen.layout import Stamp
from cardgen.problems import Problem


def draw_wiring(
    job: Printable, *, paper: str, stamp: Stamp
) -> tuple[tuple[Sheet, ...], tuple[Problem, ...]]:
    """The sheets of the wiring drawing of a job."""
    return picture(home_runs(job), paper=paper, stamp=stamp)


__all__ = ["Sheet", "draw_wiring", "home_runs", "outline", "picture"]
