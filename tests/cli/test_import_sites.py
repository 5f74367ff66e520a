"""An office with 14 sites in one workbook: jobs, tags, one change, and only its tag again."""

from __future__ import annotations

import re
import subprocess
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import openpyxl
import pytest

from tests.cli.test_cli import run
from tests.jobs import edit

# By site the name of its job file and its code, both written out by hand.
SITES = {
    "Alder Park": ("alder-park", "ALDER-PARK"),
    "Birch Green": ("birch-green", "BIRCH-GREEN"),
    "Cañada Vista": ("canada-vista", "CANADA-VISTA"),
    "O'Hara Field #3": ("o-hara-field-3", "O-HARA-3"),
    "O'Hara Field #4": ("o-hara-field-4", "O-HARA-4"),
    "Con": ("con-site", "CON"),  # a name that Windows keeps
    "Elm St. & 4th": ("elm-st-4th", "ELM-ST-4TH"),
    "Fern Hollow Maintenance Yard and Old Nursery": (
        "fern-hollow-maintenance-yard-and-old",
        "FERN-HOLLOW",
    ),
    "LARCH-07": ("larch-07", "LARCH-07"),
    "Heron Lake": ("heron-lake", "HERON-LAKE"),
    "1204": ("1204", "1204"),
    "Juniper": ("juniper", "JUNIPER"),
    "Kestrel, North": ("kestrel-north", "KESTREL"),
    "Kestrel: North": ("kestrel-north-2", "KESTREL-2"),
}
# As a crew writes them, and as a tag says them.
COLORS = ("red", "blu", "Green", "yel", "naranja", "café")
PRINTED = ("red", "blue", "green", "yellow", "orange", "brown")


def many_stations(number: int) -> int:
    return 3 + number % 4


def workbook_of_sites(path: Path) -> None:
    """The rows of a site do not stand together; a title, a sum and another sheet stand around."""
    book = openpyxl.Workbook()
    sheet: Any = book.active
    sheet.title = "Stations"
    sheet.append(["Valves of all sites"])
    sheet.append([])
    sheet.append(["Sta", "Waters", "Property", "Valve box", "Wire color", "Common", "Plants"])
    for station in range(1, 7):
        for number, site in enumerate(SITES):
            if station <= many_stations(number):
                name = f"  {site.upper()} " if station == 2 else site
                box = f"VB {(station + 1) // 2}"
                area = f"bed {number}.{station}"
                color = COLORS[station - 1]
                sheet.append([station, area, name, box, color, "white", "roses"])
    sheet.append(["Total", None, None, None, 60])
    book.create_sheet("Who to call").append(["the office"])
    book.save(path)


def type_into(path: Path, site: str, station: int, column: int, value: str) -> str:
    """The cell that was typed into, as a person calls it."""
    book = openpyxl.load_workbook(path)
    sheet = book["Stations"]
    cell = next(
        row[column]
        for row in sheet.iter_rows(min_row=4)
        if row[0].value == station and str(row[2].value).strip().upper() == site.upper()
    )
    cell.value = value
    book.save(path)
    return str(cell.coordinate)


def words_on(pdf: Path) -> str:
    """Read back by another program."""
    done = subprocess.run(["pdftotext", "-raw", str(pdf), "-"], capture_output=True, check=True)
    return done.stdout.decode()


def texts(folder: Path) -> Mapping[str, str]:
    return {path.name: path.read_text("utf-8") for path in sorted(folder.iterdir())}


def names_of_sites_in(made: Mapping[str, str]) -> None:
    assert made.keys() == {f"{stem}.yaml" for stem, _ in SITES.values()}
    assert len({re.findall("key: (\\w+)", text)[0] for text in made.values()}) == 14
    for site, (stem, job_code) in SITES.items():
        text = made[f"{stem}.yaml"]
        assert f"code: {job_code} " in text
        assert re.search(f"site: '?{re.escape(site).replace(chr(39), chr(39) * 2)}'?\n", text)


