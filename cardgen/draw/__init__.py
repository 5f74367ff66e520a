"""Stage 8: turn pages of items into the bytes of a PDF (`draw.pdf`) or SVG text (`draw.svg`).

Each is imported where it is needed: the one takes longer to load than a small job to check.
"""

from cardgen.draw.bookmark import Bookmark

__all__ = ["Bookmark"]
