"""Which sheets a workbook has, and what each column holds: from the very table that reads jobs."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from enum import Enum
from functools import cache
from typing import Any

from cardgen.job.job_loader import TOP, BareEntry
from cardgen.job.quantities import LENGTH
from cardgen.job.runs import RUN, TERMINALS
from cardgen.reading.shapes import (
    IDENTIFIER,
    TEXT,
    BlockShape,
    Field,
    ListOf,
    PrintedText,
    SaidShape,
    Shape,
    TableOf,
    TextsByHeading,
)

JOB_SHEET = "job"
JOB_HEADINGS = ("section", "key", "value")
EXTRA = "extra"


class SheetKind(Enum):
    """What a row of a sheet is."""

    ENTRIES = "an entry of a section"
    LEGS = "a leg of a run"
    BLOCKS = "a block of a list"
    PARTS = "an entry within an entry"
    LISTS = "a list of a list"


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetColumn:
    """Attributes:
    path: the keys within the entry that lead to the value; none if the entry is the value.
    also: another spelling of the heading that is understood.
    """

    heading: str
    path: tuple[str, ...]
    shape: Shape[Any]
    also: str = ""

    @property
    def is_list(self) -> bool:
        return isinstance(self.shape, ListOf) or self.shape is TERMINALS

    @property
    def item(self) -> Shape[Any]:
        """The shape of one value in a cell."""
        return bare(self.shape.inner) if isinstance(self.shape, ListOf) else self.shape

    @property
    def holds_texts(self) -> bool:
        """Its list has sentences in it, in which a comma separates nothing."""
        shape = self.shape.inner if isinstance(self.shape, ListOf) else self.shape
        while isinstance(shape, SaidShape):
            shape = shape.inner
        return self.is_list and isinstance(shape, PrintedText) and shape.inner is TEXT


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetPlan:
    """Attributes:
    section: the section of the job; key: that of the entry of which the rows are, if any.
    owner: the heading of the column that names the entry; empty where there is none.
    """

    title: str
    section: str
    kind: SheetKind
    key: str = ""
    owner: str = ""
    columns: tuple[SheetColumn, ...] = ()
    takes_extra: bool = False


def bare(shape: Shape[Any]) -> Shape[Any]:
    """The shape within those that only keep something beside the value."""
    while isinstance(shape, (SaidShape, PrintedText)):
        shape = shape.inner
    return shape


# Entries by the one that a row is of.
_ONE_OF = {"cables": "cable", "stations": "station", "controllers": "controller"}
_LEG_COLUMNS = (("from", IDENTIFIER), ("length", LENGTH), ("to", IDENTIFIER))


@cache
def sheet_plans() -> tuple[SheetPlan, ...]:
    """In the order of the job file, each entry's own rows behind it."""
    return tuple(plan for field in TOP.fields for plan in _plans(field))


@cache
def plan_named(title: str) -> SheetPlan | None:
    return next((plan for plan in sheet_plans() if plan.title == title), None)


@cache
def job_rows() -> Mapping[tuple[str, str], SheetColumn]:
    """What is said in the sheet of the job, by section and key."""
    found: dict[tuple[str, str], SheetColumn] = {}
    for field in TOP.fields:
        shape = bare(field.shape)
        if isinstance(shape, BlockShape):
            found |= {(field.key, c.heading): c for f in shape.fields for c in _columns(f)}
        elif isinstance(shape, ListOf) and not isinstance(_item(shape), BlockShape):
            found[field.key, ""] = SheetColumn(heading="", path=(), shape=shape)
    return found


def _plans(field: Field[Any]) -> Iterator[SheetPlan]:
    section, shape = field.key, field.shape
    if isinstance(shape, TableOf):
        if isinstance(shape.record, BareEntry):
            yield _of_bare(section, shape.record)
        else:
            yield from _of_table(section, shape.record)
    elif isinstance(block := _item(shape), BlockShape):
        columns = tuple(c for f in block.fields for c in _columns(f))
        yield SheetPlan(title=section, section=section, kind=SheetKind.BLOCKS, columns=columns)


def _of_bare(section: str, record: BareEntry) -> SheetPlan:
    (field,) = record.fields
    column = SheetColumn(heading=field.key, path=(), shape=field.shape)
    nested = _is_nested(field.shape)
    return SheetPlan(
        title=section,
        section=section,
        kind=SheetKind.LISTS if nested else SheetKind.ENTRIES,
        owner="place" if nested else "name",
        columns=(_inner_column(section, field) if nested else column,),
    )


def _of_table(section: str, record: BlockShape[Any]) -> Iterator[SheetPlan]:
    yield SheetPlan(
        title=section,
        section=section,
        kind=SheetKind.ENTRIES,
        owner="name",
        columns=tuple(c for f in record.fields for c in _columns(f)),
        takes_extra=any(isinstance(f.shape, TextsByHeading) for f in record.fields),
    )
    for field in record.fields:
        yield from _inner(section, field)


def _inner(section: str, field: Field[Any]) -> Iterator[SheetPlan]:
    """A sheet of its own for what does not go into a cell."""
    shape = bare(field.shape)
    kind: SheetKind | None = None
    columns: tuple[SheetColumn, ...] = ()
    if shape is RUN:
        kind = SheetKind.LEGS
        columns = tuple(SheetColumn(heading=name, path=(), shape=of) for name, of in _LEG_COLUMNS)
    elif isinstance(shape, TableOf):
        kind = SheetKind.PARTS
        columns = (
            SheetColumn(heading="name", path=(), shape=shape.id_shape),
            *(c for f in shape.record.fields for c in _columns(f)),
        )
    elif isinstance(block := _item(shape), BlockShape):
        kind = SheetKind.BLOCKS
        columns = tuple(c for f in block.fields for c in _columns(f))
    elif _is_nested(shape):
        kind, columns = SheetKind.LISTS, (_inner_column(field.key, field),)
    if kind is not None:
        title = "legs" if kind is SheetKind.LEGS else field.key
        yield SheetPlan(
            title=title,
            section=section,
            kind=kind,
            key=field.key,
            owner=_ONE_OF[section],
            columns=columns,
        )


def _columns(field: Field[Any]) -> Iterator[SheetColumn]:
    """Those of a key; none where it has a sheet of its own."""
    shape = bare(field.shape)
    if isinstance(shape, BlockShape):
        for inner in shape.fields:
            heading = f"{field.key} {inner.key}"
            yield SheetColumn(heading=heading, path=(field.key, inner.key), shape=bare(inner.shape))
    elif isinstance(_item(shape), (BlockShape, ListOf)):
        return
    elif not isinstance(shape, (TableOf, TextsByHeading)) and shape is not RUN:
        yield SheetColumn(heading=field.key, path=(field.key,), shape=shape, also=field.also)


def _is_nested(shape: Shape[Any]) -> bool:
    return isinstance(_item(shape), ListOf)


def _item(shape: Shape[Any]) -> Shape[Any] | None:
    """What a list is of."""
    return bare(shape.inner) if isinstance(shape, ListOf) else None


def _inner_column(heading: str, field: Field[Any]) -> SheetColumn:
    """Of one list within a list."""
    assert isinstance(field.shape, ListOf)
    return SheetColumn(heading=heading, path=(), shape=bare(field.shape.inner))
