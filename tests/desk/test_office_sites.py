"""An office with 14 sites in one workbook at the desk: all tags, two changes, only their prints.

The sites are those of `tests/cli/test_import_sites.py`, with their names and codes by hand.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from pathlib import Path
from urllib.parse import urlsplit

import pytest
from playwright.sync_api import Browser, Page, expect

from cardgen.memory.prints import read_log
from tests.cli.test_import_sites import (
    PRINTED,
    SITES,
    many_stations,
    type_into,
    workbook_of_sites,
)
from tests.desk.clients import DeskClient, answering
from tests.desk.desks import cell, desk_page, open_desk, typed
from tests.desk.tags_read import tags_read
from tests.record.browser import MAKING_MS
from tests.record.test_access import axe_finds_nothing

LAKE, JUNIPER = "heron-lake", "juniper"  # what is changed: in the workbook, in the grid
_HIDDEN = re.compile(r'type="hidden" name="(\w+)" value="([^"]*)"')


@pytest.mark.usefixtures("may_print")
def test_an_office_with_fourteen_sites(browser: Browser, tmp_path: Path) -> None:
    table, folder = tmp_path / "sites.xlsx", tmp_path / "jobs"
    folder.mkdir()
    workbook_of_sites(table)
    with open_desk(folder) as address, desk_page(browser) as (page, faults):
        page.goto(address)
        bring_sites_in(page, table)
        expect(page.locator("#jobs tr")).to_have_count(14, timeout=MAKING_MS)
        print_all(page)
        all_tags_are_there(folder)
        hang_all(page, folder)
        before = everything_in(folder)
        change_in_workbook(page, table, before, folder)
        change_in_grid(page, folder)
        reissue(
            page, LAKE, "Take down: 0. Replace: 1. Put up: 0.", {"VB-2: valve tag A3": "replace"}
        )
        reissue(
            page, JUNIPER, "Take down: 1. Replace: 1. Put up: 1.",
            {
                "VB-1: valve tag A2": "replace",
                "VB-3: valve tag A6": "take down",
                "VB-3: valve tag A7": "put up",
            },
        )  # fmt: skip
        assert faults == []
    only_what_changed_is_printed(folder, before)


def bring_sites_in(page: Page, table: Path) -> None:
    """What comes is shown first."""
    page.get_by_role("link", name="New job from a spreadsheet or a list").click()
    page.get_by_label("Spreadsheet (.xlsx) or CSV file").set_input_files(table)
    page.get_by_label("Web address of the job record").fill("https://jobs.example.com")
    page.get_by_role("button", name="Make the job").click()
    expect(page.get_by_role("heading", name="New jobs: 14")).to_be_visible(timeout=MAKING_MS)
    expect(page.locator("ul.plain li", has_text="O'Hara Field #3, stations: 6")).to_be_visible()
    expect(page.get_by_role("alert")).to_contain_text("row 65, column 1: A65: 'Total'")
    axe_finds_nothing(page)
    page.get_by_role("button", name="Make these jobs").click()


def print_all(page: Page) -> None:
    page.get_by_label("Choose all that are listed").check()
    page.get_by_role("button", name="Print the chosen jobs").click()
    page.get_by_label("Box tags").uncheck()
    page.get_by_role("button", name="Make the PDF files").click()
    expect(page.locator("#queue-said")).to_have_text(
        "Done. 14 of 14 jobs are printed.", timeout=120_000
    )


def all_tags_are_there(folder: Path) -> None:
    keys = set()
    for number, (stem, code) in enumerate(SITES.values()):
        text = (folder / f"{stem}.yaml").read_text(encoding="utf-8")
        key = re.findall(r"key: (\w+)", text)[0]
        keys.add(key)
        tags = tags_read(folder / f"{stem}-cards" / "valve-tags.pdf", with_codes=True)
        assert [tag.valve for tag in tags] == [f"A{n}" for n in range(1, many_stations(number) + 1)]
        for station, (tag, color) in enumerate(zip(tags, PRINTED, strict=False), 1):
            box = f"VB-{(station + 1) // 2}"
            place = f"A{station} box {box} controller A, terminal {station}"
            assert tag.text.startswith(f"{place} bed {number}.{station} {color} "), tag
            assert tag.codes == (f"HTTPS://JOBS.EXAMPLE.COM/{key}/{box}",)
            assert f"{code} · rev 1" in tag.text
    assert len(keys) == 14


def open_part(page: Page, stem: str, link: str) -> None:
    """A page of a job, from the list of all."""
    page.get_by_role("link", name="All jobs").click()
    page.locator("#jobs tr", has_text=f"{stem}.yaml").get_by_role("link").click()
    page.get_by_role("link", name=link, exact=True).click()


def hang_all(page: Page, folder: Path) -> None:
    """Those that are changed later by their button, the others by what it sends."""
    for stem in (LAKE, JUNIPER):
        open_part(page, stem, "Print")
        page.get_by_role("button", name="These hang now").click()
        expect(page.locator("main")).to_contain_text("Revision 1 hangs.")
    here = "{0.scheme}://{0.netloc}".format(urlsplit(page.url))
    for stem, _ in SITES.values():
        if stem not in (LAKE, JUNIPER):
            page.request.post(
                f"{here}/jobs/{stem}.yaml/hang",
                headers={"Origin": here},
                form={"revision": "1", "hangs": "yes"},
            )
        assert read_log(folder / f"{stem}-cards").hung == {1}


def everything_in(folder: Path) -> Mapping[str, bytes]:
    """Job files and prints, but no memory of the desk's own."""
    paths = [path for path in sorted(folder.rglob("*")) if path.is_file()]
    return {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in paths
        if not path.relative_to(folder).parts[0].startswith(".")
    }


