"""Draw the very tags that a print would have, from the same cards and the same layout."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from cardgen.cards import Card, CardKind, Printable
from cardgen.draw.svg import svg
from cardgen.layout import Layouts, Page, Stock, load_layouts
from cardgen.layout.items import Group, TextLine
from cardgen.layout.pages import without_room
from cardgen.output.job_cards import JobCards
from cardgen.output.print_request import PrintRequest
from cardgen.output.printing import press_of
from cardgen.problems import Problem, UserError
from cardgen.words import Words, load_words

KINDS_SHOWN = (CardKind.VALVE_TAG, CardKind.BOX_TAG)
# Cards of one kind that are set for one picture, so that its letters are those of the print: 0.3 s
# for 118 of them. Beyond it one would wait for seconds after each key; our choice.
MOST_AT_ONCE = 400


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
    """The tags of one job as they stand, on one stock, in one choice of languages."""

    def __init__(self, usual: Printable, request: PrintRequest) -> None:
        """Raises:
        UserError: if there is no such language.
        """
        words, self._layouts = words_and_layouts(request.languages)
        printable = replace(usual, words=words)
        self._press = press_of(printable, self._layouts, request)
        self._cards = JobCards(printable)
        self._whole: dict[CardKind, Mapping[str, list[Page]]] = {}

    def pictures(self, kind: CardKind, id_: str) -> list[TagPicture]:
        """All sides of one tag: of a tag that goes on, two or more."""
        return [_picture(page, f"{kind} {id_}") for page in self._pages(kind, id_)]

    def misfit(self, kind: CardKind, id_: str) -> Problem | None:
        """What has no room on one tag, and by how much."""
        cards = [card for card in self._cards.of(kind) if card.id == id_]
        if not cards or self._pages(kind, id_):
            return None
        return self._without_room(cards[0])

    def misfits(self) -> Iterator[Problem]:
        """Of all tags, each told by itself; a print tells those that are alike once."""
        for kind in KINDS_SHOWN:
            laid = self._laid(kind)
            for card in self._cards.of(kind):
                if card.id not in laid:
                    yield self._without_room(card)

    def _without_room(self, card: Card) -> Problem:
        stock = self._press.stock(card.kind)
        problem, *_ = without_room([card], layouts=self._layouts, stock=stock)
        return problem

    def _pages(self, kind: CardKind, id_: str) -> list[Page]:
        """In the letters of a print of all; of a very large job, in those of its own."""
        cards = self._cards.of(kind)
        if len(cards) <= MOST_AT_ONCE:
            return self._laid(kind).get(id_, [])
        return self._set([card for card in cards if card.id == id_]).get(id_, [])

    def _laid(self, kind: CardKind) -> Mapping[str, list[Page]]:
        if kind not in self._whole:
            self._whole[kind] = self._set(self._cards.of(kind))
        return self._whole[kind]

    def _set(self, cards: Sequence[Card]) -> dict[str, list[Page]]:
        found: dict[str, list[Page]] = {}
        if cards:
            kind = cards[0].kind
            for id_, page in _alone(self._press.set(kind, cards)[0], self._press.stock(kind)):
                found.setdefault(id_, []).append(page)
        return found


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


def _alone(pages: Sequence[Page], stock: Stock) -> Iterator[tuple[str, Page]]:
    """Every card as a page of its own size."""
    for page in pages:
        if stock.is_single:
            yield page.cards[0], page
            continue
        for id_, placed in zip(page.cards, page.placed, strict=True):
            yield id_, Page(width=stock.card_width, height=stock.card_height, own=placed.items)


def _picture(page: Page, title: str) -> TagPicture:
    lines = "\n".join(item.text for item in page.items if isinstance(item, TextLine))
    whole = Group(says=title, level=1, items=page.items)
    return TagPicture(
        svg=svg(page, [whole], title=title),
        says=lines,
        width_mm=page.width,
        height_mm=page.height,
    )
