"""An office with lists and many jobs in a real browser: in, out, a queue, what hangs, a crew."""

from __future__ import annotations

from pathlib import Path
from threading import Event

import pytest
from playwright.sync_api import Browser, Page, expect
from pypdf import PdfReader

from cardgen.memory.prints import read_log
from tests.desk.desks import TABLET, cell, desk_page, open_desk
from tests.jobs import edit, sample
from tests.record.browser import MAKING_MS
from tests.record.test_access import axe_finds_nothing

pytestmark = pytest.mark.xdist_group("browser")

_TOO_WIDE = "() => document.documentElement.scrollWidth - innerWidth"
LIST = "Station,Area,Box,Wire color\n1,front lawn,VB-1,red\n2,rose bed,VB-1,blue\n"
MISTAKEN = LIST + "2,side yard,VB-2,green\n"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    for name in ("ash", "fir", "oak"):
        text = edit(sample("larkspur"), "code: LARK-06", f"code: {name.upper()}")
        (tmp_path / f"{name}.yaml").write_text(text, encoding="utf-8")
    return tmp_path


def test_an_office_day(browser: Browser, folder: Path, may_print: Event) -> None:
    with open_desk(folder) as address, desk_page(browser) as (page, faults):
        page.goto(address)
        make_job_from_list(page, folder)
        bring_list_in(page, folder)
        print_all(page, folder, may_print)
        hang_and_change(page, folder)
        bundle(page, folder)
        assert faults == []


def make_job_from_list(page: Page, folder: Path) -> None:
    """A mistake in the file is told at its cell; the corrected list is pasted."""
    page.get_by_role("link", name="New job from a spreadsheet or a list").click()
    page.get_by_label("Or paste the list here").wait_for()
    axe_finds_nothing(page)
    page.get_by_label("Spreadsheet (.xlsx) or CSV file").set_input_files(
        {"name": "elm.csv", "mimeType": "text/csv", "buffer": MISTAKEN.encode()}
    )
    page.get_by_label("Site, if the list does not say it").fill("Elm Park")
    page.get_by_role("button", name="Make the job").click()
    expect(page.get_by_role("alert")).to_contain_text("elm.csv, row 4, column 1:")
    axe_finds_nothing(page)
    assert not (folder / "elm-park.yaml").exists()
    page.get_by_label("Or paste the list here").fill(LIST)
    page.get_by_role("button", name="Make the job").click()
    link = page.get_by_role("link", name="Open the job")
    if link.is_visible():  # there was something to say of the list
        link.click()
    expect(cell(page, 1, "area")).to_have_text("rose bed")
    assert (folder / "elm-park.yaml").exists()


def bring_list_in(page: Page, folder: Path) -> None:
    """Every change is shown before it is written, and can be undone."""
    before = (folder / "elm-park.yaml").read_bytes()
    page.get_by_role("link", name="Spreadsheet").click()
    page.get_by_label("Or paste the list here").wait_for()
    axe_finds_nothing(page)
    page.get_by_label("Or paste the list here").fill("Station\tArea\nA2\therb bed\n")
    page.get_by_role("button", name="Show the changes").click()
    expect(page.locator(".changes li")).to_have_text("Station A2 Area: rose bed -> herb bed")
    axe_finds_nothing(page)
    assert (folder / "elm-park.yaml").read_bytes() == before
    page.get_by_role("button", name="Write these changes").click()
    expect(cell(page, 1, "area")).to_have_text("herb bed")
    page.locator("#undo").click()
    expect(cell(page, 1, "area")).to_have_text("rose bed")
    assert (folder / "elm-park.yaml").read_bytes() == before


