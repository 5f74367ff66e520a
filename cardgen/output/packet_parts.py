"""Share out the documents of a packet: an owner's part of ten pages, and annexes to take along.

```
owner's part   cover, station schedules, spare list, changes and open items, sign-off
annex A        test sheet, its part of the drawing, conductor schedule, splice register
whole job      materials, and what belongs to no single controller
```
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from cardgen.cards import Card, CardKind
from cardgen.cards.cover import PacketContents, annex_title, cover
from cardgen.cards.schedules import STATION_SCHEDULE
from cardgen.drawing import HomeRun, picture
from cardgen.layout import Page
from cardgen.light_dataclass import dataclass
from cardgen.output.packet import Annex, Packet, Part, bind
from cardgen.output.print_settings import Laid, PrintSettings, title
from cardgen.output.selection import PACKET, WORD_OF

MOST_PAGES = 10  # of the owner's part, with the cover (ours: as much as somebody reads)
WHOLE_JOB = ""  # whose annex has what belongs to no single controller
DRAWING_FILE = "wiring-drawing.pdf"
TESTS_FILE = f"{WORD_OF[CardKind.TEST_SHEET]}.pdf"
# Where a document is: in an annex, or in the owner's part, which one of a higher number leaves
# the later, and the last never.
IN_ANNEX, LEAVES_FIRST, LEAVES_NEXT, STAYS = range(4)


@dataclass(frozen=True, slots=True, kw_only=True)
class LaidSheet:
    """A card that is a document of its own, with its pages."""

    card: Card
    pages: tuple[Page, ...]

    @property
    def name(self) -> str:
        """As `title` wants it."""
        word = WORD_OF[self.card.kind]
        return self.card.id if word == PACKET else f"{word}.pdf"


@dataclass(frozen=True, slots=True, kw_only=True)
class PacketDocument:
    """Attributes:
    annex: the controller, or WHOLE_JOB, in whose annex it is where it is not in the owner's part.
    """

    part: Part
    place: int
    annex: str = WHOLE_JOB


Take = Callable[[Laid], tuple[Page, ...]]  # keeps what is wrong with the pages


def make_packet(
    press: PrintSettings,
    sheets: Sequence[LaidSheet],
    tests: Sequence[Card],
    homes: Sequence[HomeRun],
    separate: Sequence[str],
    take: Take,
) -> Packet:
    """`separate` are the files that are printed with it and not in it."""
    documents = list(_documents(press, sheets, tests, homes, take))
    packet = _bound(press, documents, IN_ANNEX, separate, take)
    for moved in (LEAVES_FIRST, LEAVES_NEXT):
        if packet.owners > MOST_PAGES:
            packet = _bound(press, documents, moved, separate, take)
    return packet


def drawn(press: PrintSettings, homes: Sequence[HomeRun]) -> Laid:
    """The wiring drawing of some home runs."""
    made, problems = picture(homes, press.paper, press.stamp)
    return tuple(sheet.page for sheet in made), problems


# ---- what there is -------------------------------------------------------------------------


def _documents(
    press: PrintSettings,
    sheets: Sequence[LaidSheet],
    tests: Sequence[Card],
    homes: Sequence[HomeRun],
    take: Take,
) -> Iterator[PacketDocument]:
    """Controller by controller in the order of an annex; last what closes the owner's part."""
    known, words = press.printable.asbuilt, press.printable.words
    for controller in (*known.controller, WHOLE_JOB):
        mine = [s for s in sheets if s.card.controllers == ((controller,) if controller else ())]
        yield from (_placed(press, sheet, controller) for sheet in mine if _goes_first(sheet))
        for card in tests:
            if card.id == controller:
                pages = take(press.set(card.kind, [card]))
                part = Part(title=title(TESTS_FILE, words), pages=pages)
                yield PacketDocument(part=part, place=IN_ANNEX, annex=controller)
        runs = [home for home in homes if known.controller_of(home.run.cable) == controller]
        if runs:
            part = Part(title=title(DRAWING_FILE, words), pages=take(drawn(press, runs)))
            yield PacketDocument(part=part, place=IN_ANNEX, annex=controller)
        yield from (_placed(press, sheet, controller) for sheet in mine if not _goes_first(sheet))


def _goes_first(sheet: LaidSheet) -> bool:
    """Before test sheet and drawing, where it is in the annex."""
    return _place(sheet) in (LEAVES_FIRST, LEAVES_NEXT)


def _place(sheet: LaidSheet) -> int:
    match sheet.card.kind:
        case CardKind.CLOSING:
            return STAYS
        case CardKind.SPARE_LIST:
            return LEAVES_FIRST
        case CardKind.SCHEDULE if sheet.name.startswith(STATION_SCHEDULE):
            return LEAVES_NEXT
    return IN_ANNEX


def _placed(press: PrintSettings, sheet: LaidSheet, controller: str) -> PacketDocument:
    part = Part(title=title(sheet.name, press.printable.words), pages=sheet.pages)
    return PacketDocument(part=part, place=_place(sheet), annex=controller)


# ---- where it goes -------------------------------------------------------------------------


def _bound(
    press: PrintSettings,
    documents: Sequence[PacketDocument],
    moved: int,
    separate: Sequence[str],
    take: Take,
) -> Packet:
    """`moved` is the highest place of what goes into the annexes."""
    printable, words = press.printable, press.printable.words
    owners = [document.part for document in documents if document.place > moved]
    found: dict[str, list[Part]] = {}
    for document in documents:
        if document.place <= moved:
            found.setdefault(document.annex, []).append(document.part)
    annexes = [
        Annex(title=annex_title(printable, of), controller=of, parts=tuple(parts))
        for of, parts in found.items()
    ]
    left = [d.part.title for d in documents if IN_ANNEX < d.place <= moved]
    titles = [title(name, words) for name in separate]

    def cover_pages(begins: Sequence[int], annex_begins: Sequence[int]) -> tuple[Page, ...]:
        contents = PacketContents(
            documents=[(p.title, page) for p, page in zip(owners, begins, strict=True)],
            annexes=[(a.controller, page) for a, page in zip(annexes, annex_begins, strict=True)],
            moved=left,
            separate=titles,
        )
        card = cover(printable, contents)
        return take(press.set(card.kind, [card]))

    return bind(owners, annexes, cover_pages, words)
