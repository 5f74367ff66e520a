"""Stage 9: turn every published revision of a job into the pages of its record."""

from __future__ import annotations

from cardgen.record.codec import Unfit
from cardgen.record.gather import gather
from cardgen.record.history import from_json, merged, same
from cardgen.record.model import Revision
from cardgen.record.site import DRAWING, HISTORY, SharedFolder, drawing_page, site

__all__ = [
    "DRAWING",
    "HISTORY",
    "Revision",
    "SharedFolder",
    "Unfit",
    "drawing_page",
    "from_json",
    "gather",
    "merged",
    "same",
    "site",
]
