"""Stage 9: turn every published revision of a job into the pages of its record."""

from __future__ import annotations

from cardgen.record.drawing_page import drawing_page
from cardgen.record.frame import Frame
from cardgen.record.site import HISTORY, SharedFolder, frame_of, site
from cardgen.record.words import PageWords

__all__ = [
    "HISTORY",
    "Frame",
    "PageWords",
    "SharedFolder",
    "drawing_page",
    "frame_of",
    "site",
]
