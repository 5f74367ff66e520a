"""Turn the YAML files of stock and faces into layouts, with every fault at its line and column."""

from __future__ import annotations

import re
from collections import ChainMap
from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from functools import lru_cache, partial
from pathlib import Path
from typing import TypeVar

from cardgen.cards.card import CardKind
from cardgen.layout.face import Face
from cardgen.layout.layout_checks import face_faults, stock_faults, turned_faults
from cardgen.layout.layout_fields import FACE, STOCK
from cardgen.layout.legibility import seen_from
from cardgen.layout.stock import Stock, moved
from cardgen.light_dataclass import dataclass, replace
from cardgen.once import once
from cardgen.problems import Problem, UserError, in_order
from cardgen.reading import parse, read_text
from cardgen.reading.shapes import Report, Shape
from cardgen.reading.shipped import shipped_folder
from cardgen.units import Meters
from cardgen.words import Words, english

T = TypeVar("T")
_SAID = re.compile(r"^(kind|format): (.+?)\s*$", re.MULTILINE)


@dataclass(frozen=True, kw_only=True)
class FaceFile:
    """A face, made when it is first needed: one print needs few of those that are shipped."""

    kind: str
    format: str
    made: Callable[[], Face]

    @once
    def face(self) -> Face:
        return self.made()


@dataclass(frozen=True, slots=True, kw_only=True)
class Layouts:
    """All stock by name, and all faces.

    Attributes:
        read_from: from how far tags are read; None for what each face assumes.
    """

    stocks: Mapping[str, Stock]
    face_files: tuple[FaceFile, ...]
    read_from: Meters | None = None

    @property
    def faces(self) -> tuple[Face, ...]:
        return tuple(file.face for file in self.face_files)

    def face(self, kind: CardKind, format_: str) -> Face | None:
        """The face for a kind of card; of several the last, so that one's own goes before ours."""
        found = [file for file in self.face_files if (file.kind, file.format) == (kind, format_)]
        return found[-1].face if found else None

    def seen_from(self, meters: Meters) -> Layouts:
        """With tags that can be read from there."""
        files = tuple(replace(file, made=partial(_seen, file, meters)) for file in self.face_files)
        return replace(self, face_files=files, read_from=meters)

    def moved(self, names: Collection[str], x_mm: float, y_mm: float) -> Layouts:
        """With these stocks printed that far to the right and down, whatever they say."""
        own = {name: moved(self.stocks[name], x_mm, y_mm) for name in names}
        return replace(self, stocks=ChainMap(own, self.stocks))  # type: ignore[arg-type]  # only read

    def has_room_for(self, kind: CardKind, stock: str) -> bool:
        """Whether there is such a stock, and a face for that kind of card on it."""
        return stock in self.stocks and self.face(kind, self.stocks[stock].format) is not None

    def stocks_for(self, kind: CardKind) -> tuple[str, ...]:
        return tuple(name for name in self.stocks if self.has_room_for(kind, name))


class _ShippedStocks(Mapping[str, Stock]):
    """By name, each read when it is first asked for.

    Raises:
        UserError: if somebody has spoiled its file.
    """

    def __init__(self) -> None:
        self._paths = {path.stem: path for path in _files(shipped_folder(), "stock")}
        self._read: dict[str, Stock] = {}

    def __getitem__(self, name: str) -> Stock:
        if name not in self._read:
            stock = replace(_shipped(self._paths[name], STOCK), name=name)
            self._read[name] = stock  # before it is held against what it may be turned to
            _refuse_spoiled([*stock_faults(stock), *turned_faults(stock, self)])
        return self._read[name]

    def __iter__(self) -> Iterator[str]:
        return iter(self._paths)

    def __len__(self) -> int:
        return len(self._paths)

    def of_format(self, format_: str) -> list[Stock]:
        return [self[name] for name, found in self._formats.items() if found == format_]

    @once
    def _formats(self) -> Mapping[str, str]:
        return {name: _said(path)["format"] for name, path in self._paths.items()}


