"""Lists of stations as offices have them: any heading, any order, any dialect, odd rows around."""

from __future__ import annotations

import datetime
from typing import Any

from cardgen.examine import examine_text
from cardgen.workbook.exporting import exported
from cardgen.workbook.importing import update_of
from cardgen.workbook.list_stations import box_names
from tests.jobs import edit, sample
from tests.workbook.books import book_of_rows, csv_book, imported, stations_in, xlsx

ENGLISH = """\
Maple Court

Remarks,STA #,Valve Box,What it waters,Wire color,Plants
keep clear,A1,VB 1,"front lawn, west",Red,roses: #3
,A-2,vb-1,back lawn,blu,007
,"A 03",12,side beds,Lt Blue,1E5
Total,3,,,,
"""
SPANISH = """\
Observaciones;N.º de estación;Caja;Área que riega;Color del cable;Tipo de planta
no tapar;1;C-1;jardín “Álamo”;rojo;rosas
;2;junto a la fuente;pasto;café;
"""


def codes(made: Any) -> list[str]:
    return [problem.code for problem in made.problems]


def test_an_english_list() -> None:
    made = imported(csv_book(ENGLISH))
    assert codes(made) == ["sheet-left-out"]  # the sum
    assert stations_in(made) == {
        "A1": {
            "area": "front lawn, west",
            "box": "VB-1",
            "hot": "A-K1 red",
            "notes": "keep clear",
            "extra": {"Plants": "roses: #3"},
        },
        "A2": {
            "area": "back lawn",
            "box": "VB-1",
            "hot": "A-K1 blue",
            "extra": {"Plants": "007"},
        },
        "A3": {
            "area": "side beds",
            "box": "VB-12",
            "hot": "A-K1 light-blue",
            "extra": {"Plants": "1E5"},
        },
    }
    assert made.text is not None
    assert "  site: Maple Court\n" in made.text
    assert "    run: [A, not known, VB-1, not known, VB-12]\n" in made.text


def test_a_spanish_list_in_every_dialect() -> None:
    expected = {
        "A1": {
            "area": "jardín “Álamo”",
            "box": "C-1",
            "hot": "A-K1 red",
            "notes": "no tapar",
            "extra": {"Tipo de planta": "rosas"},
        },
        "A2": {"area": "pasto", "box": "VB-1", "hot": "A-K1 brown"},
    }
    for encoding in ("utf-8", "utf-8-sig", "utf-16", "utf-16-le", "cp1252"):
        for separator in ";,\t|":
            text = SPANISH.replace(";", separator).replace("\n", "\r\n")
            made = imported(csv_book(text, encoding))
            assert codes(made) == [] and stations_in(made) == expected, (encoding, separator)
    made = imported(csv_book("sep=|\r\n" + SPANISH.replace(";", "|")))
    assert stations_in(made) == expected


def test_what_is_open_is_all_that_check_finds() -> None:
    """The remarks filled in as a person would, the job has no errors."""
    text = imported(csv_book(ENGLISH)).text
    assert text is not None
    for old, new in (
        ("place: not known ", "place: garage "),
        ("    # coil: usual ", "    coil: usual "),
        ("    # common: A-K1 white", "    common: A-K1 white"),
        ("gauge: not known", "gauge: 18 AWG"),
        ("colors: [red,", "colors: [white, red,"),
        ("[A, not known, VB-1, not known,", "[A, 85 ft, VB-1, 60 ft,"),
        ("# coils:", "coils:"),
        ("#   usual:", "  usual:"),
        ("# connectors:", "connectors:"),
        ("#   small:", "  small:"),
    ):
        text = edit(text, old, new)
    found = examine_text(text)
    assert [p.sentence for p in found.problems if p.verdict == "error"] == []
    assert set(found.circuits) == {"A1", "A2", "A3"}
    # The code and the address are nobody's, and do not reach paper without a word.
    assert [p.code for p in found.problems].count("starter-value") == 2


def test_colors_that_do_not_say_one_cable_are_kept_as_they_are() -> None:
    """Two reds on one controller; a box that is not said; and a controller that is clear."""
    text = "Station,Box,Area,Wire\nA1,1,x,red\nA2,1,y,red\nB1,2,z,red\nB2,3,w,blue\n"
    stations = stations_in(imported(csv_book(text)))
    assert stations["A1"] == {"area": "x", "box": "VB-1", "extra": {"Wire": "red"}}
    assert stations["B2"] == {"area": "w", "box": "VB-3", "hot": "B-K1 blue"}
    made = imported(csv_book("Station,Box,Wire\nA1,1,red\nA2,,blue\n"))
    assert stations_in(made)["A1"] == {
        "area": "not known",
        "box": "VB-1",
        "extra": {"Wire": "red"},
    }


