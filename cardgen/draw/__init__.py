"""Stage 8: turn pages of items into the bytes of a PDF."""

from cardgen.draw.pdf import pdf

__all__ = ["pdf"]
