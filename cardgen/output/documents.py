"""Turn the wanted cards into files, one after the other, and bind some of them as a packet.

```
kind -> files by name -> wanted cards -> pages -> bytes
     `-> sheets of the packet, always whole -> shared out and bound (packet_parts.py)
```
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import field
from itertools import chain

from cardgen.cards import MAKERS, Card, CardKind
from cardgen.draw import Bookmark
from cardgen.drawing import HomeRun
from cardgen.layout import NarrowerDigits, Page, Sheets
from cardgen.layout.scale_card import scale_card
from cardgen.light_dataclass import dataclass, replace
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


@dataclass(frozen=True, slots=True, kw_only=True)
class CutSheets:
    """Cards on their sheets.

    Attributes:
        things: how many there are of what is cut out: a box tag that goes on is two or more.
        left_out: keys of those that have no room, where the rest is printed all the same.
    """

    things: int
    sheets: Sheets
    problems: Sequence[Problem]
    left_out: set[str]


@dataclass(slots=True, kw_only=True)
class PrintedFiles:
    """Each file, drawn as soon as its pages are set, and what is wrong with any of them.

    Attributes:
        files: none any more once something is wrong.
        counts: cards, as they are cut, and pages by file; home runs of the drawing,
            documents of the packet.
        left_out: keys of the cards that have no room, where the rest is printed all the same.
        offered: all cards that were to be laid out.
    """

    press: PrintSettings
    files: dict[str, bytes] = field(default_factory=dict)
    counts: dict[str, tuple[int, int]] = field(default_factory=dict)
    problems: list[Problem] = field(default_factory=list)
    left_out: set[str] = field(default_factory=set)
    offered: dict[CardKind, list[Card]] = field(default_factory=dict)

    def take(self, laid: Laid) -> tuple[Page, ...]:
        pages, problems = laid
        self.problems.extend(problems)
        return pages

    def take_sheet(self, document: Document) -> tuple[Page, ...]:
        """Of the packet: laid out once, for its own file as well."""
        self._offer(document.kind, document.cards)
        return self.take(self.press.set(document.kind, document.cards))

    def _offer(self, kind: CardKind, cards: Sequence[Card]) -> None:
        self.offered.setdefault(kind, []).extend(cards)

    def tell_by_kind(self) -> None:
        """Where nothing can be printed, tell what has no room as `check` does.

        For it is told of all cards of a kind at once, and a file may have one of them only.
        """
        if has_errors(self.problems):
            self.problems = [
                problem
                for kind, cards in self.offered.items()
                for problem in self._told(kind, self.press.without_room(kind, cards))
            ]

    def _told(self, kind: CardKind, problems: Sequence[Problem]) -> Sequence[Problem]:
        if not (self.press.without_misfits and kind in WALKED):
            return problems
        return [replace(problem, verdict=Verdict.WARNING) for problem in problems]

    def add(
        self,
        name: str,
        things: int,
        sheets: Sheets,
        *,
        problems: Sequence[Problem] = (),
        outline: Sequence[Bookmark] = (),
    ) -> None:
        """So that the pages of one file are kept at a time, and not those of all."""
        if sheets.count and not has_errors((*self.problems, *problems)):
            Stage.DRAW.begins()
            self.files[name] = self.press.bytes_of(name, sheets, outline)
            self.counts[name] = things, sheets.count
        self.problems.extend(problems)

    def add_cut(self, document: Document, cards: Sequence[Card], start: int) -> None:
        """Cards that were not laid out yet; `start` is the first free one of a part-used sheet."""
        self.press.progress.sets(document.name, len(cards))
        try:
            # Of what is not cut out there are few, with much on each that flows.
            self._add_cut(document, cards, start, exact=document.kind not in WALKED)
        except NarrowerDigits:
            self._add_cut(document, cards, start, exact=True)

    def _add_cut(
        self, document: Document, cards: Sequence[Card], start: int, *, exact: bool
    ) -> None:
        cut = self._cut(document, cards, start, exact=exact)
        self.add(document.name, cut.things, cut.sheets, problems=cut.problems)
        self.left_out |= cut.left_out

    def cut_pages(
        self, document: Document, cards: Sequence[Card], start: int
    ) -> tuple[int, tuple[Page, ...]]:
        """How many things, and their pages for a file of several documents."""
        self.press.progress.sets(document.name, len(cards))
        cut = self._cut(document, cards, start, exact=True)
        self.problems.extend(cut.problems)
        self.left_out |= cut.left_out
        return cut.things, tuple(cut.sheets.pages)

    def _cut(
        self, document: Document, cards: Sequence[Card], start: int, *, exact: bool
    ) -> CutSheets:
        press, kind = self.press, document.kind
        self._offer(kind, cards)
        sheets, problems = press.copied(kind, cards, start, document.cards, exact=exact)
        left_out: set[str] = set()
        if press.without_misfits and kind in WALKED:
            left_out = {card.id for card in cards}.difference(sheets.cards)
        sheets = _behind_scale(press, kind, sheets)
        pieces = len(sheets.cards) if kind in WALKED else 0
        return CutSheets(
            things=pieces or len(cards) * press.copies,
            sheets=sheets,
            problems=self._told(kind, problems),
            left_out={f"{kind} {id}" for id in left_out},
        )


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
    whole = list(_sheets(found, made)) if chosen.packet else []
    laid = {sheet.name: sheet.pages for sheet in whole}
    for each in found:
        mine = tuple(card for card in each.cards if f"{card.kind} {card.id}" in chosen.keys)
        if not each.is_file or not mine:
            continue
        if each.name in laid:
            made.add(each.name, len(mine) * press.copies, Sheets.of(laid[each.name] * press.copies))
        else:
            first, start = first_card(press, each.kind, start)
            made.add_cut(each, mine, first)
    if start > 1 and chosen.keys:
        raise UserError("no tags or flags are printed on a sheet of several", "leave out --start")
    made.tell_by_kind()
    if not has_errors(made.problems):  # else most of it would be told twice
        if DRAWING in chosen.kinds:
            _add_drawing(press, cards.homes, chosen.keys, made)
        if chosen.packet:
            _add_packet(press, found, whole, cards.homes, made)
    return made


def first_card(press: PrintSettings, kind: CardKind, start: int) -> tuple[int, int]:
    """Which card of a part-used sheet is the first of these, and which is of those after them."""
    is_started = kind in STARTED and press.stock(kind).per_sheet > 1
    return (start, 1) if is_started else (1, start)


def _sheets(found: Sequence[Document], made: PrintedFiles) -> Iterator[LaidSheet]:
    """What is in the packet as one card."""
    for each in found:
        if not each.is_file or each.kind in ALSO_IN_PACKET:
            (card,) = each.cards
            yield LaidSheet(card=card, pages=made.take_sheet(each))


def _behind_scale(press: PrintSettings, kind: CardKind, sheets: Sheets) -> Sheets:
    """On a roll the first card is a bar to measure, as a sheet has it in its margin."""
    stock = press.stock(kind)
    if not stock.is_single or not sheets.count:
        return sheets
    scale = scale_card(stock, press.stamp)
    pages = chain((scale,), sheets.pages)
    return Sheets(count=sheets.count + 1, cards=(*scale.cards, *sheets.cards), pages=pages)


def _add_drawing(
    press: PrintSettings, homes: Sequence[HomeRun], keys: AbstractSet[str], made: PrintedFiles
) -> None:
    mine = tuple(home for home in homes if f"{DRAWING} {home.run.cable}" in keys)
    if mine:
        pages = made.take(drawn(press, mine)) * press.copies
        made.add(DRAWING_FILE, len(mine), Sheets.of(pages))


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
    pages = Sheets.of(packet.pages * press.copies)
    made.add(PACKET_FILE, packet.documents, pages, outline=packet.outline)
