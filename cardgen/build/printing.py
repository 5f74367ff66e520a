"""Turn an examined job into the PDF files of one print, and say what was printed."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any

from cardgen.cards import Card, CardKind, Printable, cards_of
from cardgen.draw import pdf
from cardgen.drawing import HomeRun, home_runs, outline, picture
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
}
# What lies in the printer for each kind that does not go on tag stock; `-letter` or `-a4` follows.
SHEETS = {
    CardKind.FLAG: "flag",
    CardKind.LEGEND: "legend",
    CardKind.SPLICE_CARD: "half",
    CardKind.TEST_SHEET: "sheet",
    CardKind.SPARE_LIST: "sheet",
}
DRAWING = "wiring-drawing.pdf"


@dataclass(frozen=True, slots=True, kw_only=True)
class Print:
    """The files of a print by name, with what the manifest says of them.

    Attributes:
        counts: cards (of the drawing: home runs) and pages by file.
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
    stem = FILE_NAMES[kind]
    if kind is CardKind.LEGEND:
        return [(f"{stem}-{card.id}.pdf", (card,)) for card in cards]
    return [(f"{stem}.pdf", cards)] if cards else []


def _print(
    job: Printable,
    layouts: Layouts,
    sets: Mapping[str, tuple[Sequence[Card], Stock]],
    paper: str,
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
    files = {name: pdf(made, title=_title(name), subject=subject) for name, made in pages.items()}
    things = {name: len(cards) for name, (cards, _) in sets.items()} | {DRAWING: len(homes)}
    counts = {name: (things[name], len(made)) for name, made in pages.items()}
    every = [card for cards, _ in sets.values() for card in cards]
    manifest = _manifest(job, every, homes)
    return Print(files=files, manifest=manifest, counts=counts), in_order(problems)


def _title(name: str) -> str:
    return Path(name).stem.replace("-", " ")


def _manifest(job: Printable, cards: Sequence[Card], homes: Sequence[HomeRun]) -> dict[str, Any]:
    """Which job and revision, and a digest of what each card and home run says."""
    return {
        "job": job.info.code.value,
        "key": job.record.key.value,
        "revision": job.info.revision,
        "date": job.info.date,
        "cards": {f"{card.kind} {card.id}": _digest(card) for card in cards},
        "wiring drawing": {home.run.cable: _hash(outline(home)) for home in homes},
    }


def _digest(card: Card) -> str:
    """The same as long as the card says the same; the stamp's revision does not count."""
    said = {k: v for k, v in asdict(card).items() if k != "place"}
    said["fields"] = {k: v for k, v in said["fields"].items() if k != "stamp"}
    return _hash(json.dumps(said, sort_keys=True, ensure_ascii=False, default=str))


def _hash(text: str) -> str:
    return hashlib.sha256(text.encode()).hexdigest()[:16]
