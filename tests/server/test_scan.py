"""The whole chain: print, take a picture, decode, open, enter a reading, see its verdict."""

from __future__ import annotations

from pathlib import Path
from urllib.parse import urlsplit

import pytest
from playwright.sync_api import Browser, expect

from cardgen.examine import examine
from cardgen.output.print_request import PrintRequest
from cardgen.output.printing import make_print
from cardgen.output.selection import Selection
from tests.jobs import SAMPLE_JOBS
from tests.outside.pages import by_pdfium, by_zxing
from tests.record.browser import phone
from tests.server.crews import served
from tests.server.test_entry_script import fill_in, save

pytestmark = pytest.mark.xdist_group("browser")


def scanned() -> list[str]:
    """What a decoder that is not ours reads from the printed tags."""
    request = PrintRequest(selection=Selection(only=("valve-tags",)))
    printed, problems = make_print(examine(SAMPLE_JOBS / "larkspur.yaml"), request)
    assert printed is not None, problems
    (pdf,) = (data for name, data in printed.files.items() if name.endswith("valve-tags.pdf"))
    return sorted({found.text for found in by_zxing(by_pdfium(pdf, dpi=300))})


def test_from_the_tag_to_the_verdict(browser: Browser, tmp_path: Path) -> None:
    codes = scanned()
    assert len(codes) == 3  # boxes: the tags of one box lead to one page
    with served(tmp_path) as record, phone(browser, keeps=False) as (page, _, faults):
        page.goto(f"http://localhost:{record.port}{urlsplit(codes[0]).path}")
        assert page.locator("h1").inner_text() == "VB-1"
        # One press from the valve under the hand to its form, logged in on the way.
        page.locator("#V-A2").get_by_role("link", name="Enter a reading").click()
        page.get_by_role("link", name="Log in").click()
        fill_in(page)
        save(page, "A2", "16.3")
        expect(page.locator("#said")).to_contain_text(
            "The reading is about half of the expected value: 2 coils are in parallel"
        )
        page.get_by_role("link", name="VB-1").click()
        expect(page.locator("#V-A2")).to_contain_text("16.3 Ω")
        assert [(e.box, e.valve, e.value) for e in record.stored()] == [("VB-1", "A2", "16.3")]
        assert faults == []