def tags_of_all_sites_in(out: Path) -> None:
    for number, (stem, job_code) in enumerate(SITES.values()):
        tags = words_on(out / stem / "valve-tags.pdf")
        assert re.findall(r"bed (\d+\.\d+)", tags) == [
            f"{number}.{station}" for station in range(1, many_stations(number) + 1)
        ]
        colors = re.findall("^(red|blue|green|yellow|orange|brown)\\b", tags, re.MULTILINE)
        assert colors == [*PRINTED[: many_stations(number)]]
        assert tags.count(f"{job_code} · rev 1") == many_stations(number) + 1  # and the foot


def test_fourteen_sites_of_one_workbook(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    table, jobs, out = tmp_path / "SITES.xlsx", tmp_path / "sites", tmp_path / "out"
    workbook_of_sites(table)

    def said(*argv: Any) -> tuple[int, str, str]:
        capsys.readouterr()
        code = run(*argv)
        streams = capsys.readouterr()
        return code, streams.out, streams.err

    # Two mistakes in two sites: both are told in one run, and nothing is written.
    bad = {type_into(table, "Juniper", 3, 4, "gren"), type_into(table, "1204", 1, 0, "first")}
    code, _, err = said("import", table, "--out", jobs, "--format", "short")
    assert code == 1 and not jobs.exists()
    told = re.findall(r"SITES\.xlsx:Stations:(\d+):(\d+): error: ([A-Z]\d+):", err)
    assert {cell for _, _, cell in told} == bad and len(told) == 2
    assert all(f"{'ABCDE'[int(column) - 1]}{row}" == cell for row, column, cell in told)
    workbook_of_sites(table)

    # A job for each, whose file and code say which site it is; each has a key of its own.
    code, printed, err = said("import", table, "--out", jobs)
    assert code == 0 and "14 jobs are written." in printed
    assert "'Total' counts as a sum" in err and "'Who to call' is not read" in err
    made = texts(jobs)
    names_of_sites_in(made)

    # Taken again, the list changes nothing, and nothing is overwritten.
    assert said("import", table, "--out", jobs)[0] == 0
    assert "14 jobs say the same already" in said("import", table, "--into", jobs, "--in-place")[1]
    assert texts(jobs) == made

    # Lengths of the jobs but every third, as a person writes them; then all tags are printed.
    for number, (stem, _) in enumerate(SITES.values()):
        if number % 3:
            filled = edit(made[f"{stem}.yaml"], "[A, not known, VB-1", "[A, 85 ft, VB-1")
            (jobs / f"{stem}.yaml").write_text(filled, "utf-8")
    code, printed, _ = said("print", jobs, "--out", out, "--only", "valve-tags")
    assert code == 0 and "14 jobs: 14 done" in printed
    tags_of_all_sites_in(out)

    # One station of one site changes: one line of one file; then its tag alone is printed.
    before = texts(jobs)
    type_into(table, "Heron Lake", 3, 1, "rose bed north")
    code, shown, _ = said("import", table, "--into", jobs)
    heron = jobs / "heron-lake.yaml"
    assert shown == (
        f"{heron}:\n  stations A3 area: bed 9.3 -> rose bed north\n"
        "Nothing is written yet: add --in-place.\n"
    )
    assert texts(jobs) == before
    assert said("import", table, "--into", jobs, "--in-place")[0] == 0
    after = texts(jobs)
    assert after == {
        **before,
        heron.name: edit(before[heron.name], "area: bed 9.3,", "area: rose bed north,"),
    }
    heron.write_text(edit(after[heron.name], "revision: 1 ", "revision: 2 "), "utf-8")
    code, printed, _ = said("print", jobs, "--out", out, "--only", "valve-tags", "--since", 1)
    assert code == 0 and printed.count("nothing has changed since revision 1") == 13
    again = list(out.glob("*/since-1/valve-tags.pdf"))
    assert again == [out / "heron-lake" / "since-1" / "valve-tags.pdf"]
    tag = words_on(again[0])
    assert re.findall("^A\\d", tag, re.MULTILINE) == ["A3"] and "rose bed north" in tag
    assert tag.count("HERON-LAKE · rev 2") == 2  # on the tag, and at the foot
