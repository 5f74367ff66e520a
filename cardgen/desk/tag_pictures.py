"""Draw the very tags that a print would have, from the same cards and the same layout."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
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


@dataclass(slots=True)
class TagPictures:
    """The tags of one job as they stand, on one stock, in one choice of languages.

    Attributes:
        pages: by kind and id, each card by itself; of a tag that goes on, two or more.
        misfits: by kind and id, what has no room there, and by how much.
    """

    pages: dict[tuple[CardKind, str], list[Page]] = field(default_factory=dict)
    misfits: dict[tuple[CardKind, str], Problem] = field(default_factory=dict)

    def pictures(self, kind: CardKind, id_: str) -> list[TagPicture]:
        return [_picture(page, f"{kind} {id_}") for page in self.pages.get((kind, id_), ())]


def tag_pictures(usual: Printable, request: PrintRequest) -> TagPictures:
    """All valve tags and box tags, in the letters that they have in a print of the whole job.

    Raises:
        UserError: if there is no such language.
    """
    words, layouts = words_and_layouts(request.languages)
    printable = replace(usual, words=words)
    press = press_of(printable, layouts, request)
    cards, made = JobCards(printable), TagPictures()
    for kind in KINDS_SHOWN:
        found, stock = cards.of(kind), press.stock(kind)
        pages, problems = press.set(kind, found)
        for id_, page in _alone(pages, stock):
            made.pages.setdefault((kind, id_), []).append(page)
        if problems:
            made.misfits |= dict(_misfits(found, made, layouts, stock))
    return made


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


def _misfits(
    cards: Sequence[Card], made: TagPictures, layouts: Layouts, stock: Stock
) -> Iterator[tuple[tuple[CardKind, str], Problem]]:
    """Each by itself; a print tells those that are alike once."""
    for card in cards:
        if (card.kind, card.id) not in made.pages:
            for problem in without_room([card], layouts=layouts, stock=stock):
                yield (card.kind, card.id), problem


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
