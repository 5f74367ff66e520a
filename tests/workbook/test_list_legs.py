"""Where a box is on its cable, in a list: the box before it and the length, in and out again."""

from __future__ import annotations

import re
from typing import Any

import pytest

from cardgen.workbook.book_files import csv_file
from cardgen.workbook.exporting import exported
from cardgen.workbook.importing import update_of
from tests.jobs import SAMPLES, edit, sample
from tests.workbook.books import csv_book, imported, shown, stations_in

# The rows are not in the order of the cable; of VB-2 one row says how far it is.
LIST = """\
Sta,Area,Box,Wire,Box before it,Footage
1,beds,VB 2,red,VB 1,"1,060"
2,lawn,1,blue,Controller,85
3,edge,VB-2,green,vb-1,
4,walk,VB-3,yellow,VB 2,not known
"""
SPANISH = """\
Estación;Área;Caja;Color del cable;Caja anterior;Longitud (m)
1;pasto;VB-1;rojo;A;26
2;jardín;VB-2;azul;VB-1;18.5
"""


def runs(text: str) -> dict[str, str]:
    return dict(
        re.findall(r"^  (\S+):\n    gauge.*\n(?:    .*\n)*?    run: (.*)$", text, re.MULTILINE)
    )


def told(text: str) -> list[str]:
    return [f"{p.span}: {p.sentence} [{p.code}]" for p in imported(csv_book(text)).problems]


def test_the_run_is_in_the_order_of_the_legs() -> None:
    made = imported(csv_book(LIST))
    assert made.problems == () and made.text is not None
    assert runs(made.text) == {"A-K1": "[A, 85 ft, VB-1, 1060 ft, VB-2, not known, VB-3]"}
    assert all("extra" not in station for station in stations_in(made).values())
    spanish = imported(csv_book(SPANISH))
    assert spanish.text is not None
    assert runs(spanish.text) == {"A-K1": "[A, 26 m, VB-1, 18.5 m, VB-2]"}
    assert "Put them in the order" not in spanish.text and "Put them in the order" in made.text


@pytest.mark.parametrize(
    "heads", ["From,Length (ft)", "Desde,Pies", "Fed from,feet", "De la caja,ft"]
)
def test_headings_of_both_languages(heads: str) -> None:
    made = imported(
        csv_book(f"Sta,Area,Box,Color,{heads}\n1,x,VB-1,red,A,85\n2,y,VB-2,tan,VB-1,6\n")
    )
    assert made.text is not None
    assert runs(made.text) == {"A-K1": "[A, 85 ft, VB-1, 6 ft, VB-2]"}


def test_one_of_the_two_columns_alone_is_a_column_of_the_users_own() -> None:
    made = imported(csv_book("Sta,Area,Box,Length\n1,x,VB-1,12 ft of pipe\n"))
    assert stations_in(made)["A1"]["extra"] == {"Length": "12 ft of pipe"}


def test_what_no_leg_leads_to_comes_as_it_is_listed() -> None:
    """VB-9 has no way, and VB-2 is said to be behind it: that much is kept."""
    rows = "1,x,VB-2,red,VB-9,40 ft\n2,y,VB-1,tan,A,9 ft\n3,z,VB-9,blue,,\n"
    made = imported(csv_book(f"Sta,Area,Box,Wire,From,Length\n{rows}"))
    assert made.text is not None
    assert runs(made.text) == {"A-K1": "[A, 9 ft, VB-1, not known, VB-9, 40 ft, VB-2]"}


def test_what_is_no_one_cable_stays_with_its_stations() -> None:
    """A branch at VB-1; and stations without colors, which have no cable yet."""
    branch = LIST.replace("VB-3,yellow,VB 2,not known", "VB-3,yellow,VB 1,40")
    made = imported(csv_book(branch))
    assert made.text is not None
    assert [p.code for p in made.problems] == ["sheet-left-out"]
    way = {"Box before it": "VB 1", "Footage": "40 ft"}
    assert stations_in(made)["A4"]["extra"] == {**way, "Wire": "yellow"}
    assert "cables:" in made.text and not runs(made.text)
    ring = imported(csv_book(LIST.replace("Controller,85", "VB-3,85")))
    assert [p.code for p in ring.problems] == ["sheet-left-out"]
    plain = imported(csv_book("Sta,Area,Box,From,Length\n1,x,VB-1,A,85 ft\n"))
    assert stations_in(plain)["A1"]["extra"] == {"From": "A", "Length": "85 ft"}
    for text, job in ((branch, made.text), ("Sta,From,Length\n1,A,85 ft\n", plain.text)):
        assert job is not None
        update = update_of(csv_book(text), job, "job.yaml")
        assert not update.changes, [shown(p) for p in update.problems]


