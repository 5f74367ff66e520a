"""Read the outside numbers: `references/NAME.csv` as rows of text, each with status and source.

Status says how far a number can be trusted: `published` was read in the source named, `computed`
follows from a stated formula, `common practice, no source` and `from memory` prove nothing.
"""

from __future__ import annotations

import csv
from pathlib import Path

FOLDER = Path(__file__).with_name("references")
STATUSES = ("published", "computed", "common practice, no source", "from memory")

Row = dict[str, str]


def rows(name: str, **wanted: str) -> list[Row]:
    """The rows of a table in which each column named has the text given; never none."""
    with (FOLDER / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        found = [row for row in csv.DictReader(file) if wanted.items() <= row.items()]
    assert found, f"{name}.csv has no row with {wanted}"
    return found


def used(name: str, *but: str) -> list[Row]:
    """The rows that a check uses, without those of the checks named; the others say why not."""
    return [
        row
        for row in rows(name)
        if not row["used_by"].startswith("not used: ") and row["used_by"] not in but
    ]


def number(name: str, column: str, **wanted: str) -> float:
    """The one number in a column; the rows wanted must be one."""
    (row,) = rows(name, **wanted)
    return float(row[column])


def names() -> list[str]:
    """Each table but the register of sources."""
    return sorted(path.stem for path in FOLDER.glob("*.csv") if path.stem != "sources")
