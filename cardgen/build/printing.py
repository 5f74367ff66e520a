"""Turn an examined job into the PDF files of one print, and say what was printed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from cardgen.build.manifest import manifest
from cardgen.build.packet import NAME as PACKET
from cardgen.build.packet import Part, bind
from cardgen.build.spreadsheet import csv_bytes
from cardgen.cards import Card, CardKind, Printable, cards_of
from cardgen.cards.cover import Document, cover
from cardgen.cards.materials import materials
from cardgen.cards.materials_sheet import materials_rows
from cardgen.draw import pdf
from cardgen.drawing import home_runs, picture
from cardgen.examine import Examined
from cardgen.layout import Layouts, Page, Stamp, Stock, lay_out, load_layouts
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


def stock_names(kind: CardKind, paper: str, tag_stock: str) -> str:
    """The stock for a kind of card: tags go on `tag_stock` if one is named."""
    if kind in (CardKind.VALVE_TAG, CardKind.BOX_TAG):
        return tag_stock or f"id-1-{paper}"
    return f"{SHEETS[kind]}-{paper}"


def stock_choices() -> tuple[str, ...]:
    """The names of the stocks that valve tags can be printed on."""
    return load_layouts()[0].stocks_for(CardKind.VALVE_TAG)


def make_print(
    examined: Examined, *, paper: str = PAPERS[0], tag_stock: str = ""
) -> tuple[Print | None, tuple[Problem, ...]]:
    """All cards of a job as PDF files, or None with what keeps it from being printed."""
    if examined.has_errors or examined.facts is None:
        return None, ()
    layouts, problems = load_layouts()
    if has_errors(problems):
        return None, problems
    job = examined.facts.job
    assert job.info is not None and job.record is not None  # else there were errors
    printable = Printable(facts=examined.facts, info=job.info, record=job.record)
    sets = {
        name: (cards, layouts.stocks[stock_names(kind, paper, tag_stock)])
        for kind, all_cards in cards_of(printable).items()
        for name, cards in _by_file(kind, all_cards)
    }
    return _print(printable, layouts, sets, paper)


def _by_file(kind: CardKind, cards: Sequence[Card]) -> list[tuple[str, Sequence[Card]]]:
    """What belongs to the packet only goes by its name instead of a file."""
    if kind not in FILE_NAMES:
        return [(card.id, (card,)) for card in cards]
    stem = FILE_NAMES[kind]
    if kind is CardKind.LEGEND:
        return [(f"{stem}-{card.id}.pdf", (card,)) for card in cards]
    return [(f"{stem}.pdf", cards)] if cards else []


def _print(
    job: Printable, layouts: Layouts, sets: Mapping[str, tuple[Sequence[Card], Stock]], paper: str
) -> tuple[Print | None, tuple[Problem, ...]]:
    stamp = Stamp(
        job=job.info.code.value,
        revision=f"rev {job.info.revision} of {job.info.date}",
        site=job.info.site.value,
    )
    pages: dict[str, tuple[Page, ...]] = {}
    problems: list[Problem] = []
    for name, (cards, stock) in sets.items():
        pages[name], found = lay_out(cards, layouts=layouts, stock=stock, stamp=stamp)
        problems.extend(found)
    homes = home_runs(job)
    if not has_errors(problems):  # else most of it would be told twice
        sheets, found = picture(homes, paper=paper, stamp=stamp)
        pages[DRAWING] = tuple(sheet.page for sheet in sheets)
        problems.extend(found)
    if has_errors(problems):
        return None, in_order(problems)
    subject = f"{job.info.site.value}, {job.stamp}"
    own = {name: made for name, made in pages.items() if name.endswith(".pdf") and made}
    files = {name: pdf(made, title=_title(name), subject=subject) for name, made in own.items()}
    files[CSV] = csv_bytes(materials_rows(materials(job)))

    def cover_pages(documents: Sequence[Document]) -> tuple[Page, ...]:
        card = cover(job, documents, [name for name in files if name not in IN_PACKET])
        stock = layouts.stocks[f"sheet-{paper}"]
        made, found = lay_out([card], layouts=layouts, stock=stock, stamp=stamp)
        problems.extend(found)
        return made

    packet = bind(_parts(pages), cover_pages)
    if has_errors(problems):
        return None, in_order(problems)
    files[PACKET] = pdf(packet.pages, title=_title(PACKET), subject=subject, outline=packet.outline)
    things = {name: len(cards) for name, (cards, _) in sets.items()}
    things |= {DRAWING: len(homes), PACKET: len(packet.outline)}
    counts = {name: (things[name], len(made)) for name, made in own.items()}
    counts[PACKET] = (things[PACKET], len(packet.pages))
    every = [card for cards, _ in sets.values() for card in cards]
    said = manifest(job, every, homes)
    return Print(files=files, manifest=said, counts=counts), in_order(problems)


def _parts(pages: Mapping[str, tuple[Page, ...]]) -> list[Part]:
    """The schedules, then what is a file too, then what closes the packet."""
    titles = [name for name in pages if not name.endswith(".pdf")]
    order = (*titles[:-1], *(name for name in IN_PACKET if name in pages), *titles[-1:])
    return [Part(title=_title(name), pages=pages[name]) for name in order if pages[name]]


def _title(name: str) -> str:
    """As a reader's window names it: `Wire flags`."""
    words = name.removesuffix(".pdf").replace("-", " ") if name.endswith(".pdf") else name
    return words[:1].upper() + words[1:]
