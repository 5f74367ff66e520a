"""The wiring drawing: a checked job as a tree in words, then as pages of items."""

from cardgen.drawing.model import HomeRun
from cardgen.drawing.picture import Sheet, picture, sheets_needed
from cardgen.drawing.tree import home_runs
from cardgen.drawing.words import outline

__all__ = ["HomeRun", "Sheet", "home_runs", "outline", "picture", "sheets_needed"]
