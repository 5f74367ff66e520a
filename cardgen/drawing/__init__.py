"""The wiring drawing: a checked job as a tree in words, then as pages of items."""

from cardgen.drawing.drawing_parts import HomeRun
from cardgen.drawing.picture import Sheet, picture, undrawable
from cardgen.drawing.plain_outline import outline
from cardgen.drawing.sheet_size import SCREEN
from cardgen.drawing.tree import home_runs

__all__ = ["SCREEN", "HomeRun", "Sheet", "home_runs", "outline", "picture", "undrawable"]
