"""From an empty folder to printed tags in a real browser, without YAML and without a terminal."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect
from pypdf import PdfReader

from cardgen.examine import examine
from tests.desk.desks import (
    TABLET,
    cell,
    desk_page,
    opened,
    pasted,
    running_desk,
    typed,
)
from tests.jobs import sample
from tests.record.browser import chromium
from tests.record.test_access import axe_finds_nothing

pytestmark = pytest.mark.xdist_group("browser")
expect.set_options(timeout=20_000)  # a busy machine is no fault

# 16 stations in 6 boxes, as a list in an office has them; two are typed, the rest is pasted.
AREAS = [f"bed {number}, spray" for number in range(3, 17)]
BOXES = ["VB-1", "VB-1", *(f"VB-{number // 3 + 1}" for number in range(3, 17))]
_TOO_WIDE = "() => document.documentElement.scrollWidth - innerWidth"
# Those that are known, in the order in which a set of 18 conductors may have them: made up.
COLORS = (
    "white, black, brown, red, orange, yellow, green, blue, violet, gray, pink, tan, turquoise, "
    "gold, silver, light-blue, white/red, white/blue"
)


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    with chromium() as found:
        yield found


def no_findings(page: Page) -> None:
    expect(page.locator("#findings")).to_contain_text("Nothing is wrong.")


def make_job(page: Page) -> None:
    page.get_by_label("Site, as the crew knows it").fill("Oak Court")
    page.get_by_label("Where the controller hangs").fill("garage wall")
    page.get_by_label("Number of station terminals").fill("16")
    page.get_by_label("Web address of the job record").fill("https://jobs.example.com")
    page.get_by_role("button", name="Make the job").click()
    page.locator(".tabulator-row").first.wait_for()


def list_stations(page: Page) -> None:
    # What a job cannot do without, each a button that leads there.
    for part in ("Stations", "Boxes", "Cables"):
        expect(page.locator("#findings").get_by_role("button", name=part)).to_be_visible()
    typed(page, 0, "area", "front lawn, rotor", "VB-1")
    expect(cell(page, 0, "name")).to_have_text("A1")
    typed(page, 1, "area", "front walk, spray", "VB-1")
    pasted(page, 2, "area", *map("\t".join, zip(AREAS, BOXES[2:], strict=True)))
    expect(page.locator("#findings")).to_contain_text("There is no box 'VB-6'")
    page.get_by_role("button", name="Add 6 boxes").click()


def describe_wiring(page: Page) -> None:
    opened(page, "palettes")
    typed(page, 0, "name", "eighteen", COLORS)
    opened(page, "coils")
    typed(page, 0, "name", "usual", "24 V AC", "30 ohm", "0.40 A", "0.23 A", "20 V")
    opened(page, "connectors")
    typed(page, 0, "name", "small", "2-5 x 18 AWG")
    opened(page, "cables")
    run = ", ".join(["A, 85 ft, VB-1", *(f"40 ft, VB-{number}" for number in range(2, 7))])
    typed(page, 0, "name", "A-K1", run, "18 AWG", "eighteen")
    opened(page, "controllers")
    pasted(
        page, 0, "terminals",
        "C, 1 to 16, MV\tA-K1 white\tusual\t0.5 A\t1.0 A",
    )  # fmt: skip
    expect(page.locator("#saved")).to_have_text("Saved")


def test_sixteen_stations_from_an_empty_folder_to_tags_on_paper(
    browser: Browser, tmp_path: Path
) -> None:
    with running_desk(tmp_path) as address, desk_page(browser) as (page, faults):
        page.goto(address)
        axe_finds_nothing(page)
        make_job(page)
        list_stations(page)
        describe_wiring(page)
        opened(page, "stations")
        # No wire yet is a state of the work, told once, with its way out.
        expect(page.locator(".findings .open")).to_contain_text("Stations without a wire: 16")
        expect(cell(page, 3, "hot")).to_have_text("no wire yet")
        assert page.locator(".findings .error").count() == 0
        axe_finds_nothing(page)
        page.locator("#choose-wires").click()
        page.get_by_role("button", name="Accept all").click()
        no_findings(page)
        cell(page, 6, "area").click()
        expect(page.locator("figure img").first).to_have_attribute("alt", re.compile("^A7\n"))
        page.get_by_role("link", name="Print").click()
        page.get_by_role("button", name="Make the PDF files").wait_for()
        axe_finds_nothing(page)
        page.get_by_role("button", name="Make the PDF files").click()
        expect(page.get_by_role("link", name="valve-tags.pdf")).to_be_visible()
        axe_finds_nothing(page)
        assert faults == []
    tags = PdfReader(tmp_path / "oak-court-cards" / "valve-tags.pdf")
    text = "\n".join(sheet.extract_text() for sheet in tags.pages)
    for number, (area, box) in enumerate(
        zip(["front lawn, rotor", "front walk, spray", *AREAS], BOXES, strict=True), 1
    ):
        assert re.search(rf"^A{number}$", text, re.MULTILINE), number
        assert area in text and box in text
    job = examine(tmp_path / "oak-court.yaml")
    assert job.problems == ()


def test_a_tablet_shows_all_of_it_in_spanish(browser: Browser, tmp_path: Path) -> None:
    (tmp_path / "heron.yaml").write_text(sample("heron"), encoding="utf-8")
    with (
        running_desk(tmp_path) as address,
        desk_page(browser, size=TABLET, language="es") as (page, faults),
    ):
        page.goto(address)
        assert page.evaluate(_TOO_WIDE) <= 0
        page.get_by_role("link", name="Heron Meadow Campus").click()
        expect(page.locator("#tab-stations")).to_contain_text("Estaciones")
        cell(page, 2, "area").click()
        page.locator("figure img").first.wait_for()
        assert page.evaluate(_TOO_WIDE) <= 0
        axe_finds_nothing(page)
        assert faults == []
