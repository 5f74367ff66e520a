"""Turn the pages of many documents into one packet: a cover, page x of y, an outline.

cover (knows on which page each begins) -> schedules -> drawing -> spares -> tests -> ... -> closing
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from itertools import accumulate

from cardgen import fonts
from cardgen.fonts import Weight
from cardgen.layout import Page
from cardgen.layout.setting import line
from cardgen.words import Words

NAME = "packet.pdf"
CAPITAL = 2.5  # mm; as the stamp
TOP = 7.2  # mm; base line from the edge of the paper, below what no printer reaches
SIDE = 12.0  # mm


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """One document of the packet."""

    title: str
    pages: tuple[Page, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Packet:
    """The numbered pages, and for the outline on which page (from 0) each part begins."""

    pages: tuple[Page, ...]
    outline: tuple[tuple[str, int], ...]


def bind(
    parts: Sequence[Part],
    cover: Callable[[Sequence[tuple[str, int]]], tuple[Page, ...]],
    words: Words,
) -> Packet:
    """The parts behind a cover, which may take several pages itself."""
    before = 1
    made = cover(_begins(parts, before))
    while len(made) > before:  # a longer list of documents moves all of them
        before = len(made)
        made = cover(_begins(parts, before))
    pages = (*made, *(page for part in parts for page in part.pages))
    outline = (
        (words("files.cover").printed, 0),
        *((title, page - 1) for title, page in _begins(parts, len(made))),
    )
    numbered = tuple(
        _numbered(page, words("sheet.packet page", number=n, count=len(pages)).printed)
        for n, page in enumerate(pages, 1)
    )
    return Packet(pages=numbered, outline=outline)


def _begins(parts: Sequence[Part], before: int) -> list[tuple[str, int]]:
    """On which page, from 1, each part begins."""
    starts = accumulate((len(part.pages) for part in parts), initial=before + 1)
    return [(part.title, page) for part, page in zip(parts, starts, strict=False)]


def _numbered(page: Page, words: str) -> Page:
    wide = fonts.width(words, Weight.BOLD) * CAPITAL
    x = page.width - SIDE - wide
    mark = line(words, Weight.BOLD, x_mm=x, y_mm=TOP, capital_mm=CAPITAL)
    return replace(page, items=(*page.items, mark))
