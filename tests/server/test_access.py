"""The crews' pages in both languages, for gloves, bright sun, tired eyes and screen readers."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page

from tests.record.browser import phone
from tests.record.records import LARKSPUR
from tests.record.test_access import axe_finds_nothing, gloves_and_sun, no_sideways_push
from tests.server.crews import READINGS, REPORTS, RESULTS, TABLE, Served, enter
from tests.server.test_entry_script import at, log_in
from tests.server.test_photos import with_exif

pytestmark = pytest.mark.xdist_group("browser")


@pytest.fixture(scope="module")
def filled(record: Served) -> Served:
    """With something of everything."""
    crew = record.crew()
    photo = {"photo": ("a.jpg", "image/jpeg", with_exif())}
    for valve, value in (("A1", "31.1"), ("A1", "OL"), ("A4", "OL"), ("A5", "OL")):
        enter(crew, {"valve": valve, "value": value, "notes": "under the hedge"})
    enter(crew, {"kind": "difference", "box": "VB-2", "notes": "another valve"}, photo)
    return record


@pytest.fixture(scope="module")
def looked_at(browser: Browser, filled: Served) -> Iterator[tuple[Page, list[str]]]:
    """One page for all tests, of a crew that is logged in."""
    with phone(browser, keeps=False) as (page, _, faults):
        log_in(page, filled)
        yield page, faults


@pytest.mark.parametrize("language", ["en", "es"])
@pytest.mark.parametrize(
    "path",
    [
        f"/{LARKSPUR}/VB-1/",
        f"{READINGS}?box=VB-1",
        f"{READINGS}?box=A",
        RESULTS,
        f"{RESULTS}?valve=A1",
        REPORTS,
    ],
)
def test_a_page_serves_everybody(
    looked_at: tuple[Page, list[str]], filled: Served, path: str, language: str
) -> None:
    if language == "es" and path.endswith("/"):
        path = path.replace(LARKSPUR, f"{LARKSPUR}/ES_")
    page, faults = looked_at
    faults.clear()
    page.goto(at(filled, f"{path}{'&' if '?' in path else '?'}language={language}"))
    assert page.locator("html").get_attribute("lang") == language
    for summary in page.locator("summary").all():
        summary.click()
    judged(page)
    assert faults == []


def test_a_refused_table_serves_everybody(
    looked_at: tuple[Page, list[str]], filled: Served
) -> None:
    page, _ = looked_at
    page.goto(at(filled, f"{RESULTS}?language=en"))
    wrong = {"name": "a.csv", "mimeType": "text/csv", "buffer": b"when,valve\n1,2"}
    page.locator("#f-table").set_input_files(wrong)  # type: ignore[arg-type]
    page.get_by_role("button", name="Import", exact=True).click()
    page.wait_for_url(f"**{TABLE}*")
    judged(page)


def judged(page: Page) -> None:
    axe_finds_nothing(page)
    gloves_and_sun(page)
    no_sideways_push(page)
