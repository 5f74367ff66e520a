"""The tag beside a row shows what is being typed, whatever arrives, and then what is saved."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, Route, expect

from tests.desk.desks import cell, desk_page, open_desk, typed
from tests.jobs import sample

pytestmark = pytest.mark.xdist_group("browser")
_VERSION = "async () => (await (await fetch(`${location.pathname}/version`)).json()).version"
QUIET = 1500  # ms in which nothing more is asked: the page waits 180 after a key


def tag_of_a3_says(page: Page, text: str) -> None:
    expect(page.locator("figure img").first).to_have_attribute(
        "alt", re.compile(rf"^A3\n[\s\S]*{text}")
    )


def test_findings_of_an_earlier_edit_leave_the_tag_of_what_is_typed(
    browser: Browser, tmp_path: Path
) -> None:
    (tmp_path / "larkspur.yaml").write_text(sample("larkspur"), encoding="utf-8")
    held: list[Route] = []

    def hold(route: Route) -> None:
        held.append(route)

    with open_desk(tmp_path) as address, desk_page(browser) as (page, faults):
        page.goto(address)
        page.get_by_role("link", name="Larkspur Cottage").click()
        expect(page.locator("body")).to_have_attribute("data-judged", re.compile("."))
        page.route("**/findings", hold)
        typed(page, 0, "area", "rose bed")
        expect(page.locator("#saved")).to_have_text("Saved")
        cell(page, 2, "area").click()
        page.keyboard.type("herb garden")
        tag_of_a3_says(page, "herb garden")
        for route in held:
            route.continue_()
        expect(page.locator("body")).to_have_attribute("data-judged", page_version(page))
        page.wait_for_timeout(QUIET)
        tag_of_a3_says(page, "herb garden")
        page.keyboard.press("Escape")
        tag_of_a3_says(page, "front beds, drip")
        page.wait_for_timeout(QUIET)
        tag_of_a3_says(page, "front beds, drip")
        assert faults == []
    assert held, "no findings were held back"


def page_version(page: Page) -> str:
    """Of the file as it is now."""
    found: str = page.evaluate(_VERSION)
    return found


def test_a_cell_left_as_it_was_does_not_keep_later_changes_from_the_file(
    browser: Browser, tmp_path: Path
) -> None:
    job = tmp_path / "larkspur.yaml"
    job.write_text(sample("larkspur"), encoding="utf-8")
    with open_desk(tmp_path) as address, desk_page(browser) as (page, faults):
        page.goto(address)
        page.get_by_role("link", name="Larkspur Cottage").click()
        cell(page, 1, "area").dblclick()
        page.keyboard.press("Enter")
        cell(page, 0, "area").click()
        page.keyboard.press("Delete")
        expect(page.locator("#saved")).to_have_text("Saved")
        assert "  A1: {box: VB-1" in job.read_text(encoding="utf-8")
        assert faults == []
