"""Stage 8: turn pages of items into the bytes of a PDF, or (`draw.svg`) into SVG text."""

from cardgen.draw.pdf import Bookmark, pdf

__all__ = ["Bookmark", "pdf"]
