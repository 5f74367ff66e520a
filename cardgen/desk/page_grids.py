"""Say to the scripts of a job's page what each of its grids has, and what a cell offers."""

from __future__ import annotations

from collections.abc import Iterator

from cardgen.desk.grid_columns import NAME, GridColumn, GridSection
from cardgen.desk.grid_sections import FORMS, SECTIONS
from cardgen.record.html import Markup, element


def _grid(section: GridSection) -> list[dict[str, object]]:
    """Its columns as the page has them, that of the names first."""
    return [_first(section), *(_column(section, column) for column in section.columns)]


def _first(section: GridSection) -> dict[str, object]:
    """Rows of a list have numbers; those within others stay where they are."""
    lead = section.lead
    if lead is None:
        return {"key": NAME}
    more = {"key": NAME, "title": lead.key, "numbered": True, "fixed": bool(section.owners)}
    return _column(section, lead) | more


def _column(section: GridSection, column: GridColumn) -> dict[str, object]:
    return {
        "key": column.key,
        "names": column.names,
        "offers": offer_id(section, column),
        "unknown": column.may_be_unknown,
        "rare": column.is_rare,
    }


def offer_id(section: GridSection, column: GridColumn) -> str:
    """What the list of the words that a cell or field takes is called on the page."""
    return f"offers-{section.name}-{column.key}".replace(" ", "-") if column.offered else ""


def offers() -> Iterator[Markup]:
    """These lists; the words are those of the file, in any language."""
    for section in (*SECTIONS, *FORMS):
        for column in section.columns:
            if column.offered:
                options = (element("option", value=word) for word in column.offered)
                yield element("datalist", *options, id=offer_id(section, column))


# What the page shows of each section, in its order.
GRIDS = {section.name: _grid(section) for section in SECTIONS}