@pytest.mark.parametrize(
    ("row", "fault"),
    [
        ("1,x,VB-1,red,A,85", "list.csv:2:16: '85' is no length: a length has no unit"),
        ("1,x,,red,A,85 ft", "list.csv:2:10: this row has 'A' for the way to a box, and no box"),
        ("1,x,VB-1,red,,85 ft", "list.csv:2:15: the box 'VB-1' has a length, '85 ft', and no box"),
        ("1,x,VB-1,red,VB-1,85 ft", "list.csv:2:14: the box 'VB-1' cannot be before itself"),
        ("1,x,VB-1,red,by the shed,85 ft", "list.csv:2:14: 'by the shed' is no box of this list"),
        (
            "1,x,VB-1,red,A,85 ft\n2,y,VB-1,tan,A,90 ft",
            "list.csv:3:16: the way to 'VB-1' is 'A, 90 ft' here, but 'A, 85 ft' above",
        ),
    ],
)
def test_what_is_unclear_is_told_at_its_cell(row: str, fault: str) -> None:
    found = told(f"Sta,Area,Box,Wire,From,Length\n{row}\n")
    assert len(found) == 1 and found[0].startswith(fault) and found[0].endswith("[sheet-box]"), (
        found
    )


# ---- out and in again ------------------------------------------------------------------------


def listed(text: str) -> str:
    """As the file `cardgen export JOB --out list.csv` writes."""
    return csv_file(exported(text, "job.yaml").stations).decode("utf-8-sig").replace("\r\n", "\n")


@pytest.mark.parametrize("name", SAMPLES)
def test_the_plain_list_of_a_job_comes_back_the_same(name: str) -> None:
    text = sample(name)
    update = update_of(csv_book(listed(text)), text, "job.yaml")
    assert update.changes == (), [shown(p) for p in update.problems]


def test_what_the_plain_list_says_is_in_the_file_of_the_sample() -> None:
    """Larkspur's file: A-K1 runs [A, 85 ft, VB-1, 60 ft, VB-2], read there by hand."""
    head, *rows = (line.split(",") for line in listed(sample("larkspur")).splitlines())
    assert head[0] == "job code" and head[-2:] == ["from", "length"]
    assert "run: [A, 85 ft, VB-1, 60 ft, VB-2]" in sample("larkspur")
    found = {row[1]: (row[0], *row[-2:]) for row in rows}
    assert found["A1"] == ("LARK-06", "A", "85 ft") and found["A3"] == ("LARK-06", "VB-1", "60 ft")


def changes(text: str, table: str) -> dict[tuple[Any, ...], Any]:
    update = update_of(csv_book(table), text, "job.yaml")
    assert update.changes is not None, [shown(p) for p in update.problems]
    return {change.path: getattr(change, "value", None) for change in update.changes}


def test_another_length_changes_that_leg_alone() -> None:
    text = sample("larkspur")
    longer = "Sta,From,Length,Box\nA3,VB-1,72.5 ft,VB-2\nA1,controller A,85.0 ft,VB-1\n"
    assert changes(text, longer) == {("cables", "A-K1", "run", 3): "72.5 ft"}
    assert changes(text, "Sta,From,Length,Box\nA3,VB-1,not known,VB-2\nA1,A,,VB-1\n") == {
        ("cables", "A-K1", "run", 3): "not known"
    }
    # From the other side it is the same leg; an unknown one gets its length.
    unknown = edit(text, "VB-1, 60 ft, VB-2", "VB-1, not known, VB-2")
    assert changes(unknown, "Estación,Desde,Longitud (ft),Caja\n3,VB 1,60,VB 2\n") == {
        ("cables", "A-K1", "run", 3): "60 ft"
    }
    update = update_of(csv_book("Sta,From,Length,Box\nA3,A,72 ft,VB-2\n"), text, "job.yaml")
    assert [shown(p) for p in update.problems] and update.changes is None
    (problem,) = update.problems
    assert problem.sentence == "the cable of 'A3' has no leg from 'A' to 'VB-2'"
    assert str(problem.span) == "list.csv:2:4"
