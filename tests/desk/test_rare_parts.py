"""What few jobs have, typed in a real browser: columns on demand, lists, fields of the order."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, Route, expect

from tests.desk.desks import cell, desk_page, open_desk, opened, pasted, typed
from tests.jobs import sample
from tests.record.test_access import axe_finds_nothing

pytestmark = pytest.mark.xdist_group("browser")
_HEADINGS = ".tabulator-col:visible"


def is_saved(page: Page) -> None:
    expect(page.locator("#saved")).to_have_text("Saved")


def test_rare_columns_lists_and_fields(browser: Browser, tmp_path: Path) -> None:
    job = tmp_path / "larkspur.yaml"
    job.write_text(sample("larkspur"), encoding="utf-8")
    with open_desk(tmp_path) as address, desk_page(browser) as (page, faults):
        page.goto(address)
        parts_wait_for_the_file(page)
        expect(page.locator("body")).to_have_attribute("data-judged", re.compile("."))
        show_columns(page, job)
        type_single_wires(page, job)
        write_the_change_log(page, job)
        type_while_a_step_is_under_way(page, job)
        let_a_note_be_known(page, job)
        say_what_is_ordered(page, job)
        assert faults == []


def parts_wait_for_the_file(page: Page) -> None:
    """What is pressed before the file is there would be forgotten when it comes."""
    held: list[Route] = []

    def hold(route: Route) -> None:
        held.append(route)

    page.route("**/data", hold)
    with page.expect_request("**/data"):
        page.get_by_role("link", name="Larkspur Cottage").click()
    buttons = page.locator("#job button:visible")
    expect(page.locator("#tab-cables")).to_be_disabled()
    expect(buttons.and_(page.locator(":enabled"))).to_have_count(0)
    page.wait_for_function("() => document.readyState === 'complete'")
    held[0].continue_()
    page.unroute("**/data")
    page.locator("#tab-cables").click()  # Playwright waits until it can be
    expect(cell(page, 0, "colors")).to_be_visible()
    expect(page.locator("#tab-cables")).to_have_attribute("aria-selected", "true")


def judged_again(page: Page) -> None:
    """What is shown is of the file as it is."""
    page.wait_for_function("() => document.body.dataset.judged === jobPage.version")


def show_columns(page: Page, job: Path) -> None:
    """The usual grid is small; a column that has something is shown by itself."""
    opened(page, "controllers")
    names = page.locator(_HEADINGS)
    before = names.count()
    expect(names.filter(has_text="Transformer")).to_have_count(0)
    # A block under headings may fill one that is not shown.
    pasted(page, 0, "name", "Controller\tTransformer\tFuse", "A\t40 VA\t1.5 A")
    is_saved(page)
    expect(names.filter(has_text="Transformer")).to_have_count(1)
    expect(names).to_have_count(before + 2)
    assert "    transformer: 40 VA\n    fuse: 1.5 A\n" in job.read_text(encoding="utf-8")
    page.locator("#undo").click()
    expect(cell(page, 0, "transformer")).to_have_text("")
    page.locator("#more-columns").press("Enter")
    expect(page.locator("#more-columns")).to_be_hidden()
    expect(page.locator(".tabulator-tableholder")).to_be_focused()
    typed(page, 0, "stations at once", "2")
    is_saved(page)
    assert "    stations at once: 2\n" in job.read_text(encoding="utf-8")
    cell(page, 0, "sensor contact").dblclick()
    offered = page.locator("input:focus").get_attribute("list")
    assert page.locator(f"#{offered} option").evaluate_all("all => all.map(o => o.value)") == [
        *("normally closed", "normally open")
    ]
    page.keyboard.press("Escape")
    axe_finds_nothing(page)
    page.locator("#undo").click()
    expect(cell(page, 0, "stations at once")).to_have_text("")
    assert job.read_text(encoding="utf-8") == sample("larkspur")


def type_single_wires(page: Page, job: Path) -> None:
    opened(page, "cables")
    typed(page, 1, "name", "A-S1", "A, 30 ft, VB-1")
    is_saved(page)
    page.locator("#more-parts").click()
    opened(page, "singles")
    pasted(page, 0, "name", "A-S1\tred\t14 AWG\tR1 to R3", "A-S1\twhite\t14 AWG\tW1")
    is_saved(page)
    expect(cell(page, 1, "flags")).to_have_text("W1")
    typed(page, 1, "flags", "COM-A")
    is_saved(page)
    text = job.read_text(encoding="utf-8")
    first = "{color: red, gauge: 14 AWG, flags: R1 to R3}"
    second = "{color: white, gauge: 14 AWG, flags: COM-A}"
    assert first in text and second in text
    # The first goes: what is typed then is still in the row that was the second.
    cell(page, 0, "color").click()
    page.locator("#remove-rows").click()
    expect(cell(page, 0, "flags")).to_have_text("COM-A")
    typed(page, 0, "flags", "COM-A to COM-B")
    is_saved(page)
    text = job.read_text(encoding="utf-8")
    assert first not in text and "flags: COM-A to COM-B" in text
    expect(page.locator("#findings")).to_contain_text("COM-A to COM-B")
    expect(page.locator("#findings button").filter(has_text="Single wire A-S1 1")).to_be_visible()
    axe_finds_nothing(page)
    while page.locator("#undo").is_enabled():
        page.locator("#undo").click()
        is_saved(page)
    assert job.read_text(encoding="utf-8") == sample("larkspur")


def write_the_change_log(page: Page, job: Path) -> None:
    opened(page, "changes")
    typed(page, 0, "name", "1", "2026-03-14", "first issue")
    is_saved(page)
    cell(page, 0, "text").click()
    expect(page.locator("#cell-said")).to_have_text("Change 1 What was changed: first issue")
    assert "{revision: 1, date: 2026-03-14, text: first issue}" in job.read_text(encoding="utf-8")


def type_while_a_step_is_under_way(page: Page, job: Path) -> None:
    """Row 1 is another after it, so nothing goes to it; a cell that is chosen then takes all."""
    typed(page, 1, "name", "2", "2026-03-20", "second issue")
    is_saved(page)
    both = job.read_text(encoding="utf-8")
    cell(page, 0, "text").click()
    page.locator("#remove-rows").click()
    expect(cell(page, 0, "text")).to_have_text("second issue")
    under_way: list[Route] = []

    def held_back(route: Route) -> None:
        under_way.append(route)

    page.route("**/undo", held_back)
    page.locator("#undo").click()
    cell(page, 0, "text").click()
    page.keyboard.type("sec")
    cell(page, 0, "text").dblclick()
    expect(page.locator("#grid input")).to_have_count(0)
    expect(page.locator("#notice")).to_contain_text("type it again")
    page.wait_for_timeout(100)
    (request,) = under_way
    request.continue_()
    expect(cell(page, 0, "text")).to_have_text("first issue")
    page.locator("#grid .tabulator-tableholder").focus()
    page.keyboard.type("ond")
    page.keyboard.press("Enter")
    is_saved(page)
    assert job.read_text(encoding="utf-8") == both
    page.unroute("**/undo")
    typed(page, 0, "text", "issued")
    expect(page.locator("#notice")).to_be_hidden()
    is_saved(page)
    assert job.read_text(encoding="utf-8") == both.replace("first issue", "issued")
    page.locator("#undo").click()
    expect(cell(page, 0, "text")).to_have_text("first issue")
    cell(page, 1, "text").click()
    page.locator("#remove-rows").click()
    expect(cell(page, 1, "text")).to_have_text("")


def let_a_note_be_known(page: Page, job: Path) -> None:
    """It goes from the list, stands in a table of its own, and is told again without its row."""
    findings = page.locator("#findings")
    again = page.get_by_role("button", name="Do not tell it again")
    expect(again).to_have_count(2)
    expect(findings).to_contain_text("2 commons go to C of A")
    again.first.focus()
    text = job.read_text(encoding="utf-8")
    job.write_text(f"{text}# from outside\n", encoding="utf-8")
    expect(page.locator("#notice")).to_contain_text("changed outside")
    judged_again(page)
    expect(again.first).to_be_focused()  # though the list was drawn anew
    again.first.press("Enter")
    expect(again).to_have_count(1)
    judged_again(page)
    expect(findings.locator("li").first).to_be_focused()  # what is now in its place
    axe_finds_nothing(page)
    page.keyboard.press("Tab")
    expect(findings.locator("li").first.locator("button").first).to_be_focused()
    expect(findings).not_to_contain_text("commons go to C")
    assert "\nknown: [several-commons A]\n" in job.read_text(encoding="utf-8")
    opened(page, "known")
    expect(cell(page, 0, "name")).to_have_text("several-commons A")
    axe_finds_nothing(page)
    cell(page, 0, "name").click()
    page.locator("#remove-rows").click()
    expect(again).to_have_count(2)
    assert "known" not in job.read_text(encoding="utf-8")


def say_what_is_ordered(page: Page, job: Path) -> None:
    page.locator("#tab-job").click()
    expect(page.get_by_label("Reels on which wire is sold")).to_be_hidden()
    page.locator("summary").press("Enter")
    page.get_by_label("Reels on which wire is sold").fill("500 ft, 1000 ft")
    page.get_by_label("Added to each leg").fill("15 %")
    page.keyboard.press("Tab")
    is_saved(page)
    axe_finds_nothing(page)
    text = job.read_text(encoding="utf-8")
    assert "\nreels: [500 ft, 1000 ft]\n" in text and "\nslack: {run: 15 %}\n" in text
    page.get_by_label("Added to each leg").fill("fifteen")
    page.keyboard.press("Tab")
    page.locator("#tab-stations").click()
    page.get_by_role("button", name="Job", exact=True).click()
    expect(page.get_by_label("Added to each leg")).to_be_focused()
