"""Say what each kind of card is printed on: the stock that was asked for, else the usual one."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from cardgen.cards import CardKind
from cardgen.layout import Layouts, load_layouts

# What lies in the printer for each kind that does not go on tag stock; `-letter` or `-a4` follows.
SHEETS = {
    CardKind.FLAG: "flag",
    CardKind.LEGEND: "legend",
    CardKind.SPLICE_CARD: "half",
    CardKind.TEST_SHEET: "sheet",
    CardKind.SPARE_LIST: "sheet",
    CardKind.MATERIALS: "sheet",
    CardKind.SURVEY: "sheet",
    CardKind.SCHEDULE: "sheet",
    CardKind.CLOSING: "sheet",
    CardKind.COVER: "sheet",
    CardKind.FAULT_SHEET: "sheet",
}
TAGS = (CardKind.VALVE_TAG, CardKind.BOX_TAG)


def stock_for(kind: CardKind, paper: str, wanted: Sequence[str], layouts: Layouts) -> str:
    """The stock for a kind of card: the last wanted one that has a face for it, else a sheet."""
    usual = "id-1" if kind in TAGS else SHEETS[kind]
    return next(
        (name for name in reversed(wanted) if layouts.has_room_for(kind, name)), f"{usual}-{paper}"
    )


def is_stock(name: str, folder: Path | None) -> bool:
    """Whether something can be printed on a stock of that name."""
    layouts, _ = load_layouts(folder)
    formats = {file.format for file in layouts.face_files}
    return name in layouts.stocks and layouts.stocks[name].format in formats


def stock_choices(folder: Path | None = None) -> tuple[str, ...]:
    """The names of the stocks that something can be printed on, the shipped and one's own."""
    layouts, _ = load_layouts(folder)
    formats = {file.format for file in layouts.face_files}
    return tuple(name for name, stock in layouts.stocks.items() if stock.format in formats)
