"""Turn an examined job into the PDF files of one print, and say what was printed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from cardgen.build.manifest import manifest
from cardgen.build.packet import NAME as PACKET
from cardgen.build.packet import Packet, Part, bind
from cardgen.build.spreadsheet import csv_bytes
from cardgen.cards import MAKERS, Card, CardKind, Printable, cards_of
from cardgen.cards.cover import Document, cover
from cardgen.cards.materials import materials
from cardgen.cards.materials_sheet import materials_rows
from cardgen.draw import pdf
from cardgen.drawing import home_runs, picture
from cardgen.examine import Examined
from cardgen.layout import Layouts, Page, Stamp, lay_out, load_layouts
from cardgen.problems import Problem, has_errors, in_order

PAPERS = ("letter", "a4")
# What each kind of card is called as a file; legends get one file for each controller.
FILE_NAMES = {
    CardKind.VALVE_TAG: "valve-tags",
    CardKind.BOX_TAG: "box-tags",
    CardKind.FLAG: "wire-flags",
    CardKind.LEGEND: "door-legend",
    CardKind.SPLICE_CARD: "splice-cards",
    CardKind.TEST_SHEET: "test-sheet",
    CardKind.SPARE_LIST: "spare-list",
    CardKind.MATERIALS: "materials",
}
# What lies in the printer for each kind that does not go on tag stock; `-letter` or `-a4` follows.
SHEETS = {
    CardKind.FLAG: "flag",
    CardKind.LEGEND: "legend",
    CardKind.SPLICE_CARD: "half",
    CardKind.TEST_SHEET: "sheet",
    CardKind.SPARE_LIST: "sheet",
    CardKind.MATERIALS: "sheet",
    CardKind.SCHEDULE: "sheet",
    CardKind.CLOSING: "sheet",
}
TAGS = (CardKind.VALVE_TAG, CardKind.BOX_TAG)
DRAWING = "wiring-drawing.pdf"
CSV = "materials.csv"
# Files whose pages are in the packet too, in their order there.
IN_PACKET = (DRAWING, "spare-list.pdf", "test-sheet.pdf", "materials.pdf")


@dataclass(frozen=True, slots=True, kw_only=True)
class Print:
    """The files of a print by name, with what the manifest says of them.

    Attributes:
        counts: cards (of the drawing: home runs; of the packet: documents) and pages by file.
    """

    files: Mapping[str, bytes]
    manifest: Mapping[str, Any]
    counts: Mapping[str, tuple[int, int]]


def stock_for(kind: CardKind, paper: str, wanted: Sequence[str], layouts: Layouts) -> str:
    """The stock for a kind of card: the last wanted one that has a face for it, else a sheet."""
    fitting = layouts.stocks_for(kind)
    usual = "id-1" if kind in TAGS else SHEETS[kind]
    return next((name for name in reversed(wanted) if name in fitting), f"{usual}-{paper}")


def stock_choices(folder: Path | None = None) -> tuple[str, ...]:
    """The names of the stocks that something can be printed on, the shipped and one's own."""
    layouts, _ = load_layouts(folder)
    formats = {face.format for face in layouts.faces}
    return tuple(name for name, stock in layouts.stocks.items() if stock.format in formats)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Press:
    """What all pages of a print are laid out with."""

    job: Printable
    layouts: Layouts
    paper: str
    stamp: Stamp

    def pages(
        self, cards: Sequence[Card], stock: str
    ) -> tuple[tuple[Page, ...], tuple[Problem, ...]]:
        at = self.layouts.stocks[stock]
        return lay_out(cards, layouts=self.layouts, stock=at, stamp=self.stamp)

    def bytes_of(
        self, name: str, pages: Sequence[Page], outline: Sequence[tuple[str, int]] = ()
    ) -> bytes:
        subject = f"{self.job.info.site.value}, {self.job.stamp}"
        return pdf(pages, title=_title(name), subject=subject, outline=outline)


# By file (or by title, for what is in the packet only): the cards and their stock.
_Sets = Mapping[str, tuple[Sequence[Card], str]]


