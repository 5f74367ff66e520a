"""Stage 9: turn every published revision of a job into the pages of its record."""

from __future__ import annotations

from cardgen.record.drawing_page import drawing_page
from cardgen.record.page_frame import PageFrame
from cardgen.record.page_words import PageWords
from cardgen.record.site import HISTORY, SharedFolder, frame_of, site

__all__ = [
    "HISTORY",
    "PageFrame",
    "PageWords",
    "SharedFolder",
    "drawing_page",
    "frame_of",
    "site",
]
