"""Turn the pages of many documents into one packet: a cover, page x of y, an outline.

owner's part: cover (knows on which page each begins) -> schedules -> spares -> closing
annexes:      of each controller -> of the whole job
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from cardgen import fonts
from cardgen.draw import Bookmark
from cardgen.fonts import Weight
from cardgen.layout import Page
from cardgen.layout.setting import line
from cardgen.light_dataclass import dataclass, replace
from cardgen.words import Said, Words, apart, printed

NAME = "packet.pdf"
CAPITAL = 2.5  # mm; as the stamp
TOP = 7.2  # mm; base line from the edge of the paper, below what no printer reaches
SIDE = 12.0  # mm


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """One document of the packet."""

    title: Said
    pages: tuple[Page, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Annex:
    """Documents that one can take along by themselves.

    Attributes:
        title: stands on each of its pages.
        controller: whose it is; empty for the whole job.
    """

    title: Said
    controller: str
    parts: tuple[Part, ...]

    @property
    def pages(self) -> tuple[Page, ...]:
        return tuple(page for part in self.parts for page in part.pages)


@dataclass(frozen=True, slots=True, kw_only=True)
class Packet:
    """The numbered pages, and the outline: annexes have their documents one level below.

    Attributes:
        owners: how many pages are the owner's part, with the cover.
        documents: how many are in it, with the cover.
    """

    pages: tuple[Page, ...]
    outline: tuple[Bookmark, ...]
    owners: int
    documents: int


# From the pages, counted from 1, on which the owner's documents and the annexes begin.
CoverMaker = Callable[[Sequence[int], Sequence[int]], tuple[Page, ...]]


def bind(
    parts: Sequence[Part], annexes: Sequence[Annex], cover: CoverMaker, words: Words
) -> Packet:
    """The owner's parts and the annexes behind a cover, which may take several pages itself."""
    before, made = 0, cover(*_begins(parts, annexes, 1))
    while len(made) > before:  # a longer list of documents moves all of them
        before = len(made)
        made = cover(*_begins(parts, annexes, before))
    owners = (*made, *(page for part in parts for page in part.pages))
    marked: list[tuple[Said, Page]] = [("", page) for page in owners]
    marked += [(annex.title, page) for annex in annexes for page in annex.pages]
    pages = tuple(
        _numbered(page, _mark(words, title, number, len(marked)))
        for number, (title, page) in enumerate(marked, 1)
    )
    outline = (Bookmark(words("files.cover").printed, 0), *_outline(parts, annexes, len(made)))
    documents = len(outline) - len(annexes)
    return Packet(pages=pages, outline=outline, owners=len(owners), documents=documents)


def _begins(
    parts: Sequence[Part], annexes: Sequence[Annex], before: int
) -> tuple[list[int], list[int]]:
    """On which page, from 1, each part and each annex begins."""
    starts = _starts([*parts, *annexes], before + 1)
    return starts[: len(parts)], starts[len(parts) :]


def _starts(found: Sequence[Part | Annex], first: int) -> list[int]:
    return [first + sum(len(each.pages) for each in found[:n]) for n in range(len(found))]


def _outline(parts: Sequence[Part], annexes: Sequence[Annex], before: int) -> list[Bookmark]:
    begins, annex_begins = _begins(parts, annexes, before)
    found = [
        Bookmark(printed(part.title), page - 1) for part, page in zip(parts, begins, strict=True)
    ]
    for annex, page in zip(annexes, annex_begins, strict=True):
        inside = zip(annex.parts, _starts(annex.parts, page), strict=True)
        found.append(Bookmark(printed(annex.title), page - 1))
        found += [Bookmark(printed(part.title), at - 1, level=1) for part, at in inside]
    return found


def _mark(words: Words, title: Said, number: int, count: int) -> str:
    return apart((title, words("sheet.packet page", number=number, count=count)))


def _numbered(page: Page, words: str) -> Page:
    wide = fonts.width(words, Weight.BOLD) * CAPITAL
    x = page.width - SIDE - wide
    mark = line(words, Weight.BOLD, x_mm=x, y_mm=TOP, capital_mm=CAPITAL)
    return replace(page, own=(*page.own, mark))
