"""Stage 9: turn every published revision of a job into the pages of its record."""

from __future__ import annotations

from cardgen.memory.codec import Unfit
from cardgen.record.drawing_page import drawing_page
from cardgen.record.frame import Frame
from cardgen.record.gather import gather
from cardgen.record.history import History, from_json, same
from cardgen.record.model import Revision
from cardgen.record.site import HISTORY, SharedFolder, frame_of, site
from cardgen.record.words import PageWords

__all__ = [
    "HISTORY",
    "Frame",
    "History",
    "PageWords",
    "Revision",
    "SharedFolder",
    "Unfit",
    "drawing_page",
    "frame_of",
    "from_json",
    "gather",
    "same",
    "site",
]
