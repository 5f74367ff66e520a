"""Turn the valves of a job into an empty table of readings, in the order in which a crew walks.

It comes back as it is: `read_results` takes what is filled in, and a blank was not measured.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator

from cardgen.asbuilt import AsBuilt, BuiltValve
from cardgen.light_dataclass import dataclass
from cardgen.output.spreadsheet import csv_bytes
from cardgen.output.walking_order import Walk
from cardgen.results import WIDE_COLUMNS
from cardgen.results.workbook_file import spreadsheet

NAME = "test-sheet"


@dataclass(frozen=True, slots=True)
class _ValveStop:
    """A valve, as `Walk` orders things."""

    valve: BuiltValve

    @property
    def at(self) -> str:
        return self.valve.box

    @property
    def owner(self) -> str:
        return self.valve.station

    @property
    def id(self) -> str:
        return self.valve.id


def empty_readings(asbuilt: AsBuilt, walk: Walk, controllers: Collection[str]) -> list[list[str]]:
    """What is said once, then a row for each valve of these controllers, all as wide."""
    stops = (_ValveStop(valve) for valve in asbuilt.valves if valve.controller in controllers)
    valves = [stop.id for stop in sorted(stops, key=walk.key)]
    once = {
        "job": asbuilt.key,
        "revision": str(asbuilt.revision),
        "when": "",
        "by": "",
        "conditions": "",
    }
    if not asbuilt.key:  # nothing tells it from another job's
        del once["job"]
    rows = [*once.items(), WIDE_COLUMNS, *([valve] for valve in valves)]
    return [[*row, *("",) * (len(WIDE_COLUMNS) - len(row))] for row in rows]


def files_of_readings(rows: list[list[str]]) -> Iterator[tuple[str, bytes]]:
    """The table as CSV, and as a spreadsheet."""
    yield f"{NAME}.csv", csv_bytes(rows)
    yield f"{NAME}.xlsx", spreadsheet(rows)
