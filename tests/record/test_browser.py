"""The pages as a crew has them: in a real browser, 390 pixels wide, then without signal."""

from __future__ import annotations

import os
import time
from contextlib import suppress
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from tests.outside.pages import sizes_mm, text_by_pdfium
from tests.record.browser import chromium, host, phone
from tests.record.records import LARKSPUR, QUARRY, printable, publish, revision

pytestmark = pytest.mark.xdist_group("browser")

# Which revision the phone has kept whole, if it has; and how many copies there are.
_KEPT = """async () => {
    const names = (await caches.keys()).filter(name => name.startsWith('record '));
    const root = new URL(document.getElementById('saved').dataset.root, location.href);
    const kept = await caches.match(new URL('saved_at', root));
    return [names.length, kept ? (await kept.text()).split(' ')[0] : '']}"""


COPYING_S = 20


def wait_for_copy(page: Page, revision_kept: int) -> None:
    """Until the phone has kept that revision, and nothing else of the job."""
    end = time.monotonic() + COPYING_S
    while page.evaluate(_KEPT) != [1, str(revision_kept)]:
        assert time.monotonic() < end, "no copy was kept"
        page.wait_for_timeout(50)


def visit_until_copied(page: Page, address: str, revision_kept: int) -> None:
    """A page whose answer takes too long comes from the copy; the next visit has the newer one."""
    for _ in range(4):
        page.goto(address)
        with suppress(AssertionError):
            return wait_for_copy(page, revision_kept)
    raise AssertionError("the newer record did not take the place of the copy")


def test_a_scanned_address_shows_the_box_its_conductor_and_its_reading(
    browser: Browser, web: tuple[Path, str]
) -> None:
    with phone(browser) as (page, asked, faults):
        page.goto(f"{web[1]}/{LARKSPUR}/VB-1")
        assert page.locator("h1").inner_text() == "VB-1"
        valve = page.locator("article").first
        text = valve.inner_text()
        assert text.startswith("A1")
        assert "red" in text and "RD" in text and "controller A, terminal 1" in text
        assert "31.1 Ω" in text
        box = valve.locator(".wire").first.bounding_box()
        assert box is not None and box["y"] + box["height"] < 844  # without scrolling
        wait_for_copy(page, 1)
        assert faults == []
        assert {url.split("/")[2] for url in asked} == {web[1].split("/")[2]}


def test_without_script_all_is_there(browser: Browser, web: tuple[Path, str]) -> None:
    with phone(browser, script=False) as (page, _, _):
        page.goto(f"{web[1]}/{QUARRY}/FIND_IN_JOB/")
        assert page.get_by_role("searchbox").count() == 0
        page.get_by_role("link", name="B9 basin lawn").click()
        assert page.locator("h1").inner_text() == "VB-8"


@pytest.mark.parametrize(
    ("typed", "found"),
    [
        ("B9", ["B9 basin lawn"]),
        ("Plaza lawn", ["A10a plaza lawn", "A10b plaza lawn"]),
        ("violet b-k1", ["B9 basin lawn"]),
        (f"{QUARRY}/MVB-1", ["MV-1 master valve", "MVB-1"]),
        (f"HTTPS://JOBS.EXAMPLE.COM/{QUARRY}/MVB-1", ["MV-1 master valve", "MVB-1"]),
        ("<script>", []),
    ],
)
def test_the_field_finds(
    browser: Browser, web: tuple[Path, str], typed: str, found: list[str]
) -> None:
    with phone(browser, keeps=False) as (page, _, faults):
        page.goto(f"{web[1]}/{QUARRY}/FIND_IN_JOB/")
        page.get_by_role("searchbox").fill(typed)
        rows = page.locator("li:visible a > span").all()
        assert [row.inner_text().split("\n")[0] for row in rows] == found
        assert page.locator("#none").is_visible() == (not found)
        assert faults == []


