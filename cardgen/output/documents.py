"""Turn the wanted cards into files, one after the other, and bind some of them as a packet.

```
kind -> files by name -> wanted cards -> pages -> bytes
     `-> sheets of the packet, always whole -> shared out and bound (packet_parts.py)
```
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import dataclass, field, replace

from cardgen.cards import MAKERS, Card, CardKind
from cardgen.draw import Bookmark
from cardgen.drawing import HomeRun
from cardgen.layout import Page
from cardgen.layout.scale_card import scale_card
from cardgen.output.card_texts import DRAWING, Cards
from cardgen.output.choosing import Chosen
from cardgen.output.job_cards import JobCards
from cardgen.output.packet import NAME as PACKET_FILE
from cardgen.output.packet_parts import DRAWING_FILE, TESTS_FILE, LaidSheet, drawn, make_packet
from cardgen.output.print_settings import Laid, PrintSettings
from cardgen.output.selection import PACKET, WORD_OF
from cardgen.output.walking_order import Walk
from cardgen.problems import Problem, UserError, Verdict, has_errors
from cardgen.stages import Stage

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
class PrintedFiles:
    """Each file, drawn as soon as its pages are set, and what is wrong with any of them.

    Attributes:
        files: none any more once something is wrong.
        counts: cards, as they are cut, and pages by file; home runs of the drawing,
            documents of the packet.
        left_out: keys of the cards that have no room, where the rest is printed all the same.
    """

    press: PrintSettings
    files: dict[str, bytes] = field(default_factory=dict)
    counts: dict[str, tuple[int, int]] = field(default_factory=dict)
    problems: list[Problem] = field(default_factory=list)
    left_out: set[str] = field(default_factory=set)

    def take(self, laid: Laid) -> tuple[Page, ...]:
        pages, problems = laid
        self.problems.extend(problems)
        return pages

    def add(
        self, name: str, things: int, pages: tuple[Page, ...], outline: Sequence[Bookmark] = ()
    ) -> None:
        """So that the pages of one file are kept at a time, and not those of all."""
        if pages and not has_errors(self.problems):
            Stage.DRAW.begins()
            self.files[name] = self.press.bytes_of(name, pages, outline)
            self.counts[name] = things, len(pages)


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


def files_of(
    press: PrintSettings, cards: JobCards, walk: Walk, chosen: Chosen, *, start: int
) -> PrintedFiles:
    """The files of all that is wanted; the sheets of the packet are laid out for it in any case.

    Raises:
        UserError: if there is no card `start` on the first sheet, or no such sheet.
    """
    made = PrintedFiles(press=press)
    # The cover of a packet names all that is printed beside it, so that needs all there is.
    kinds = MAKERS if chosen.packet else chosen.kinds
    found = list(documents(cards.by_kind(kinds), walk))
    Stage.LAYOUT.begins()
    sheets = list(_sheets(press, found, made)) if chosen.packet else []
    laid = {sheet.name: sheet.pages for sheet in sheets}
    for each in found:
        mine = tuple(card for card in each.cards if f"{card.kind} {card.id}" in chosen.keys)
        if not each.is_file or not mine:
            continue
        if each.name in laid:
            pages = laid[each.name] * press.copies
        else:
            pages, start = pages_of(made, each, mine, start)
        made.add(each.name, pieces(each.kind, pages) or len(mine) * press.copies, pages)
    if start > 1 and chosen.keys:
        raise UserError("no tags or flags are printed on a sheet of several", "leave out --start")
    if not has_errors(made.problems):  # else most of it would be told twice
        if DRAWING in chosen.kinds:
            _add_drawing(press, cards.homes, chosen.keys, made)
        if chosen.packet:
            _add_packet(press, found, sheets, cards.homes, made)
    return made


def pages_of(
    made: PrintedFiles, document: Document, mine: Sequence[Card], start: int
) -> tuple[tuple[Page, ...], int]:
    """Those of its cards that are wanted, from card `start` on; and the start for the next."""
    press, kind = made.press, document.kind
    press.progress.sets(document.name, len(mine))
    is_started = kind in STARTED and press.stock(kind).per_sheet > 1
    first, start = (start, 1) if is_started else (1, start)
    laid = press.copied(kind, mine, first, alike=document.cards)
    return made.take(_behind_scale(press, kind, _fitting(mine, laid, made))), start


def pieces(kind: CardKind, pages: Sequence[Page]) -> int:
    """Of what is cut out, how many there are: a box tag that goes on is two or more."""
    return sum(len(page.cards) for page in pages) if kind in WALKED else 0


def _sheets(
    press: PrintSettings, found: Sequence[Document], made: PrintedFiles
) -> Iterator[LaidSheet]:
    """What is in the packet as one card."""
    for each in found:
        if not each.is_file or each.kind in ALSO_IN_PACKET:
            (card,) = each.cards
            yield LaidSheet(card=card, pages=made.take(press.set(each.kind, each.cards)))


def _fitting(cards: Sequence[Card], laid: Laid, made: PrintedFiles) -> Laid:
    """Where the rest is to be printed without what has no room, that is a warning only."""
    pages, problems = laid
    if not made.press.without_misfits or cards[0].kind not in WALKED:
        return laid
    printed = {id for page in pages for id in page.cards}
    made.left_out |= {f"{card.kind} {card.id}" for card in cards if card.id not in printed}
    return pages, tuple(replace(problem, verdict=Verdict.WARNING) for problem in problems)


def _behind_scale(press: PrintSettings, kind: CardKind, laid: Laid) -> Laid:
    """On a roll the first card is a bar to measure, as a sheet has it in its margin."""
    pages, problems = laid
    stock = press.stock(kind)
    return (
        scale_card(stock, press.stamp),
        *pages,
    ) if stock.is_single and pages else pages, problems


def _add_drawing(
    press: PrintSettings, homes: Sequence[HomeRun], keys: AbstractSet[str], made: PrintedFiles
) -> None:
    mine = tuple(home for home in homes if f"{DRAWING} {home.run.cable}" in keys)
    if mine:
        made.add(DRAWING_FILE, len(mine), made.take(drawn(press, mine)) * press.copies)


def _add_packet(
    press: PrintSettings,
    found: Sequence[Document],
    sheets: Sequence[LaidSheet],
    homes: Sequence[HomeRun],
    made: PrintedFiles,
) -> None:
    inside = {DRAWING_FILE, TESTS_FILE, *(sheet.name for sheet in sheets)}
    separate = [each.name for each in found if each.is_file and each.name not in inside]
    tests = [card for each in found if each.kind is CardKind.TEST_SHEET for card in each.cards]
    packet = make_packet(press, sheets, tests, homes, [*separate, CSV], made.take)
    made.add(PACKET_FILE, packet.documents, packet.pages * press.copies, packet.outline)