def load_layouts(
    extra: Path | None = None,
    words: Words | None = None,
    kinds: Collection[str] | None = None,
) -> tuple[Layouts, tuple[Problem, ...]]:
    """What is shipped, and what lies in `extra/stock` and `extra/faces` besides.

    The titles of the faces are in the languages of `words`.  Of the shipped faces only those for
    `kinds` of card are there, if any are named.  Without `extra` a file is read when it is needed.

    Raises:
        UserError: later, if a shipped file that is needed then has been spoiled.
    """
    if extra is not None:
        return _load_all(extra, words or english(), kinds)
    stocks, files = _ShippedStocks(), list[FaceFile]()
    for path in _files(shipped_folder(), "faces"):
        said = _said(path)
        if kinds is None or said["kind"] in kinds:
            made = partial(_shipped_face, path, words or english(), stocks)
            files.append(FaceFile(kind=said["kind"], format=said["format"], made=made))
    return Layouts(stocks=stocks, face_files=tuple(files)), ()


def _load_all(
    extra: Path, words: Words, kinds: Collection[str] | None
) -> tuple[Layouts, tuple[Problem, ...]]:
    """Read all of it, so that no fault is missed, with what is one's own.

    A stock or face of one's own takes the place of a shipped one of the same name.
    """
    problems: list[Problem] = []
    stocks: dict[str, Stock] = {}
    faces: dict[str, Face] = {}
    for folder in (shipped_folder(), extra):
        for path in _files(folder, "stock"):
            stock = _load(path, STOCK, problems)
            if stock is not None:
                stocks[path.stem] = replace(stock, name=path.stem)
        for path in _files(folder, "faces"):
            if kinds is not None and folder != extra and _said(path)["kind"] not in kinds:
                continue
            face = _load(path, FACE, problems)
            if face is not None:
                faces[path.stem] = replace(face, name=path.stem).titled(words)
    for stock in stocks.values():
        problems += stock_faults(stock)
        problems += turned_faults(stock, stocks)
    for face in faces.values():
        problems += face_faults(face, tuple(stocks.values()))
    files = (
        FaceFile(kind=face.kind, format=face.format, made=partial(_itself, face))
        for face in faces.values()
    )
    return Layouts(stocks=stocks, face_files=tuple(files)), in_order(problems)


def _seen(file: FaceFile, meters: Meters) -> Face:
    return seen_from(file.face, meters)


def _itself(face: Face) -> Face:
    return face


def _files(folder: Path, inside: str) -> list[Path]:
    return sorted((folder / inside).glob("*.yaml"), key=lambda path: path.stem)


def _said(path: Path) -> Mapping[str, str]:
    """Kind and format of a shipped file, found without reading all of it as YAML."""
    return {"kind": "", "format": "", **dict(_SAID.findall(path.read_text(encoding="utf-8")))}


def _shipped_face(path: Path, words: Words, stocks: _ShippedStocks) -> Face:
    face = replace(_shipped(path, FACE), name=path.stem)
    _refuse_spoiled(list(face_faults(face, stocks.of_format(face.format))))
    return face.titled(words)


def _shipped(path: Path, shape: Shape[T]) -> T:
    problems: list[Problem] = []
    found = _load(path, shape, problems)
    _refuse_spoiled(problems)
    assert found is not None
    return found


def _refuse_spoiled(problems: Sequence[Problem]) -> None:
    for problem in problems:
        way = "put the file back as it came; one of your own goes into a folder of --layouts"
        raise UserError(f"{problem.span}: {problem.sentence}", way)


def _load(path: Path, shape: Shape[T], problems: list[Problem]) -> T | None:
    text, faults = read_text(path)
    problems += faults
    if text is None:
        return None
    found, faults = _read(text, str(path), shape)
    problems += faults
    return found


@lru_cache(maxsize=256)
def _read(text: str, file: str, shape: Shape[T]) -> tuple[T | None, tuple[Problem, ...]]:
    """Read once as long as a file says the same, for a process prints many jobs with it."""
    node, faults = parse(text, file)
    if node is None:
        return None, tuple(faults)
    report = Report()
    found = shape.read(node, node.span, report)
    return found, (*faults, *report.problems)