def test_the_field_finds_with_accents_and_without(browser: Browser, web: tuple[Path, str]) -> None:
    with phone(browser, keeps=False) as (page, _, faults):
        page.goto(f"{web[1]}/{QUARRY}/ES_/FIND_IN_JOB/")
        for typed in ("Válvula maestra", "valvula MAESTRA"):
            page.get_by_role("searchbox").fill(typed)
            rows = page.locator("li:visible a > span").all()
            assert [row.inner_text().split("\n")[0] for row in rows] == ["MV-1 válvula maestra"]
        assert faults == []


def test_a_memory_stick_opens_every_way_around(browser: Browser, web: tuple[Path, str]) -> None:
    with phone(browser) as (page, _, faults):
        page.goto((web[0] / QUARRY / "index.html").as_uri())
        page.get_by_role("link", name="VB-3").click()
        page.get_by_role("link", name="A7: whole circuit").click()
        assert page.locator("h1").inner_text() == "A7"
        page.get_by_role("link", name="Find").click()
        page.get_by_role("searchbox").fill("B9")
        page.get_by_role("link", name="B9 basin lawn").click()
        assert page.locator("h1").inner_text() == "VB-8"
        page.get_by_role("link", name="Español").click()
        assert page.locator("html").get_attribute("lang") == "es"
        page.get_by_role("link", name="Inicio de la obra").click()
        page.get_by_role("link", name="English").click()
        page.get_by_role("link", name="Test results").click()
        assert page.locator("h1").inner_text() == "Test results"
        assert faults == []


def test_after_one_visit_the_whole_job_opens_without_signal(
    browser: Browser, tmp_path: Path
) -> None:
    publish(revision(1), tmp_path)
    with phone(browser) as (page, _, _):
        with host(tmp_path) as port:
            page.goto(f"http://localhost:{port}/{LARKSPUR}/VB-1")
            wait_for_copy(page, 1)
        # The host is gone: each address below can only come from the copy.
        for path in ("VB-3", "VB-3/", "A/index.html", "STATION_A6/", "WIRING_DRAWING/", ""):
            page.goto(f"http://localhost:{port}/{LARKSPUR}/{path}")
            assert "Larkspur" in page.locator("footer").inner_text()
        page.goto(f"http://localhost:{port}/{LARKSPUR}/VB-3")
        assert page.locator("article").first.inner_text().startswith("A4")
        saved = page.locator("#saved")
        saved.wait_for(state="visible")
        assert "all pages of revision 1," in saved.inner_text()
        assert "(today)" in saved.inner_text()
        page.get_by_role("link", name="Job home").click()
        page.get_by_role("link", name="VB-2").click()
        assert page.locator("h1").inner_text() == "VB-2"


def test_a_newer_record_takes_the_place_of_the_copy(tmp_path: Path) -> None:
    for path in publish(revision(1), tmp_path).rglob("*"):
        os.utime(path, (1_000_000_000, 1_000_000_000))  # a host tells versions apart by the second
    with (
        chromium(windows=True) as browser,
        phone(browser) as (page, _, _),
        host(tmp_path) as port,
    ):
        address = f"http://localhost:{port}/{LARKSPUR}/VB-1/"
        page.goto(address)
        wait_for_copy(page, 1)
        page.evaluate("caches.open('of someone else')")
        publish(revision(2), tmp_path)
        visit_until_copied(page, address, 2)
        assert "of someone else" in page.evaluate("caches.keys()")  # only its own is taken away
        page.reload()
        page.locator("#saved").wait_for(state="visible")
        assert "revision 2" in page.locator("#saved").inner_text()


def test_a_page_prints_without_buttons_and_loses_nothing(
    browser: Browser, web: tuple[Path, str]
) -> None:
    """As Chromium makes a PDF of it: few sheets, all figures, no way around."""
    with phone(browser, keeps=False) as (page, _, _):
        for language, around in (("", "Job home"), ("ES_/", "Inicio de la obra")):
            page.goto(f"{web[1]}/{QUARRY}/{language}VB-3/")
            pdf = page.pdf(format="Letter")
            text = " ".join(" ".join(text_by_pdfium(pdf)).split())
            assert len(sizes_mm(pdf)) <= 4
            assert around not in text
            for valve in printable("quarry").asbuilt.box["VB-3"].valves:
                assert valve.ohms and f"{valve.ohms.expected:.1f} Ω" in text
