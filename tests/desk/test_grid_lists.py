"""Lists of a job file as rows of the desk: what a row shows, and what stands in the file then."""

from __future__ import annotations

from typing import Any

import pytest

from cardgen.desk.cell_places import CellPlaces, GridCell
from cardgen.desk.grid_edits import changes_of
from cardgen.desk.grid_lists import BadEdit
from cardgen.desk.grid_rows import rows_of
from cardgen.editing import edited
from cardgen.problems import Span
from cardgen.reading import parse

# By hand, in the ways in which a person may write a list: one for all, in lines, in brackets.
JOB = """
cables:
  A-S1:
    run: [A, 85 ft, VB-1]
    singles:
      # the front
      - {color: red, gauge: 14 AWG, flags: A1 to A8}
      - color: white
        gauge: not known
        count: 2  # both ends seen
  A-S2: {gauge: 18 AWG, run: [A, 20 ft, VB-2]}
surge units: [DX-2, DX-4]
known: several-commons A
changes:
  - {revision: 1, date: 2026-03-14, text: first issue}
  - {revision: 2, date: 2026-05-02, text: "yellow, to A2"}
"""


def after(text: str = JOB, **sent: Any) -> str:
    return edited(text, changes_of(parse(text, "")[0], sent))


def rows(section: str, text: str = JOB) -> list[dict[str, Any]]:
    """What is said in them."""
    found = rows_of(parse(text, "")[0])[section]
    return [{key: value for key, value in row.items() if value} for row in found]


def test_a_list_is_shown_item_by_item() -> None:
    red = {"color": "red", "gauge": "14 AWG", "flags": "A1 to A8"}
    white = {"color": "white", "gauge": "not known", "count": "2"}
    assert rows("singles") == [
        {"id": "A-S1 1", "name": "A-S1", **red},
        {"id": "A-S1 2", "name": "A-S1", **white},
    ]
    assert rows("surge units") == [{"id": "1", "name": "DX-2"}, {"id": "2", "name": "DX-4"}]
    assert rows("known") == [{"id": "1", "name": "several-commons A"}]
    assert rows("changes")[1] == {
        "id": "2",
        "name": "2",
        "date": "2026-05-02",
        "text": "yellow, to A2",
    }


def test_a_cell_changes_its_value_and_no_other_byte() -> None:
    changed = after(section="changes", cells=[["1", "text", "as built"], ["2", "name", "3"]])
    assert changed == JOB.replace("first issue", "as built").replace("revision: 2", "revision: 3")
    cells = [["A-S1 1", "flags", "A1, A2"], ["A-S1 2", "count", ""], ["A-S1 2", "to", "VB-1"]]
    changed = after(section="singles", cells=cells)
    by_hand = JOB.replace("flags: A1 to A8", "flags: [A1, A2]")
    assert changed == by_hand.replace("        count: 2  # both ends seen\n", "        to: VB-1\n")
    assert after(section="surge units", cells=[["2", "name", "DX-5"]]) == JOB.replace(
        "DX-4", "DX-5"
    )
    assert after(section="known", cells=[["1", "name", "x-y B"]]) == JOB.replace(
        "several-commons A", "x-y B"
    )


def test_rows_come_behind_and_go_with_their_remarks() -> None:
    new = {"name": "3", "date": "2026-06-01", "text": "VB-3 moved"}
    line = "  - {revision: 3, date: 2026-06-01, text: VB-3 moved}\n"
    assert after(section="changes", rows=[new]) == JOB + line
    one = after(section="known", rows=[{"name": "sensor-on-terminals RAIN"}])
    assert rows("known", one) == [
        {"id": "1", "name": "several-commons A"}, {"id": "2", "name": "sensor-on-terminals RAIN"},
    ]  # fmt: skip
    blue = {"name": "A-S2", "color": "blue", "gauge": "18 AWG"}
    green = {"name": "A-S1", "color": "green", "gauge": "14 AWG"}
    both = after(section="singles", rows=[blue, green])
    assert "  A-S2: {gauge: 18 AWG, run: [A, 20 ft, VB-2], singles: [{color: blue" in both
    assert [row["id"] for row in rows("singles", both)] == ["A-S1 1", "A-S1 2", "A-S1 3", "A-S2 1"]
    assert rows("singles", both)[2]["color"] == "green"
    gone = after(section="singles", removed=["A-S1 2"])
    assert gone == JOB.replace(JOB[JOB.index("      - color: white") : JOB.index("  A-S2")], "")
    assert "singles" not in after(section="singles", removed=["A-S1 1", "A-S1 2"])
    assert "\nknown" not in after(section="known", removed=["1"])
    none = after(section="surge units", removed=["2", "1"], rows=[{"name": "DX-7"}])
    assert rows("surge units", none) == [{"id": "1", "name": "DX-7"}]
    begun = after("job: {code: X-1}\n", section="changes", rows=[new])
    assert rows("changes", begun) == [{"id": "1", **new}]


@pytest.mark.parametrize(
    ("sent", "told"),
    [
        ({"section": "changes", "cells": [["3", "text", "x"]]}, "there is no row 3 any more"),
        ({"section": "changes", "removed": ["0"]}, "there is no row 0 any more"),
        ({"section": "changes", "cells": [["1", "color", "x"]]}, "no column 'color'"),
        ({"section": "known", "cells": [["1", "name", ""]]}, "row 1 would be empty"),
        ({"section": "singles", "cells": [["A-S1 1", "name", "A-S2"]]}, "stays in 'A-S1'"),
        ({"section": "singles", "rows": [{"color": "red"}]}, "needs the name of its cable"),
        ({"section": "singles", "rows": [{"name": "A-S9"}]}, "there is no 'A-S9' in 'cables'"),
    ],
)
def test_what_can_stand_nowhere_is_said(sent: dict[str, Any], told: str) -> None:
    with pytest.raises(BadEdit, match=told):
        after(**sent)


def test_a_fault_in_a_list_is_at_its_cell() -> None:
    """Lines and columns counted by hand."""
    places = CellPlaces(parse(JOB, "")[0])
    lines = JOB.splitlines()
    found = {}
    for text in ("14 AWG", "both ends", "DX-4", "several-commons", "2026-05-02", "run: [A, 20"):
        line = next(number for number, each in enumerate(lines) if text in each)
        found[text] = places.at(Span("", line + 1, lines[line].index(text) + 1))
    assert found == {
        "14 AWG": GridCell("singles", "A-S1 1", "gauge"),
        "both ends": GridCell("singles", "A-S1 2", "count"),
        "DX-4": GridCell("surge units", "2", "name"),
        "several-commons": GridCell("known", "1", "name"),
        "2026-05-02": GridCell("changes", "2", "date"),
        "run: [A, 20": GridCell("cables", "A-S2", "run"),
    }