def change_in_workbook(page: Page, table: Path, before: Mapping[str, bytes], folder: Path) -> None:
    """One cell of 63 rows: one line of one of 14 files, shown before it is written."""
    type_into(table, "Heron Lake", 3, 1, "rose bed north")
    page.get_by_role("link", name="All jobs").click()
    page.get_by_role("link", name="New job from a spreadsheet or a list").click()
    page.get_by_label("Spreadsheet (.xlsx) or CSV file").set_input_files(table)
    page.get_by_role("button", name="Make the job").click()
    expect(page.locator(".changes li")).to_have_text(["Station A3 Area: bed 9.3 -> rose bed north"])
    expect(page.locator("main")).to_contain_text("Nothing changes in alder-park.yaml, ")
    assert everything_in(folder) == before
    axe_finds_nothing(page)
    page.get_by_role("button", name="Write these changes").click()
    expect(page.locator("#jobs tr")).to_have_count(14, timeout=MAKING_MS)
    old = before[f"{LAKE}.yaml"].decode()
    assert everything_in(folder) == {
        **before,
        f"{LAKE}.yaml": old.replace("bed 9.3,", "rose bed north,").encode(),
    }


def change_in_grid(page: Page, folder: Path) -> None:
    """One station gets another wire, one goes, one comes."""
    page.locator("#jobs tr", has_text=f"{JUNIPER}.yaml").get_by_role("link").click()
    page.locator("#tab-cables").click()
    colors = cell(page, 0, "colors")
    expect(colors).to_contain_text("white, red, blue")
    typed(page, 0, "colors", "white, red, blue, green, yellow, orange, brown, tan")
    page.locator("#tab-controllers").click()
    typed(page, 0, "stations", "8")
    page.locator("#tab-stations").click()
    typed(page, 1, "hot", "A-K1 tan")
    cell(page, 5, "name").click()
    page.locator("#remove-rows").click()
    expect(cell(page, 5, "name")).to_have_text("")
    typed(page, 5, "name", "A7", "herb bed", "VB-3", "A-K1 brown")
    expect(page.locator("#saved")).to_have_text("Saved")
    page.wait_for_function("() => document.body.dataset.judged === jobPage.version")
    assert page.locator(".findings .error").count() == 0
    text = (folder / f"{JUNIPER}.yaml").read_text(encoding="utf-8")
    assert "  A6:" not in text and re.search(r"A2: \{area: bed 11.2, .*hot: A-K1 tan", text)


