"""Say which sections of a job file are shown as grids, and which key each column holds."""

from __future__ import annotations

from dataclasses import dataclass

NAME = "name"  # the column of what an entry is called


@dataclass(frozen=True, slots=True, kw_only=True)
class GridColumn:
    """One key of the entries of a section.

    Attributes:
        key: as the file has it.
        between: what separates several values in a cell; empty where there is one only.
        listed: whether even one value is written as a list.
        names: section whose entries it names, offered while one types.
    """

    key: str
    between: str = ""
    listed: bool = False
    names: str = ""

    def values_in(self, text: str) -> str | list[str]:
        """What is typed in a cell, as the file has it."""
        if not self.between:
            return text
        parts = [part.strip() for part in text.split(self.between) if part.strip()]
        return parts if self.listed or len(parts) != 1 else parts[0]


@dataclass(frozen=True, slots=True, kw_only=True)
class GridSection:
    """A section whose entries are rows.

    Attributes:
        columns: without that of the name.
        is_bare: an entry is the value of its only column, not a block of keys.
    """

    name: str
    columns: tuple[GridColumn, ...]
    is_bare: bool = False

    @property
    def column(self) -> dict[str, GridColumn]:
        return {column.key: column for column in self.columns}


def _columns(*keys: str | GridColumn) -> tuple[GridColumn, ...]:
    return tuple(GridColumn(key=key) if isinstance(key, str) else key for key in keys)


def _conductors(key: str) -> GridColumn:
    return GridColumn(key=key, between=",")


# In the order in which a person goes through a site; stations first, for they are what is typed.
SECTIONS = (
    GridSection(
        name="stations",
        columns=_columns(
            "area",
            GridColumn(key="box", names="boxes"),
            _conductors("hot"),
            GridColumn(key="coil", names="coils"),
            GridColumn(key="notes", between=";"),
        ),
    ),
    GridSection(
        name="boxes",
        columns=_columns("place", "size", "kind", GridColumn(key="ties", between=","), "spares"),
    ),
    GridSection(
        name="cables",
        columns=_columns(
            GridColumn(key="run", between=",", listed=True),
            "gauge",
            GridColumn(key="palette", names="palettes"),
            GridColumn(key="colors", between=",", listed=True),
            "band",
        ),
    ),
    GridSection(
        name="controllers",
        columns=_columns(
            "place",
            "supply",
            "stations",
            GridColumn(key="terminals", between=",", listed=True),
            _conductors("common"),
            GridColumn(key="coil", names="coils"),
            "station limit",
            "total limit",
        ),
    ),
    GridSection(
        name="palettes",
        columns=(GridColumn(key="colors", between=",", listed=True),),
        is_bare=True,
    ),
    GridSection(
        name="coils", columns=_columns("supply", "resistance", "inrush", "holding", "minimum")
    ),
    GridSection(name="connectors", columns=(GridColumn(key="takes", between=",", listed=True),)),
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
