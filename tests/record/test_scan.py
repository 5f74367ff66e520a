"""The whole chain on a phone: print, take a picture, decode, open over https, then without signal.

The printed host is led to this machine and its certificate comes from an authority made for the
test; everything else is as it will be.
"""

from __future__ import annotations

import ssl
from collections.abc import Iterator
from pathlib import Path
from urllib.parse import urlsplit

import pytest
import trustme
from playwright.sync_api import Browser, Page

from cardgen.cards import Printable
from cardgen.examine import examine
from cardgen.output.print_request import PrintRequest
from cardgen.output.printing import make_print
from cardgen.output.selection import Selection
from cardgen.words import load_words
from tests.jobs import SAMPLE_JOBS, SAMPLES
from tests.outside.pages import by_pdfium, by_zxing, sizes_mm
from tests.record.browser import chromium, host, phone
from tests.record.records import printable
from tests.record.test_browser import wait_for_copy

pytestmark = pytest.mark.xdist_group("browser")

NAME = "jobs.example.com"  # of all samples


@pytest.fixture(scope="module")
def scanning(web: tuple[Path, str]) -> Iterator[Browser]:
    """A browser in whose eyes the records lie at the printed address."""
    secret = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    trustme.CA().issue_cert(NAME).configure_cert(secret)
    with host(web[0], secret=secret) as port:
        rule = f"--host-resolver-rules=MAP {NAME} 127.0.0.1:{port}"
        with chromium(rule, "--ignore-certificate-errors") as found:
            yield found


def codes_of(job: str) -> list[str]:
    """What stands in the symbols of the first and the last page of tags."""
    request = PrintRequest(selection=Selection(only=("valve-tags",)))
    printed, problems = make_print(examine(SAMPLE_JOBS / f"{job}.yaml"), request)
    assert printed is not None, problems
    (pdf,) = (data for name, data in printed.files.items() if name.endswith("valve-tags.pdf"))
    ends = sorted({0, len(sizes_mm(pdf)) - 1})
    return [f.text for page in ends for f in by_zxing(by_pdfium(pdf, dpi=300, page=page))]


@pytest.mark.parametrize("job", SAMPLES)
def test_what_is_scanned_from_a_tag_shows_its_box_with_signal_and_without(
    scanning: Browser, job: str
) -> None:
    codes = codes_of(job)
    assert len(codes) > 4
    printed = printable(job)
    ends = (codes[0], codes[-1])
    with phone(scanning) as (page, asked, faults):
        for code in ends:
            page.goto(code)
            shows_the_box(page, printed, code, "en")
            page.get_by_role("link", name="Español").click()
            shows_the_box(page, printed, code, "es")
        wait_for_copy(page, printed.asbuilt.revision)
        page.context.set_offline(True)
        for code in ends:
            page.goto(code)
            shows_the_box(page, printed, code, "en")
            page.get_by_role("link", name="Español").click()
            shows_the_box(page, printed, code, "es")
            page.locator("#saved").wait_for(state="visible")
            assert "No hay señal" in page.locator("#saved").inner_text()
        assert faults == []
        assert {urlsplit(url).netloc for url in asked} == {NAME}


def shows_the_box(page: Page, printed: Printable, code: str, language: str) -> None:
    """Its name, and of each of its valves the conductor at hand, its color and its ohms."""
    box = code.rpartition("/")[2]
    assert page.locator("html").get_attribute("lang") == language
    assert page.locator("h1").inner_text() == box
    words, _ = load_words((language,))
    assert words is not None
    valves = printed.asbuilt.box[box].valves
    assert valves
    for valve in valves:
        text = page.locator(f"#V-{valve.id}").inner_text()
        if valve.hot is not None:
            assert words.color(valve.hot.word).printed in text
            assert valve.hot.code in text and valve.hot.cable in text
        if valve.ohms is not None:
            assert f"{valve.ohms.expected:.1f} Ω" in text
        if valve.decoder is not None:
            assert str(valve.decoder.address) in text
