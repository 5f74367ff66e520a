"""Stage 9: turn every published revision of a job into the pages of its record."""

from __future__ import annotations

from cardgen.memory.codec import TooOld, Unfit
from cardgen.record.changes import same
from cardgen.record.drawing_page import drawing_page
from cardgen.record.frame import Frame
from cardgen.record.history import History, from_json
from cardgen.record.site import HISTORY, SharedFolder, frame_of, site
from cardgen.record.words import PageWords

__all__ = [
    "HISTORY",
    "Frame",
    "History",
    "PageWords",
    "SharedFolder",
    "TooOld",
    "Unfit",
    "drawing_page",
    "frame_of",
    "from_json",
    "same",
    "site",
]
