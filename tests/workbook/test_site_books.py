"""A book with several sites, however it says which: by a column, or each on a sheet of its own."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest

from cardgen.problems import UserError
from cardgen.workbook.importing import ImportedJob, job_of_list, update_of
from cardgen.workbook.list_job import NewJob
from cardgen.workbook.new_sites import new_sites
from cardgen.workbook.site_books import site_books
from cardgen.workbook.site_jobs import SiteJob, file_names, job_of_site, site_codes
from tests.jobs import well_said
from tests.workbook.books import KEY, book_of_rows, csv_book, imported, shown, stations_in, xlsx


def told(book: Any) -> list[str]:
    """What is wrong with the book as a whole, and with each site in it."""
    sites, problems = site_books(book)
    new = NewJob(key=KEY)
    problems += tuple(p for each in sites for p in job_of_list(each.book, new).problems)
    return [f"{well_said(p).span}: {p.sentence}" for p in sorted(problems, key=lambda p: p.span)]


def jobs_of(book: Any) -> dict[str, ImportedJob]:
    sites, problems = site_books(book)
    assert problems == (), [shown(p) for p in problems]
    return {s.site: job_of_list(s.book, NewJob(key=KEY, site=s.site)) for s in sites}


def test_the_column_of_the_site_by_any_heading_at_any_place() -> None:
    """`Job` beside `Site` is a column of the user's own."""
    for heading in ("site", "JOB", "Property name", "Sitio", "Obra:", "Parque", "Job site"):
        for at in (0, 1, 2):
            rows = [["Sta", "Waters"], ["A1", "lawn"], ["A1", "beds"], ["A2", "trees"]]
            for row, text in zip(rows, (heading, "Elm", "Oak", "ELM "), strict=True):
                row.insert(at, text)
            made = jobs_of(book_of_rows({"": rows}))
            assert {site: stations_in(job) for site, job in made.items()} == {
                "Elm": {"A1": {"area": "lawn"}, "A2": {"area": "trees"}},
                "Oak": {"A1": {"area": "beds"}},
            }, (heading, at)
    made = jobs_of(csv_book("Job,Site,Sta,Area\n17,Elm,1,lawn\n17,Oak,1,beds\n"))
    assert stations_in(made["Oak"]) == {"A1": {"area": "beds", "extra": {"Job": "17"}}}


def test_a_sheet_for_each_site() -> None:
    """The name of the sheet is the site, whatever title stands in it."""

    def fill(sheet: Any) -> None:
        sheet.title = "Elm"
        for rows in (["Stations 2026"], ["Estación", "Área", "Común"], [1, "pasto", "blanco"]):
            sheet.append(rows)
        other = sheet.parent.create_sheet("Oak")
        other.append(["Area", "Sta"])
        other.append(["lawn", 4])

    made = jobs_of(xlsx(fill))
    assert stations_in(made["Elm"]) == {"A1": {"area": "pasto", "extra": {"Común": "blanco"}}}
    assert stations_in(made["Oak"]) == {"A4": {"area": "lawn"}}
    assert made["Elm"].text is not None and "  site: Elm\n" in made["Elm"].text


def test_all_that_is_unclear_in_any_site_is_told_at_its_cell() -> None:
    text = (
        "Site,Sta,Area,Wire\nElm,1,x,red\n,2,y,blue\n#REF!,3,z,tan\nElm Total,,2,\n"
        "Site,Sta,Area,Wire\nOak,first,z,red\nElm,1,w,pnik\nOak,2,v,grene\nGrand total,,3,\n"
    )
    assert told(csv_book(text)) == [
        "list.csv:3:1: this row has no site, but '2'",
        "list.csv:4:1: the cell shows the error #REF!",
        "list.csv:5:1: 'Elm Total' counts as a sum below the list and is left out",
        "list.csv:7:5: 'first' names no station",
        "list.csv:8:5: 'A1' is written twice",
        "list.csv:9:9: 'grene' is no color that is known",
        "list.csv:10:1: 'Grand total' counts as a sum below the list and is left out",
    ]
    assert told(csv_book("Sta,Area\n1,x\n")) == [
        "list.csv:1:1: no column says which site a row is of"
    ]
    assert told(csv_book("hello\n")) == ["list.csv:1:1: this list has no row of headings"]
    rows = [["Site", "Sta", "Area"], ["Elm", "1", "x"]]
    sheets = {"North": rows, "South": [*rows, ["Oak", "1", "x"]], "Phones": [["office", "555"]]}
    assert told(book_of_rows(sheets)) == [
        "book.xlsx:Phones:1:1: A1: the sheet 'Phones' is not read: it has no list of stations",
        "book.xlsx:South:2:1: A2: the site 'Elm' is in the sheet 'North' too",
    ]