def print_all(page: Page, folder: Path, may_print: Event) -> None:
    """Stopped and loaded again, it goes on; what failed says why."""
    page.get_by_role("link", name="All jobs").click()
    chosen = page.get_by_role("button", name="Print the chosen jobs")
    expect(chosen).to_be_disabled()
    page.get_by_label("Choose all that are listed").check()
    axe_finds_nothing(page)
    chosen.click()
    page.get_by_role("button", name="Make the PDF files").wait_for()
    axe_finds_nothing(page)
    may_print.clear()
    page.get_by_role("button", name="Make the PDF files").click()
    with page.expect_response("**/queue/stop"):
        page.get_by_role("button", name="Stop").click()
    may_print.set()
    expect(page.locator("#queue-said")).to_contain_text("Stopped.", timeout=MAKING_MS)
    page.reload()
    expect(page.locator("#queue-jobs tr")).to_have_count(4)
    expect(page.locator("#queue-said")).to_contain_text("Stopped.", timeout=MAKING_MS)
    page.get_by_role("button", name="Go on").click()
    expect(page.locator("#queue-said")).to_have_text(
        "Done. 3 of 4 jobs are printed.", timeout=MAKING_MS
    )
    elm = page.locator("#queue-jobs tr", has_text="elm-park.yaml")
    expect(elm).to_contain_text("not printed; fix the job first")
    expect(elm.locator("li").first).to_be_visible()
    axe_finds_nothing(page)
    for name in ("ash", "fir", "oak"):
        tags = PdfReader(folder / f"{name}-cards" / "valve-tags.pdf")
        assert name.upper() in tags.pages[0].extract_text()


def hang_and_change(page: Page, folder: Path) -> None:
    """With the keyboard alone, from the mark to the print of what changed."""
    page.get_by_role("link", name="ash.yaml").click()
    page.get_by_role("link", name="Print").click()
    page.get_by_role("button", name="These hang now").press("Enter")
    expect(page.locator("main")).to_contain_text("Revision 1 hangs.")
    assert read_log(folder / "ash-cards").hung == {1}
    text = (folder / "ash.yaml").read_text(encoding="utf-8")
    text = text.replace("front lawn east, spray", "front walk")
    (folder / "ash.yaml").write_text(text, encoding="utf-8")
    page.reload()
    expect(page.locator(".stale")).to_contain_text("VB-1: valve tag A2")
    axe_finds_nothing(page)
    page.get_by_role("button", name="Raise to revision 2, and print only").press("Enter")
    expect(page.get_by_role("link", name="since-1/valve-tags.pdf")).to_be_visible(timeout=MAKING_MS)
    axe_finds_nothing(page)
    page.get_by_role("link", name="All jobs").click()
    row = page.locator("#jobs tr", has_text="ash.yaml")
    expect(row).to_contain_text("revision 2 on")
    expect(row).to_contain_text("revision 1 hangs")


def bundle(page: Page, folder: Path) -> None:
    page.get_by_role("link", name="Larkspur Cottage").last.click()
    page.get_by_role("link", name="Print").click()
    page.get_by_role("link", name="For a crew").click()
    page.get_by_label("Name of the crew").wait_for()
    axe_finds_nothing(page)
    page.get_by_label("Name of the crew").fill("Crew 7")
    page.get_by_label("VB-3: back lawn edge").press("Space")
    page.get_by_role("button", name="Make the PDF for this crew").press("Enter")
    expect(page.get_by_role("link", name="crews/crew-7.pdf")).to_be_visible(timeout=MAKING_MS)
    axe_finds_nothing(page)
    made = PdfReader(folder / "oak-cards" / "crews" / "crew-7.pdf")
    assert "A4" in made.pages[0].extract_text() and "A1" not in made.pages[0].extract_text()


@pytest.mark.usefixtures("may_print")
def test_a_tablet_shows_the_pages_in_spanish(browser: Browser, folder: Path) -> None:
    with (
        open_desk(folder) as address,
        desk_page(browser, size=TABLET, language="es") as (page, faults),
    ):
        page.goto(address)
        page.get_by_label("Elegir ash.yaml").check()
        page.get_by_role("button", name="Imprimir los trabajos elegidos").click()
        page.get_by_role("button", name="Crear los PDF").click()
        expect(page.locator("#queue-said")).to_have_text(
            "Terminada. Se imprimieron 1 de 1 trabajos.", timeout=MAKING_MS
        )
        for path in ("queue", "from-list", "jobs/ash.yaml/spreadsheet", "jobs/ash.yaml/crews"):
            page.goto(f"{address.partition('/open/')[0]}/{path}")
            if path == "queue":  # it is filled by its script
                expect(page.locator("#queue-jobs tr")).to_have_count(1)
            assert page.evaluate(_TOO_WIDE) <= 0, path
            axe_finds_nothing(page)
        assert faults == []
