"""Turn the wanted cards into the pages of each file: tags and flags in walking order, and a packet.

```
kind -> files by name -> wanted cards -> pages
     `-> parts of the packet, always whole -> bound behind a cover
```
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import dataclass, replace

from cardgen.cards import Card, CardKind
from cardgen.cards.cover import cover
from cardgen.drawing import HomeRun, home_runs, picture, sheets_needed
from cardgen.layout import Page
from cardgen.output.card_texts import DRAWING, Cards
from cardgen.output.packet import NAME as PACKET_FILE
from cardgen.output.packet import Part, bind
from cardgen.output.print_settings import Laid, PrintSettings, title
from cardgen.output.selection import PACKET, WORD_OF
from cardgen.output.walking_order import Walk
from cardgen.problems import Problem, UserError, has_errors

DRAWING_FILE = "wiring-drawing.pdf"
CSV = "materials.csv"
# Files whose pages are in the packet too, in their order there.
IN_PACKET = (DRAWING_FILE, "spare-list.pdf", "test-sheet.pdf", "materials.pdf")
# In the order in which a part-used sheet is offered to them.
STARTED = (CardKind.VALVE_TAG, CardKind.BOX_TAG, CardKind.FLAG)
WALKED = (*STARTED, CardKind.SPLICE_CARD)


@dataclass(frozen=True, slots=True, kw_only=True)
class Document:
    """The cards of one kind that belong together.

    Attributes:
        name: of its file; of what is in the packet only, its title.
    """

    name: str
    kind: CardKind
    cards: tuple[Card, ...]

    @property
    def is_file(self) -> bool:
        return self.name.endswith(".pdf")


@dataclass(slots=True, kw_only=True)
class Pages:
    """The pages of each file, and what is wrong with them.

    Attributes:
        counts: cards, as they are cut, and pages by file; home runs of the drawing,
            documents of the packet.
        outline: of the packet.
    """

    files: dict[str, tuple[Page, ...]]
    counts: dict[str, tuple[int, int]]
    problems: list[Problem]
    outline: Sequence[tuple[str, int]] = ()

    def take(self, laid: Laid) -> tuple[Page, ...]:
        pages, problems = laid
        self.problems.extend(problems)
        return pages

    def add(self, name: str, things: int, pages: tuple[Page, ...]) -> None:
        if pages:
            self.files[name], self.counts[name] = pages, (things, len(pages))


def documents(cards: Cards, walk: Walk) -> Iterator[Document]:
    """All of a job; legends get one file for each controller."""
    for kind, found in cards.items():
        ordered = tuple(sorted(found, key=walk.key) if kind in WALKED else found)
        word = WORD_OF[kind]
        if kind is CardKind.LEGEND or word == PACKET:
            for card in ordered:
                name = card.id if word == PACKET else f"{word}-{card.id}.pdf"
                yield Document(name=name, kind=kind, cards=(card,))
        elif ordered:
            yield Document(name=f"{word}.pdf", kind=kind, cards=ordered)


def pages_of(
    press: PrintSettings,
    found: Sequence[Document],
    keys: AbstractSet[str],
    *,
    packet: bool,
    start: int,
) -> Pages:
    """The pages of all that is wanted; the parts of the packet are laid out for it in any case.

    Raises:
        UserError: if there is no card `start` on the first sheet, or no such sheet.
    """
    made = Pages(files={}, counts={}, problems=[])
    homes = home_runs(press.printable)
    parts = _parts(press, found, made) if packet else {}
    for each in found:
        mine = tuple(card for card in each.cards if f"{card.kind} {card.id}" in keys)
        if not each.is_file or not mine:
            continue
        if mine == each.cards and each.name in parts:
            pages = parts[each.name] * press.copies
        else:
            is_started = each.kind in STARTED and press.stock(each.kind).per_sheet > 1
            first, start = (start, 1) if is_started else (1, start)
            pages = made.take(_laid(press, each.kind, mine, homes, first))
        made.add(each.name, _pieces(each.kind, pages) or len(mine) * press.copies, pages)
    if start > 1 and keys:
        raise UserError("no tags or flags are printed on a sheet of several", "leave out --start")
    if not has_errors(made.problems):  # else most of it would be told twice
        _add_drawing(press, homes, keys, parts, made, packet=packet)
    if packet and not has_errors(made.problems):
        separate = [each.name for each in found if each.is_file and each.name not in IN_PACKET]
        _bind(press, parts, [*separate, CSV], made)
    return made


def _pieces(kind: CardKind, pages: Sequence[Page]) -> int:
    """Of what is cut out, how many there are: a box tag that goes on is two or more."""
    return sum(len(page.cards) for page in pages) if kind in WALKED else 0


def _parts(
    press: PrintSettings, found: Sequence[Document], made: Pages
) -> dict[str, tuple[Page, ...]]:
    inside = [each for each in found if not each.is_file or each.name in IN_PACKET]
    return {each.name: made.take(press.set(each.kind, each.cards)) for each in inside}


def _laid(
    press: PrintSettings,
    kind: CardKind,
    cards: Sequence[Card],
    homes: Sequence[HomeRun],
    start: int,
) -> Laid:
    """All copies of what goes into one file: behind a door legend the drawing of its cables."""
    if kind is not CardKind.LEGEND:
        return press.copied(kind, cards, start)
    cables = press.printable.asbuilt.cable
    mine = [home for home in homes if cables[home.run.cable].run[0].at == cards[0].at]
    pages, problems = replace(press, stamp=replace(press.stamp, behind=sheets_needed(mine))).set(
        kind, cards
    )
    stamp = replace(press.stamp, before=len(pages))
    drawn, more = _drawn(replace(press, stamp=stamp), mine)
    return (*pages, *drawn) * press.copies, (*problems, *more)


def _add_drawing(
    press: PrintSettings,
    homes: Sequence[HomeRun],
    keys: AbstractSet[str],
    parts: dict[str, tuple[Page, ...]],
    made: Pages,
    *,
    packet: bool,
) -> None:
    mine = tuple(home for home in homes if f"{DRAWING} {home.run.cable}" in keys)
    if packet:
        parts[DRAWING_FILE] = made.take(_drawn(press, homes))
    if mine:
        drawn = parts.get(DRAWING_FILE, ())
        pages = drawn if drawn and mine == homes else made.take(_drawn(press, mine))
        made.add(DRAWING_FILE, len(mine), pages * press.copies)


def _drawn(press: PrintSettings, homes: Sequence[HomeRun]) -> Laid:
    sheets, problems = picture(homes, paper=press.paper, stamp=press.stamp)
    return tuple(sheet.page for sheet in sheets), problems


def _bind(
    press: PrintSettings,
    parts: Mapping[str, tuple[Page, ...]],
    separate: Sequence[str],
    made: Pages,
) -> None:
    """The schedules, then what is a file too, then what closes the packet."""
    words = press.printable.words
    titles = [name for name in parts if not name.endswith(".pdf")]
    order = (*titles[:-1], *(name for name in IN_PACKET if name in parts), *titles[-1:])
    bound = [
        Part(title=title(name, words).printed, pages=parts[name]) for name in order if parts[name]
    ]

    def cover_pages(listed: Sequence[tuple[str, int]]) -> tuple[Page, ...]:
        card = cover(press.printable, listed, separate)
        return made.take(press.set(card.kind, [card]))

    packet = bind(bound, cover_pages, words)
    made.outline = packet.outline
    made.add(PACKET_FILE, len(packet.outline), packet.pages * press.copies)
