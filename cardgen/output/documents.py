"""Turn the wanted cards into the pages of each file: tags and flags in walking order, and a packet.

```
kind -> files by name -> wanted cards -> pages
     `-> sheets of the packet, always whole -> shared out and bound (packet_parts.py)
```
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import dataclass

from cardgen.cards import Card, CardKind
from cardgen.draw import Bookmark
from cardgen.drawing import HomeRun, home_runs
from cardgen.layout import Page
from cardgen.output.card_texts import DRAWING, Cards
from cardgen.output.packet import NAME as PACKET_FILE
from cardgen.output.packet_parts import DRAWING_FILE, TESTS_FILE, LaidSheet, drawn, make_packet
from cardgen.output.print_settings import Laid, PrintSettings
from cardgen.output.selection import PACKET, WORD_OF
from cardgen.output.walking_order import Walk
from cardgen.problems import Problem, UserError, has_errors

CSV = "materials.csv"
# Sheets of one card for the whole job: a file each, and in the packet too.
ALSO_IN_PACKET = (CardKind.SPARE_LIST, CardKind.MATERIALS)
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
    outline: Sequence[Bookmark] = ()

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
    """The pages of all that is wanted; the sheets of the packet are laid out for it in any case.

    Raises:
        UserError: if there is no card `start` on the first sheet, or no such sheet.
    """
    made = Pages(files={}, counts={}, problems=[])
    homes = home_runs(press.printable)
    sheets = list(_sheets(press, found, made)) if packet else []
    laid = {sheet.name: sheet.pages for sheet in sheets}
    for each in found:
        mine = tuple(card for card in each.cards if f"{card.kind} {card.id}" in keys)
        if not each.is_file or not mine:
            continue
        if each.name in laid:
            pages = laid[each.name] * press.copies
        else:
            is_started = each.kind in STARTED and press.stock(each.kind).per_sheet > 1
            first, start = (start, 1) if is_started else (1, start)
            pages = made.take(press.copied(each.kind, mine, first))
        made.add(each.name, _pieces(each.kind, pages) or len(mine) * press.copies, pages)
    if start > 1 and keys:
        raise UserError("no tags or flags are printed on a sheet of several", "leave out --start")
    if not has_errors(made.problems):  # else most of it would be told twice
        _add_drawing(press, homes, keys, made)
        if packet:
            _add_packet(press, found, sheets, homes, made)
    return made


def _pieces(kind: CardKind, pages: Sequence[Page]) -> int:
    """Of what is cut out, how many there are: a box tag that goes on is two or more."""
    return sum(len(page.cards) for page in pages) if kind in WALKED else 0


def _sheets(press: PrintSettings, found: Sequence[Document], made: Pages) -> Iterator[LaidSheet]:
    """What is in the packet as one card."""
    for each in found:
        if not each.is_file or each.kind in ALSO_IN_PACKET:
            (card,) = each.cards
            yield LaidSheet(card=card, pages=made.take(press.set(each.kind, each.cards)))


def _add_drawing(
    press: PrintSettings, homes: Sequence[HomeRun], keys: AbstractSet[str], made: Pages
) -> None:
    mine = tuple(home for home in homes if f"{DRAWING} {home.run.cable}" in keys)
    if mine:
        made.add(DRAWING_FILE, len(mine), made.take(drawn(press, mine)) * press.copies)


def _add_packet(
    press: PrintSettings,
    found: Sequence[Document],
    sheets: Sequence[LaidSheet],
    homes: Sequence[HomeRun],
    made: Pages,
) -> None:
    inside = {DRAWING_FILE, TESTS_FILE, *(sheet.name for sheet in sheets)}
    separate = [each.name for each in found if each.is_file and each.name not in inside]
    tests = [card for each in found if each.kind is CardKind.TEST_SHEET for card in each.cards]
    packet = make_packet(press, sheets, tests, homes, [*separate, CSV], made.take)
    made.outline = packet.outline
    made.add(PACKET_FILE, packet.documents, packet.pages * press.copies)
