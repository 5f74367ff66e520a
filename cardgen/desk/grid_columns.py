"""Say what a cell of a grid holds, and how what is typed there stands in the job file."""

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
        offered: the words that it takes, offered while one types.
        may_be_unknown: whether `not known` is offered.
        within: what separates the parts of each of several values.
        inner: the only key of entries that have names: a cell has the name, then its value.
        keyed: what separates key and value of each of several pairs.
        is_rare: few jobs have it, so it is shown when this one has, or when asked for.
    """

    key: str
    between: str = ""
    listed: bool = False
    names: str = ""
    offered: tuple[str, ...] = ()
    may_be_unknown: bool = False
    within: str = ""
    inner: str = ""
    keyed: str = ""
    is_rare: bool = False

    def values_in(self, text: str) -> Value:
        """What is typed in a cell, as the file has it."""
        if not self.between:
            return text
        parts = _parts(text, self.between)
        if self.within:
            return [_parts(part, self.within) for part in parts]
        if self.keyed:
            pairs = (part.partition(self.keyed) for part in parts)
            return {key.strip(): value.strip() for key, _, value in pairs}
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
        lead: of a list, whose entries have no names: the column that stands where a name would.
            If the list is bare, it is the entry itself.
        owners: of a list that lies in each entry of a section: that section, which `lead` names.
    """

    name: str
    columns: tuple[GridColumn, ...]
    is_bare: bool = False
    is_rare: bool = False
    first: str = ""
    lead: GridColumn | None = None
    owners: str = ""

    @property
    def column(self) -> dict[str, GridColumn]:
        return {column.key: column for column in self.columns}

    def column_at(self, key: str) -> GridColumn | None:
        """By what the page calls it."""
        return self.lead if key == NAME else self.column.get(key)

    @property
    def written(self) -> tuple[GridColumn, ...]:
        """The columns that are keys of an entry in a list."""
        return self.columns if self.lead is None or self.owners else (self.lead, *self.columns)

    def before(self, column: GridColumn) -> tuple[str, ...]:
        """The keys behind which a new one goes: the nearest of them that is there."""
        keys = [each.key for each in self.written]
        return tuple(reversed(keys[: keys.index(column.key)]))

    def path_of(self, row: str | None, column: GridColumn) -> tuple[str, ...]:
        """Where a value stands in the file; no `row` in a section of one entry."""
        rows = () if row is None else (row,)
        return (self.name, *rows) if self.is_bare else (self.name, *rows, column.key)
