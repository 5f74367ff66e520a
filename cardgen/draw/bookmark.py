"""What a reader's list of contents shows: titles of pages."""

from __future__ import annotations

from cardgen.light_dataclass import dataclass


@dataclass(frozen=True, slots=True)
class Bookmark:
    """An entry of the outline: a page, counted from 0; level 1 is below the level 0 before it."""

    title: str
    page: int
    level: int = 0
