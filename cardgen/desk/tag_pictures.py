"""Draw the very tags that a print would have, from the same cards and the same layout."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from math import inf

from cardgen.cards import Card, CardKind, Printable
from cardgen.draw.svg import svg
from cardgen.layout import Layouts, Page, Stock, load_layouts
from cardgen.layout.items import Group, TextLine
from cardgen.layout.pages import SizedStock, lay_out, sized_for, without_room
from cardgen.output.job_cards import JobCards
from cardgen.output.print_request import PrintRequest
from cardgen.output.print_settings import PrintSettings
from cardgen.problems import Problem, UserError
from cardgen.words import Words, load_words

KINDS_SHOWN = (CardKind.VALVE_TAG, CardKind.BOX_TAG)
# Cards of one kind whose letters are worked out anew with each word typed: 2.5 s for 2,000 of them.
# Beyond it a tag is shown in letters of its own until the word is in the file; our choice.
MOST_WHILE_TYPED = 400


@dataclass(frozen=True, slots=True, kw_only=True)
class TagPicture:
    """One side of one card, true to scale.

    Attributes:
        says: its lines, for those who do not see it.
    """

    svg: str
    says: str
    width_mm: float
    height_mm: float


class TagPictures:
    """The tags of one job as they stand, on one stock, in one choice of languages.

    `is_draft`: not in the file yet, and different with the next key.
    """

    def __init__(self, usual: Printable, request: PrintRequest, *, is_draft: bool = False) -> None:
        """Raises:
        UserError: if there is no such language.
        """
        words, self._layouts = words_and_layouts(request.languages)
        printable = replace(usual, words=words)
        self._press = PrintSettings.of(printable, self._layouts, request)
        self._cards = JobCards(printable)
        self._sized: dict[CardKind, SizedStock] = {}
        self._most = MOST_WHILE_TYPED if is_draft else inf

    def pictures(self, kind: CardKind, id_: str) -> list[TagPicture]:
        """All sides of one tag, in the letters of a print of all: of one that goes on, several."""
        all_cards, cards = self._cards.of(kind), self._named(kind, id_)
        layouts, stock = self._layouts, self._press.stock(kind)
        if len(all_cards) > self._most:
            sized = sized_for(cards, layouts, stock)
        else:
            sized = self._sized.get(kind) or sized_for(all_cards, layouts, stock)
            self._sized[kind] = sized
        pages, _ = lay_out(
            cards, layouts=layouts, stock=stock, stamp=self._press.stamp, alike=sized
        )
        return [_picture(page, f"{kind} {id_}") for page in _alone(pages, stock)]

    def misfit(self, kind: CardKind, id_: str) -> Problem | None:
        """What has no room on one tag, and by how much."""
        return next(iter(self._without_room(kind, self._named(kind, id_))), None)

    def misfits(self) -> Iterator[Problem]:
        """Of all tags, each told by itself; a print tells those that are alike once."""
        for kind in KINDS_SHOWN:
            yield from self._without_room(kind, self._cards.of(kind))

    def _named(self, kind: CardKind, id_: str) -> list[Card]:
        return [card for card in self._cards.of(kind) if card.id == id_]

    def _without_room(self, kind: CardKind, cards: Sequence[Card]) -> tuple[Problem, ...]:
        stock = self._press.stock(kind)
        return without_room(cards, layouts=self._layouts, stock=stock, together=False)


@lru_cache(maxsize=4)
def words_and_layouts(languages: tuple[str, ...]) -> tuple[Words, Layouts]:
    """What is shipped, in these languages, read once.

    Raises:
        UserError: if there is no such language.
    """
    words, _ = load_words(languages)
    if words is None:
        raise UserError(f"there are no words for {', '.join(languages)}")
    layouts, _ = load_layouts(None, words, KINDS_SHOWN)
    return words, layouts


def _alone(pages: Sequence[Page], stock: Stock) -> Iterator[Page]:
    """Every card as a page of its own size."""
    for page in pages:
        if stock.is_single:
            yield page
            continue
        for placed in page.placed:
            yield Page(width=stock.card_width, height=stock.card_height, own=placed.items)


def _picture(page: Page, title: str) -> TagPicture:
    lines = "\n".join(item.text for item in page.items if isinstance(item, TextLine))
    whole = Group(says=title, level=1, items=page.items)
    return TagPicture(
        svg=svg(page, [whole], title=title),
        says=lines,
        width_mm=page.width,
        height_mm=page.height,
    )