def test_names_of_files_and_codes() -> None:
    """No name is one that is there; what tells two sites apart is in the code."""
    sites = ["Elm", "ELM.", "Aux", "Ñandú No. 5", "公園", "..", "Long Meadow Field 12", "A" * 50]
    assert [*file_names(sites, ["elm.yaml", "notes.txt"])] == [
        *("elm-2.yaml", "elm-3.yaml", "aux-site.yaml", "nandu-no-5.yaml", "site.yaml"),
        *("site-2.yaml", "long-meadow-field-12.yaml", "a" * 40 + ".yaml"),
    ]
    assert [*site_codes(sites, ["elm", "SITE"])] == [
        *("ELM-2", "ELM-3", "AUX", "NANDU-NO-5", "SITE-2", "SITE-3", "LONG-12", "A" * 12),
    ]


def test_a_column_with_the_code_of_each_job() -> None:
    """Under a plain heading only where it tells the sites apart; else it is the user's own."""

    def codes(text: str) -> dict[str, Any]:
        found = new_sites(site_books(csv_book(text))[0], [], lambda: KEY)
        assert found.problems == (), [shown(p) for p in found.problems]
        texts = {site.site: job.text or "" for site, job in found.made}
        found_in = re.compile(r"^  code: (\S+)", re.MULTILINE).findall
        return {site: found_in(text)[0] for site, text in texts.items()}

    for heading in ("Job code", "JOB #", "Código de la obra", "Clave de obra", "Code", "Clave"):
        text = f"Site,{heading},Sta,Area\nElm,E-4,1,x\nOak,O 9?,1,x\n"
        assert codes(text.replace("O 9?", "O-9")) == {"Elm": "E-4", "Oak": "O-9"}, heading
        assert codes(text.replace("O 9?", "")) == {"Elm": "E-4", "Oak": "OAK"}, heading
    # Only the code, as lists of several jobs that were put together have it.
    made = jobs_of(csv_book("Job code,Sta,Area\nE-4,1,x\nO-9,1,y\n"))
    assert [(site, job.code) for site, job in made.items()] == [("E-4", "E-4"), ("O-9", "O-9")]
    # Codes of something else, of each station or the same everywhere, stay as they are.
    for values in (("a", "b", "c"), ("a", "a", "a")):
        rows = zip(("Elm", "Elm", "Oak"), values, "121", strict=True)
        table = "".join(f"{site},{value},{number},x\n" for site, value, number in rows)
        made = jobs_of(csv_book(f"Site,Code,Sta,Area\n{table}"))
        assert stations_in(made["Oak"])["A1"]["extra"] == {"Code": values[2]}
        assert made["Oak"].code == ""
    # A proposal is never the code that the list gives to another.
    assert codes("Site,Job code,Sta,Area\nElm,,1,x\nOak,ELM,1,x\n") == {
        "Elm": "ELM-2",
        "Oak": "ELM",
    }