def reissue(page: Page, stem: str, counts: str, listed: Mapping[str, str]) -> None:
    open_part(page, stem, "Print")
    expect(page.locator("main")).to_contain_text("Revision 1 hangs.")
    expect(page.locator("main")).to_contain_text(counts)
    told = page.locator(".stale").inner_text()
    found: dict[str, str] = {}
    part = ""
    for line in told.splitlines():
        if head := re.match(r"(TAKE DOWN|REPLACE|PUT UP) \(", line):
            part = head[1].lower()
        elif match := re.search(r"(VB-\d: valve tag A\d)$", line):
            found[match[1]] = part
    assert found == listed, told
    axe_finds_nothing(page)
    page.get_by_role("button", name="Raise to revision 2, and print only").click()
    expect(page.get_by_role("link", name="since-1/valve-tags.pdf")).to_be_visible(timeout=MAKING_MS)


def only_what_changed_is_printed(folder: Path, before: Mapping[str, bytes]) -> None:
    """Nothing of the 12 other sites, and of the two only the tags that say something new."""
    after = everything_in(folder)
    touched = {name for name in after if after[name] != before.get(name)}
    assert {name.split("/")[0] for name in touched} == {
        *(f"{stem}.yaml" for stem in (LAKE, JUNIPER)),
        *(f"{stem}-cards" for stem in (LAKE, JUNIPER)),
    }
    assert before.keys() <= after.keys()
    (rose,) = tags_read(folder / f"{LAKE}-cards" / "since-1" / "valve-tags.pdf")
    assert rose.text.startswith("A3 box VB-2 controller A, terminal 3 rose bed north green ")
    assert "HERON-LAKE · rev 2" in rose.text
    moved, herbs = tags_read(folder / f"{JUNIPER}-cards" / "since-1" / "valve-tags.pdf")
    assert moved.text.startswith("A2 box VB-1 controller A, terminal 2 bed 11.2 tan ")
    assert herbs.text.startswith("A7 box VB-3 controller A, terminal 7 herb bed brown ")
    assert all("JUNIPER · rev 2" in tag.text for tag in (moved, herbs))


def test_sites_that_change_while_the_list_is_looked_at_are_shown_again(tmp_path: Path) -> None:
    """And what is unclear in one site keeps all from being written."""
    table, folder = tmp_path / "sites.xlsx", tmp_path / "jobs"
    folder.mkdir()
    workbook_of_sites(table)

    def sent(desk: DeskClient) -> dict[str, str | list[str]]:
        page = desk.upload("/from-list", {"address": ""}, table.read_bytes())
        return {**dict(_HIDDEN.findall(page.text)), "page": page.text}

    with answering(folder) as port:
        desk = DeskClient(port)
        made = desk.form("/from-list/sites", sent(desk))
        assert (made.status, made.headers["Location"]) == (303, "/")
        assert len(list(folder.glob("*.yaml"))) == 14
        # No address was given, so none is invented.
        assert all("record:" not in path.read_text("utf-8") for path in folder.glob("*.yaml"))
        type_into(table, "Juniper", 1, 1, "orchard")
        late = sent(desk)
        path = folder / f"{JUNIPER}.yaml"
        path.write_text(path.read_text("utf-8").replace("bed 11.2", "walk"), "utf-8")
        before = everything_in(folder)
        again = desk.form("/from-list/sites", late)
        assert again.status == 200 and "changed meanwhile" in again.text
        assert "Area: walk -&gt; bed 11.2" in again.text
        assert everything_in(folder) == before
        assert desk.form("/from-list/sites", dict(_HIDDEN.findall(again.text))).status == 303
        assert "area: orchard," in path.read_text("utf-8")
        # It can be undone as any other step.
        told = desk.data(f"/jobs/{JUNIPER}.yaml")
        desk.send("undo", {"version": told["version"]}, f"/jobs/{JUNIPER}.yaml")
        assert everything_in(folder) == before
        type_into(table, "1204", 2, 4, "gren")
        unclear = sent(desk)
        assert "seen" not in unclear and "gren" in unclear["page"]
        assert desk.form("/from-list/sites", {"list": "%"}).status == 400
        assert everything_in(folder) == before