def make_print(
    examined: Examined,
    *,
    paper: str = PAPERS[0],
    stocks: Sequence[str] = (),
    folder: Path | None = None,
    tags_only: bool = False,
) -> tuple[Print | None, tuple[Problem, ...]]:
    """All cards of a job as PDF files, or None with what keeps it from being printed.

    `stocks` lie in the printers, `folder` holds stock and faces of one's own.
    """
    if examined.has_errors or examined.facts is None:
        return None, ()
    layouts, problems = load_layouts(folder)
    if has_errors(problems):
        return None, problems
    info, record = examined.facts.job.info, examined.facts.job.record
    assert info is not None and record is not None  # else there were errors
    job = Printable(facts=examined.facts, info=info, record=record)
    stamp = Stamp(
        job=info.code.value, revision=f"rev {info.revision} of {info.date}", site=info.site.value
    )
    kinds = TAGS if tags_only else tuple(MAKERS)
    sets = {
        name: (cards, stock_for(kind, paper, stocks, layouts))
        for kind, all_cards in cards_of(job, kinds).items()
        for name, cards in _by_file(kind, all_cards)
    }
    press = _Press(job=job, layouts=layouts, paper=paper, stamp=stamp)
    return _print(press, sets, whole=not tags_only)


def _by_file(kind: CardKind, cards: Sequence[Card]) -> list[tuple[str, Sequence[Card]]]:
    """What belongs to the packet only goes by its name instead of a file."""
    if kind not in FILE_NAMES:
        return [(card.id, (card,)) for card in cards]
    stem = FILE_NAMES[kind]
    if kind is CardKind.LEGEND:
        return [(f"{stem}-{card.id}.pdf", (card,)) for card in cards]
    return [(f"{stem}.pdf", cards)] if cards else []


def _print(press: _Press, sets: _Sets, *, whole: bool) -> tuple[Print | None, tuple[Problem, ...]]:
    """The cards; if it is the whole print, also the drawing, the materials and the packet."""
    pages: dict[str, tuple[Page, ...]] = {}
    problems: list[Problem] = []
    for name, (cards, stock) in sets.items():
        pages[name], found = press.pages(cards, stock)
        problems.extend(found)
    homes = home_runs(press.job) if whole else ()
    if homes and not has_errors(problems):  # else most of it would be told twice
        sheets, found = picture(homes, paper=press.paper, stamp=press.stamp)
        pages[DRAWING] = tuple(sheet.page for sheet in sheets)
        problems.extend(found)
    if has_errors(problems):
        return None, in_order(problems)
    own = {name: made for name, made in pages.items() if name.endswith(".pdf") and made}
    files = {name: press.bytes_of(name, made) for name, made in own.items()}
    things = {name: len(cards) for name, (cards, _) in sets.items()} | {DRAWING: len(homes)}
    counts = {name: (things[name], len(made)) for name, made in own.items()}
    if whole:
        files[CSV] = csv_bytes(materials_rows(materials(press.job)))
        packet, found = _packet(press, pages, list(files))
        problems.extend(found)
        files[PACKET] = press.bytes_of(PACKET, packet.pages, packet.outline)
        counts[PACKET] = (len(packet.outline), len(packet.pages))
    if has_errors(problems):
        return None, in_order(problems)
    said = manifest(press.job, [card for cards, _ in sets.values() for card in cards], homes)
    return Print(files=files, manifest=said, counts=counts), in_order(problems)


def _packet(
    press: _Press, pages: Mapping[str, tuple[Page, ...]], files: Sequence[str]
) -> tuple[Packet, tuple[Problem, ...]]:
    separate = [name for name in files if name not in IN_PACKET]
    problems: list[Problem] = []

    def cover_pages(documents: Sequence[Document]) -> tuple[Page, ...]:
        made, found = press.pages([cover(press.job, documents, separate)], f"sheet-{press.paper}")
        problems.extend(found)
        return made

    return bind(_parts(pages), cover_pages), tuple(problems)


def _parts(pages: Mapping[str, tuple[Page, ...]]) -> list[Part]:
    """The schedules, then what is a file too, then what closes the packet."""
    titles = [name for name in pages if not name.endswith(".pdf")]
    order = (*titles[:-1], *(name for name in IN_PACKET if name in pages), *titles[-1:])
    return [Part(title=_title(name), pages=pages[name]) for name in order if pages[name]]


def _title(name: str) -> str:
    """As a reader's window names it: `Wire flags`."""
    words = name.removesuffix(".pdf").replace("-", " ") if name.endswith(".pdf") else name
    return words[:1].upper() + words[1:]