def test_a_code_that_cannot_be_is_told_at_its_cell() -> None:
    head = "Site,Job code,Sta,Area\n"
    assert told(csv_book(f"{head}Elm,E-4,1,x\nElm,e-4,2,x\nElm,E-5,3,x\n")) == [
        "list.csv:4:5: the code of the job is 'E-5' here, but 'E-4' above"
    ]
    (wrong,) = told(csv_book(f"{head}Elm,E 4 / 5,1,x\n"))
    assert wrong.startswith("list.csv:2:5: 'E 4 / 5' is no code of a job: ")
    sites, _ = site_books(csv_book(f"{head}Elm,E-4,1,x\nOak,e-4,1,x\nAsh,A-1,1,x\n"))
    there = SiteJob(path=Path("jobs/yew.yaml"), text="", site="Yew", code="A-1")
    problems = new_sites(sites, [there], lambda: KEY).problems
    assert [f"{p.span}: {p.sentence}" for p in problems] == [
        "list.csv:3:5: the code 'e-4' is that of 'Elm' too",
        "list.csv:4:5: the code 'A-1' is that of 'yew.yaml' too",
    ]


def test_a_code_in_a_list_changes_that_of_the_job() -> None:
    first = imported(csv_book("Sta,Area,Job no.\n1,x,E-4\n2,y,\n")).text
    assert first is not None and "\n  code: E-4 " in first
    same = update_of(csv_book("Sta,Area,Job no.\n1,x,E-4\n2,y,E-4\n"), first, "job.yaml")
    assert same.changes == ()
    other = update_of(csv_book("Sta,Job no.\n1,E-5\n"), first, "job.yaml").changes
    assert other is not None
    assert [(c.path, getattr(c, "value", None)) for c in other] == [(("job", "code"), "E-5")]


def test_the_job_of_a_site_is_one() -> None:
    def job(name: str, site: str, code: str) -> SiteJob:
        return SiteJob(path=Path(name), text="", site=site, code=code)

    sites, _ = site_books(csv_book("Site,Sta,Area\nElm,1,x\nOAK-2,1,x\nNew,1,x\n"))
    elm, oak = job("a", "elm", "X"), job("b", "Oak Park", "Oak-2")
    assert job_of_site(sites, [oak, elm, job("c", "Else", "C")]) == {"Elm": elm, "OAK-2": oak}
    # The name of a site goes before the code of another.
    assert job_of_site(sites, [elm, job("c", "Else", "ELM")])["Elm"] == elm
    with pytest.raises(UserError, match="'a' and 'c' are both a job of the site 'Elm'"):
        job_of_site(sites, [elm, job("c", "Elm", "C")])
    with pytest.raises(UserError, match="the sites 'Elm' and 'OAK-2' of the list are both in 'd'"):
        job_of_site(sites, [job("d", "Elm", "OAK-2")])


def test_a_list_that_became_a_job_says_the_same() -> None:
    """Also where it leaves open which conductor is meant, or says no area."""
    lists = (
        "Sta,Area,Box,Wire,Common\n1,x,1,red,white\n2,,1,blue,white\n",
        "Sta,Area,Box,Wire,Common\n1,x,1,red,white\n2,y,1,blue,black\n",  # two commons
        "Sta,Area,Box,Wire,Common\n1,x,1,red,red\n2,y,1,blue,red\n",  # the color of a hot
        "Sta,Area,Box,Wire,Common\nA1,x,1,red,white\nA2,y,1,red,white\nB1,z,2,blue,tan\n",
        "Sta,Box,Wire\n1,1,red\n2,,blue\n",
    )
    for text in lists:
        made = imported(csv_book(text))
        assert made.text is not None
        update = update_of(csv_book(text), made.text, "job.yaml")
        assert update.changes == (), (text, [shown(p) for p in update.problems])
    first = imported(csv_book(lists[0])).text
    assert first is not None and "    common: A-K1 white " in first
    assert "    colors: [white, red, blue]\n" in first
    # Another color of its common: the conductor of that color, or the cell is told.
    again = lists[0].replace("blue,white", "blue,tan")
    update = update_of(csv_book(again), first.replace("[white,", "[white, tan,"), "job.yaml")
    assert update.changes is not None
    assert {c.path: getattr(c, "value", None) for c in update.changes} == {
        ("stations", "A2", "common"): "A-K1 tan"
    }
    update = update_of(csv_book(again), first, "job.yaml")
    assert [(p.code, str(p.span)) for p in update.problems] == [("sheet-color", "list.csv:3:11")]
