"""Stage 8: turn pages of items into the bytes of a PDF, or into SVG text."""

from cardgen.draw.pdf import Bookmark, pdf
from cardgen.draw.svg import svg

__all__ = ["Bookmark", "pdf", "svg"]
