"""Say which sections of a job file are shown as grids, and which key each column holds."""

from __future__ import annotations

from dataclasses import dataclass

from cardgen.editing import Value

NAME = "name"  # the column of what an entry is called


@dataclass(frozen=True, slots=True, kw_only=True)
class GridColumn:
    """One key of the entries of a section.

    Attributes:
        key: as the file has it.
        between: what separates several values in a cell; empty where there is one only.
        listed: whether even one value is written as a list.
        names: section whose entries it names, offered while one types.
        may_be_unknown: whether `not known` is offered.
        within: what separates the parts of each of several values.
        inner: the only key of entries that have names: a cell has the name, then its value.
    """

    key: str
    between: str = ""
    listed: bool = False
    names: str = ""
    may_be_unknown: bool = False
    within: str = ""
    inner: str = ""

    def values_in(self, text: str) -> Value:
        """What is typed in a cell, as the file has it."""
        if not self.between:
            return text
        parts = _parts(text, self.between)
        if self.within:
            return [_parts(part, self.within) for part in parts]
        if self.inner:
            named = (part.partition(" ") for part in parts)
            return {name: {self.inner: value} if value else {} for name, _, value in named}
        return parts if self.listed or len(parts) != 1 else parts[0]


def _parts(text: str, between: str) -> list[str]:
    return [part.strip() for part in text.split(between) if part.strip()]


@dataclass(frozen=True, slots=True, kw_only=True)
class GridSection:
    """A section whose entries are rows.

    Attributes:
        columns: without that of the name.
        is_bare: an entry is the value of its only column, not a block of keys.
        is_rare: most jobs have none, so it is shown when there are some, or when asked for.
        first: what the first entry is called that nobody has named; empty if it must be named.
    """

    name: str
    columns: tuple[GridColumn, ...]
    is_bare: bool = False
    is_rare: bool = False
    first: str = ""

    @property
    def column(self) -> dict[str, GridColumn]:
        return {column.key: column for column in self.columns}


def _columns(*keys: str | GridColumn) -> tuple[GridColumn, ...]:
    return tuple(GridColumn(key=key) if isinstance(key, str) else key for key in keys)


def _several(key: str) -> GridColumn:
    return GridColumn(key=key, between=",")


def _or_not_known(*keys: str) -> tuple[GridColumn, ...]:
    return tuple(GridColumn(key=key, may_be_unknown=True) for key in keys)


_HOT = GridColumn(key="hot", between=",", may_be_unknown=True)
_BOX = GridColumn(key="box", names="boxes")
_COIL = GridColumn(key="coil", names="coils", may_be_unknown=True)
_CONTROLLER = GridColumn(key="controller", names="controllers")

# In the order in which a person goes through a site; stations first, for they are what is typed.
SECTIONS = (
    GridSection(
        name="stations",
        first="A1",
        columns=_columns(
            *_or_not_known("area"),
            _BOX,
            _HOT,
            _COIL,
            GridColumn(key="valves", between=",", inner="box"),
            GridColumn(key="notes", between=";"),
        ),
    ),
    GridSection(
        name="boxes",
        first="VB-1",
        columns=_columns(
            *_or_not_known("place", "size"),
            "kind",
            GridColumn(key="ties", between=",", may_be_unknown=True),
            "spares",
        ),
    ),
    GridSection(
        name="cables",
        first="A-K1",
        columns=_columns(
            GridColumn(key="run", between=",", listed=True),
            *_or_not_known("gauge"),
            GridColumn(key="palette", names="palettes"),
            GridColumn(key="colors", between=",", listed=True),
            "band",
        ),
    ),
    GridSection(
        name="controllers",
        first="A",
        columns=_columns(
            *_or_not_known("place"),
            *("supply", "stations"),
            GridColumn(key="terminals", between=",", listed=True),
            _several("common"),
            _COIL,
            *("station limit", "total limit"),
        ),
    ),
    GridSection(
        name="palettes",
        first="usual",
        columns=(GridColumn(key="colors", between=",", listed=True),),
        is_bare=True,
    ),
    GridSection(
        name="coils",
        first="usual",
        columns=_columns(
            "supply", *_or_not_known("resistance", "inrush", "holding", "minimum", "leads")
        ),
    ),
    GridSection(
        name="connectors",
        first="usual",
        columns=(GridColumn(key="takes", between=",", listed=True),),
    ),
    GridSection(
        name="master valves",
        first="MV-1",
        is_rare=True,
        columns=_columns(
            *(_several("controllers"), _several("isolators"), "terminal", _BOX),
            *(_HOT, _several("return"), "normally open", "live only to close", _COIL),
        ),
    ),
    GridSection(
        name="relays",
        first="PUMP-1",
        is_rare=True,
        columns=_columns(
            *(_CONTROLLER, "terminal", _BOX, _HOT, _several("return"), _COIL),
        ),
    ),
    GridSection(
        name="decoders",
        first="DC-1",
        is_rare=True,
        columns=_columns(_CONTROLLER, _BOX, "address", "serial", "to valve", "leads"),
    ),
    GridSection(
        name="sensors",
        first="RAIN",
        is_rare=True,
        columns=_columns(
            *("kind", _several("controllers"), "contact"),
            *_or_not_known("place"),
            *(_several("in common"), _several("conductors")),
        ),
    ),
    GridSection(
        name="spares",
        first="SP-1",
        is_rare=True,
        columns=_columns(
            _several("conductor"), "from", GridColumn(key="to", names="boxes"), "reserved for"
        ),
    ),
    GridSection(
        name="pigtails",
        first="PT-1",
        is_rare=True,
        columns=_columns("at", "gauge", "color", "length"),
    ),
    GridSection(
        name="joints",
        is_bare=True,
        is_rare=True,
        columns=(GridColumn(key="joints", between=";", within=","),),
    ),
)
SECTION = {section.name: section for section in SECTIONS}

# Sections of one entry, shown as fields under each other.
FORMS = {
    "job": (
        *("code", "site", "revision", "date", "warm", "water"),
        *("insulation test", "least insulation", "ground limit", "owner", "contractor", "license"),
    ),
    "record": ("address", "key"),
}
