"""Put cards on the sheets of a stock: each card set once, then placed, with all marks around.

```
card + face -> items relative to the card -> moved to its position -> page
```
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from functools import cached_property, lru_cache
from typing import NamedTuple, Self

from cardgen import fonts
from cardgen.asbuilt import ConductorMark
from cardgen.cards.card import Card, CardKind, Code, PrintedValue, Splice, Table, WayStop, Wire
from cardgen.faults.paper_faults import LETTER_NOT_IN_FONT, NO_FACE
from cardgen.fonts import Weight
from cardgen.layout.furniture import Stamp, cut_marks, fold_marks, footer, hole
from cardgen.layout.geometry import Mm
from cardgen.layout.items import Item, Page, PlacedItems, all_moved
from cardgen.layout.layout_loader import Layouts
from cardgen.layout.misfits import NoRoom, problems_of
from cardgen.layout.pieces import Misfit
from cardgen.layout.scales import FaceSetter
from cardgen.layout.setting import PrinterHead
from cardgen.layout.snap import on_the_dots
from cardgen.layout.stock import Stock
from cardgen.layout.widest_digits import WidestDigits
from cardgen.light_dataclass import dataclass, replace
from cardgen.problems import Problem


@dataclass(frozen=True, slots=True, kw_only=True)
class _Set:
    """A card, or one part of it, with its items relative to its top left corner."""

    id: str
    items: tuple[Item, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Planned:
    """A card that has room, to be set when its page is asked for.

    Attributes:
        made: its parts, where it takes several: only that shows whether their numbers have room.
    """

    card: Card
    setter: FaceSetter
    made: Sequence[_Set] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheets:
    """Pages that are set as they are asked for, once: those of a large job are never there at once.

    Attributes:
        cards: the ids of all that stands on them, in order.
    """

    count: int
    cards: tuple[str, ...]
    pages: Iterable[Page]

    @classmethod
    def of(cls, pages: Sequence[Page]) -> Self:
        """Those that are there already."""
        ids = tuple(card for page in pages for card in page.cards)
        return cls(count=len(pages), cards=ids, pages=pages)


class SizedStock(NamedTuple):
    """A stock, turned or not, with the letters that suit all cards of a print."""

    stock: Stock
    setters: Mapping[CardKind, FaceSetter]


def lay_out(
    cards: Sequence[Card],
    *,
    layouts: Layouts,
    stock: Stock,
    stamp: Stamp,
    start: int = 1,
    alike: Sequence[Card] | SizedStock | None = None,
) -> tuple[tuple[Page, ...], tuple[Problem, ...]]:
    """The pages of `sheets_for` all at once."""
    sheets, problems = sheets_for(
        cards, layouts=layouts, stock=stock, stamp=stamp, start=start, alike=alike, exact=True
    )
    return tuple(sheets.pages), problems


def sheets_for(
    cards: Sequence[Card],
    *,
    layouts: Layouts,
    stock: Stock,
    stamp: Stamp,
    start: int = 1,
    alike: Sequence[Card] | SizedStock | None = None,
    exact: bool = False,
) -> tuple[Sheets, tuple[Problem, ...]]:
    """The pages for cards of any kinds that the stock has faces for; what has no room is left out.

    `start` is the first free position of a part-used sheet, counted from 1, row by row.  Letters
    are as large as all cards of `alike` allow, of which these are some; it may be what was worked
    out of those before.

    Raises:
        NarrowerDigits: here or while pages are set, unless it is `exact`; then it is to be.
    """
    widest = None if exact else WidestDigits()
    if not isinstance(alike, SizedStock):
        alike = sized_for(alike or cards, layouts, stock, widest)
    stock, setters = alike
    planned: list[_Planned] = []
    without_room, elsewhere = list[NoRoom](), _OtherStocks(layouts, stock)
    for card in cards:
        try:
            planned.append(_planned(card, _setter_for(card, setters, stock), stock, stamp))
        except Misfit as misfit:
            others = elsewhere.fitting(card, elsewhere.widest.of(card))
            without_room.append(NoRoom(card=card, misfit=misfit, others=others))
    made = (each for plan in planned for each in plan.made or _set_all(plan, stock, stamp))
    ids = tuple(plan.card.id for plan in planned for _ in range(len(plan.made) or 1))
    problems = tuple(problems_of(without_room, stock.name, layouts.read_from))
    return _sheets(ids, made, stock, stamp, start), problems


def without_room(
    cards: Iterable[Card],
    *,
    layouts: Layouts,
    stock: Stock,
    together: bool = True,
    finish: Callable[[Card], Card] | None = None,
) -> tuple[Problem, ...]:
    """What keeps any of the cards from being printed on that stock; nothing is set for it.

    `together`: what is wrong with many in the same way is told once, at the first of them.
    `finish` is done to each card before it is measured, of those alike to one; see `WidestDigits`.
    """
    found, elsewhere = list[NoRoom](), _OtherStocks(layouts, stock, finish)
    setters = _setters((), layouts, stock)
    fitting: set[int] = set()  # of what stands for many, that which has room
    for card in cards:
        widest = elsewhere.widest.of(card)
        if id(widest) in fitting:
            continue
        card = finish(card) if finish else card  # noqa: PLW2901
        try:
            if _setter_for(card, setters, stock).measure(card, widest):
                fitting.add(id(widest))
        except Misfit as misfit:
            others = elsewhere.fitting(card, widest)
            found.append(NoRoom(card=card, misfit=misfit, others=others))
    groups = [found] if together else [[each] for each in found]
    return tuple(p for group in groups for p in problems_of(group, stock.name, layouts.read_from))


def sized_for(
    cards: Sequence[Card], layouts: Layouts, stock: Stock, widest: WidestDigits | None = None
) -> SizedStock:
    """A sheet that may be turned is, where that takes fewer of them, or larger letters do."""
    ways = [stock, *(layouts.stocks[name] for name in (stock.turned,) if name)]
    made = [SizedStock(way, _setters(cards, layouts, way, widest)) for way in ways]
    if len(made) == 1:
        return made[0]
    return min(made, key=lambda way: [setter.cost() for setter in way.setters.values()])


def _setters(
    cards: Iterable[Card], layouts: Layouts, stock: Stock, widest: WidestDigits | None = None
) -> Mapping[CardKind, FaceSetter]:
    """One for each kind of card that the stock has a face for."""
    by_kind: dict[CardKind, list[Card]] = {kind: [] for kind in CardKind}
    for card in cards:
        by_kind[card.kind].append(card)
    faces = {kind: layouts.face(kind, stock.format) for kind in by_kind}
    press = PrinterHead(dot=stock.dot, colored=stock.colored)
    return {
        kind: FaceSetter(face, press, by_kind[kind], widest) for kind, face in faces.items() if face
    }


def _setter_for(card: Card, setters: Mapping[CardKind, FaceSetter], stock: Stock) -> FaceSetter:
    """Raises:
    Misfit: if no face or no font has what the card needs.
    """
    if card.kind not in setters:
        raise Misfit(NO_FACE, card.id, stock=stock.name)
    _refuse_strange_letters(card)
    return setters[card.kind]


def _planned(card: Card, setter: FaceSetter, stock: Stock, stamp: Stamp) -> _Planned:
    """Raises:
    Misfit: if it cannot be printed on that stock.
    """
    plan = _Planned(card=card, setter=setter)
    several = setter.card_count(card) > 1
    return replace(plan, made=_set_all(plan, stock, stamp)) if several else plan


def _set_all(plan: _Planned, stock: Stock, stamp: Stamp) -> list[_Set]:
    """The card, or its parts."""
    marks = (*hole(stock), *fold_marks(stock))
    shifts = plan.setter.face.copies
    return [
        _Set(
            id=plan.card.id,
            items=(*marks, *items, *(i for dx in shifts for i in all_moved(items, dx, 0))),
        )
        for items in plan.setter.set(plan.card, stamp.part)
    ]


def _sheets(
    ids: tuple[str, ...], made: Iterable[_Set], stock: Stock, stamp: Stamp, start: int
) -> Sheets:
    """Cards in order, a new page where the sheet is full; the first page starts at `start`."""
    shift, size = (start - 1) % stock.per_sheet, stock.per_sheet
    end = shift + len(ids)
    count = -(-end // size) if ids else 0
    rest = iter(made)

    def page(number: int) -> Page:
        first, last = max(shift, number * size), min(end, (number + 1) * size)
        here = dict(zip(range(first - number * size, last - number * size), rest, strict=False))
        has_line = number or not shift  # a part-used sheet has its line: two would be read as none
        line = footer(stock, stamp.sheet(number + 1, count), stamp.scale) if has_line else ()
        return _page(here, line, stock)

    return Sheets(count=count, cards=ids, pages=map(page, range(count)))


def _page(here: Mapping[int, _Set], line: Iterable[Item], stock: Stock) -> Page:
    """Cards by their position on the sheet, and what stands in its margin."""
    own: list[Item] = [*([cut_marks(stock)] if stock.cut else []), *line]
    dx, dy = (stock.offset.x, stock.offset.y) if stock.offset else (0.0, 0.0)
    placed = []
    for index, each in here.items():
        at = stock.position(index)
        placed.append(PlacedItems(x=Mm(at.x + dx), y=Mm(at.y + dy), items=each.items))
    page = Page(
        width=stock.paper_width,
        height=stock.paper_height,
        own=all_moved(own, dx, dy) if stock.offset else tuple(own),
        placed=tuple(placed),
        cards=tuple(each.id for each in here.values()),
        turn=stock.turn,
    )
    if stock.is_single:  # edges lie on dots of the page, so not on those of a card
        page = replace(page, own=on_the_dots(page.items, stock), placed=())
    return page


# ---- what does not fit ---------------------------------------------------------------------


class _OtherStocks:
    """What else has room for a card, if only at the smallest scales."""

    def __init__(
        self, layouts: Layouts, stock: Stock, finish: Callable[[Card], Card] | None = None
    ) -> None:
        self._layouts, self._stock = layouts, stock
        self.widest = WidestDigits(finish)

    def fitting(self, card: Card, widest: Card) -> tuple[str, ...]:
        setters = self._setters[card.kind]
        return tuple(name for name, setter in setters if setter.has_room(card, widest))

    @cached_property
    def _setters(self) -> Mapping[CardKind, tuple[tuple[str, FaceSetter], ...]]:
        made = [(stock.name, _setters((), self._layouts, stock)) for stock in self._one_of_each()]
        return {
            kind: tuple((name, setters[kind]) for name, setters in made if kind in setters)
            for kind in CardKind
        }

    def _one_of_each(self) -> Collection[Stock]:
        """The first stock of each format, on the same paper if there is one: all have one face."""
        firsts: dict[str, Stock] = {}
        sizes = (self._stock.paper_width, self._stock.paper_height)
        for other in self._layouts.stocks.values():
            if (other.paper_width, other.paper_height) == sizes:
                firsts.setdefault(other.format, other)
        for other in self._layouts.stocks.values():
            firsts.setdefault(other.format, other)
        firsts.pop(self._stock.format, None)
        return firsts.values()


def _refuse_strange_letters(card: Card) -> None:
    for value in card.fields.values():
        for text, lacking in _strange(value):
            listed = ", ".join(f"'{letter}' (U+{ord(letter):04X})" for letter in lacking)
            raise Misfit(LETTER_NOT_IN_FONT, text, letters=listed)


@lru_cache(maxsize=512)  # cards share most of what they say
def _strange(value: PrintedValue) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """The texts with letters that no font has, and these letters."""
    texts = tuple(_texts(value))
    if fonts.is_plain("".join(texts)):
        return ()
    lacking = (
        (text, fonts.missing(text, Weight.BOLD) or fonts.missing(text, Weight.MEDIUM))
        for text in texts
    )
    return tuple(found for found in lacking if found[1])


def _texts(values: object) -> Iterator[str]:
    """Every text that is printed, in the order of the fields."""
    match values:
        case str():
            yield values
        case ConductorMark():
            yield from (values.cable, values.word, values.code, values.band, values.flag)
        case Code():
            yield values.text
        case Splice():
            yield from (values.title, values.about)
            yield from _texts(values.wires)
        case Wire():
            yield from (values.name, values.about)
            yield from _texts((values.mark,) if values.mark else ())
        case WayStop():
            yield from (values.title, values.leg, *values.off, *values.notes)
            yield from _texts(values.wires)
        case Table():
            yield from _texts(values.columns)
            yield from _texts(values.rows)
        case _:
            assert hasattr(values, "__iter__")
            for value in values:
                yield from _texts(value)