def test_names_of_boxes() -> None:
    texts = ["VB 1", "vb-1", "7", "by the oak", "VB #2", "By the oak", "Box 12"]
    assert box_names(texts, {}) == {
        "VB 1": "VB-1",
        "vb-1": "VB-1",
        "7": "VB-7",
        "by the oak": "VB-3",
        "VB #2": "VB-2",
        "By the oak": "VB-3",
        "Box 12": "Box-12",
    }
    assert box_names(["front bed", "VB 2", "4"], {"front bed": "VB-2", "VB-2": "VB-2"}) == {
        "front bed": "VB-2",
        "VB 2": "VB-2",
        "4": "VB-4",
    }


def test_a_sheet_that_a_person_made() -> None:
    """A title over all columns, two rows of headings, merged and hidden cells, numbers, days."""

    def fill(sheet: Any) -> None:
        sheet["A1"] = "Alder Park"
        sheet.merge_cells("A1:F1")
        sheet.append([])
        sheet.append(["Station", "Valve", None, "Wire", None, "Flushed"])
        sheet.append([None, "area", "box", "color", "gauge", None])
        sheet.append([1, "lawn", 7, "red", 14, datetime.date(2026, 3, 14)])
        sheet.append([2.0, "beds", None, "blue", 14.0, None])
        sheet.append([])
        sheet.append(["Station", "area", "box", "color", "gauge", "Flushed"])
        sheet.append([3, "trees", 8, "green", 0.1 + 0.2, "3/4 full"])
        sheet.append(["Sum", 3])
        sheet.merge_cells("C5:C6")
        sheet.row_dimensions[6].hidden = True

    made = imported(xlsx(fill))
    assert codes(made) == ["sheet-left-out", "sheet-left-out"]  # the hidden row, the sum
    assert stations_in(made) == {
        "A1": {
            "area": "lawn",
            "box": "VB-7",
            "hot": "A-K1 red",
            "extra": {"Wire gauge": "14", "Flushed": "2026-03-14"},
        },
        "A2": {"area": "beds", "box": "VB-7", "hot": "A-K1 blue", "extra": {"Wire gauge": "14"}},
        "A3": {
            "area": "trees",
            "box": "VB-8",
            "hot": "A-K1 green",
            "extra": {"Wire gauge": "0.3", "Flushed": "3/4 full"},
        },
    }
    assert made.text is not None and "  site: Alder Park\n" in made.text


def test_controllers_in_a_column_of_their_own() -> None:
    text = "Controller,Sta,Zona\nController B,1,lawn\nNorth 2,1,beds\n"
    assert list(stations_in(imported(csv_book(text)))) == ["B1", "North-2-1"]


LIST = "Sta,Waters,Box,Wire colour,Notes,Plants\n"


def test_a_list_changes_what_differs_in_a_job() -> None:
    text = LIST + (
        'A1,"front lawn west, spray",front walk,red,keep clear,roses\n'
        "2,x,VB-2,orange,,\n"
        "A9,new,by the shed,brown,,\n"
    )
    text = text.replace("\n2,", "\nA-2,")
    update = update_of(csv_book(text), sample("larkspur"), "job.yaml")
    assert [p.code for p in update.problems] == ["sheet-color"]  # no cable goes to the shed yet
    update = update_of(csv_book(text.replace(",brown", ",")), sample("larkspur"), "job.yaml")
    assert update.changes is not None
    assert {c.path: getattr(c, "value", None) for c in update.changes} == {
        ("boxes", "VB-4"): {"place": "by the shed"},
        ("stations", "A1", "notes"): "keep clear",
        ("stations", "A1", "extra"): {"Plants": "roses"},
        ("stations", "A2", "area"): "x",
        ("stations", "A2", "box"): "VB-2",
        ("stations", "A2", "hot"): "A-K1 orange",
        ("stations", "A9"): {"area": "new", "box": "VB-4"},
    }
    assert update.not_listed == ("A3", "A4", "A5", "A6")


def test_the_list_of_an_export_says_the_same() -> None:
    for name in ("heron", "quarry"):
        rows = exported(sample(name), "job.yaml").sheets["stations"]
        update = update_of(book_of_rows({"": rows}), sample(name), "job.yaml")
        assert update.changes == () and update.not_listed == ()


def test_a_column_with_the_one_site_of_all_rows_is_the_site_of_the_job() -> None:
    table = "Park,Sta,Area\nElm Court,1,lawn\nelm  court,2,beds\n"
    made = imported(csv_book(table))
    assert made.text is not None and made.title == "Elm Court"
    assert "  site: Elm Court\n" in made.text and "  code: ELM-COURT " in made.text
    assert [station.get("extra") for station in stations_in(made).values()] == [None, None]
    # Into that job it changes only what differs; in another one the column is the user's own.
    again = update_of(csv_book(table.replace("beds", "roses")), made.text, "elm.yaml")
    assert again.changes is not None and len(again.changes) == 1
    other = update_of(csv_book(table.replace("lm", "lder")), made.text, "elm.yaml")
    assert other.changes is not None and "Park" in str(other.changes)
