"""Turn the YAML files of stock and faces into layouts, with every fault at its line and column."""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping
from dataclasses import replace
from pathlib import Path
from typing import TypeVar

from cardgen.cards.card import CardKind
from cardgen.layout.face import Face
from cardgen.layout.layout_checks import face_faults, stock_faults, turned_faults
from cardgen.layout.layout_fields import FACE, STOCK
from cardgen.layout.legibility import seen_from
from cardgen.layout.stock import Stock
from cardgen.light_dataclass import dataclass
from cardgen.problems import Problem, in_order
from cardgen.reading import parse, read_text
from cardgen.reading.shapes import Report, Shape
from cardgen.reading.shipped import shipped_folder
from cardgen.units import Meters
from cardgen.words import Words, english

T = TypeVar("T")
_KIND = re.compile(r"^kind: (.+?)\s*$", re.MULTILINE)


@dataclass(frozen=True, slots=True, kw_only=True)
class Layouts:
    """All stock by name, and all faces.

    Attributes:
        read_from: from how far tags are read; None for what each face assumes.
    """

    stocks: Mapping[str, Stock]
    faces: tuple[Face, ...]
    read_from: Meters | None = None

    def face(self, kind: CardKind, format_: str) -> Face | None:
        """The face for a kind of card; of several the last, so that one's own goes before ours."""
        found = [face for face in self.faces if face.kind is kind and face.format == format_]
        return found[-1] if found else None

    def seen_from(self, meters: Meters) -> Layouts:
        """With tags that can be read from there."""
        return replace(self, faces=seen_from(self.faces, meters), read_from=meters)

    def stocks_for(self, kind: CardKind) -> tuple[str, ...]:
        return tuple(name for name, s in self.stocks.items() if self.face(kind, s.format))


def load_layouts(
    extra: Path | None = None,
    words: Words | None = None,
    kinds: Collection[str] | None = None,
) -> tuple[Layouts, tuple[Problem, ...]]:
    """What is shipped, and what lies in `extra/stock` and `extra/faces` besides.

    The titles of the faces are in the languages of `words`.  A stock or face of one's own takes
    the place of a shipped one of the same name.  Of the shipped faces only those for `kinds` of
    card are read, if any are named; one's own are all read, so that no fault in them is missed.
    """
    folders = [shipped_folder(), *([extra] if extra else [])]
    problems: list[Problem] = []
    stocks: dict[str, Stock] = {}
    faces: dict[str, Face] = {}
    for folder in folders:
        for path in sorted((folder / "stock").glob("*.yaml")):
            stock = _load(path, STOCK, problems)
            if stock is not None:
                stocks[path.stem] = replace(stock, name=path.stem)
        for path in sorted((folder / "faces").glob("*.yaml"), key=lambda path: path.stem):
            if kinds is not None and folder != extra and _kind_of(path) not in kinds:
                continue
            face = _load(path, FACE, problems)
            if face is not None:
                faces[path.stem] = replace(face, name=path.stem).titled(words or english())
    for stock in stocks.values():
        problems += stock_faults(stock)
        problems += turned_faults(stock, stocks)
    for face in faces.values():
        problems += face_faults(face, tuple(stocks.values()))
    return Layouts(stocks=stocks, faces=tuple(faces.values())), in_order(problems)


def _kind_of(path: Path) -> str:
    """What a shipped face is for; its line is found without reading all of it as YAML."""
    found = _KIND.search(path.read_text(encoding="utf-8"))
    assert found is not None, path
    return found[1]


def _load(path: Path, shape: Shape[T], problems: list[Problem]) -> T | None:
    text, faults = read_text(path)
    problems += faults
    if text is None:
        return None
    node, faults = parse(text, str(path))
    problems += faults
    if node is None:
        return None
    report = Report()
    found = shape.read(node, node.span, report)
    problems += report.problems
    return found
