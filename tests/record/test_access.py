"""Every kind of page in both languages, for gloves, bright sun, tired eyes and screen readers."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page

from tests.record.browser import PHONE, phone
from tests.record.records import LARKSPUR, QUARRY
from tests.record.test_style import AAA, contrast

pytestmark = pytest.mark.xdist_group("browser")


@pytest.fixture(scope="module")
def looked_at(browser: Browser) -> Iterator[tuple[Page, list[str]]]:
    """One page for all tests: what it has compiled of axe once need not be compiled again."""
    with phone(browser, keeps=False) as (page, _, faults):
        yield page, faults


OLD = f"OLD/{LARKSPUR}"
HERON, SANDPIPER = "9RM3E7PB2HX5", "4C8NW2T6RJ9H"
PAGES = (
    *(f"{OLD}/", f"{OLD}/VB-2/", f"{OLD}/TEST_RESULTS/"),
    *(f"{OLD}/VB-4/", f"{OLD}/STATION_A3/"),  # VB-4 is gone
    *(f"{QUARRY}/VB-5/", f"{QUARRY}/A/", f"{QUARRY}/STATION_A10/", f"{QUARRY}/SPARE_LIST/"),
    *(f"{QUARRY}/FIND_IN_JOB/", f"{QUARRY}/WIRING_DRAWING/", f"{QUARRY}/TEST_RESULTS/"),
    *(f"{HERON}/D/", f"{HERON}/DX-1/", f"{SANDPIPER}/VB-1/"),
)
# axe-core 4.12: all rules of WCAG 2.0 to 2.2, level AAA with them, and its best practices. The
# contrast of level AA is less than that of AAA, and has the same texts.
RULES = {
    "resultTypes": ["violations", "incomplete"],
    "runOnly": [
        *("wcag2a", "wcag2aa", "wcag2aaa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"),
    ],
    "rules": {"color-contrast": {"enabled": False}},
}
# 48 px: WCAG 2.2 asks for 44 (success criterion 2.5.5); gloves want more (common practice).
TARGET = 48
# Links within a sentence would be let off; there are none.
_SMALL_TARGETS = f"""() => [...document.querySelectorAll('a,input,button,select,summary')]
    .filter(e => e.checkVisibility() && !e.matches('.skip'))
    .map(e => [e.textContent, e.getBoundingClientRect()])
    .filter(([, r]) => r.height < {TARGET} || r.width < {TARGET})
    .map(([text, r]) => `${{text}} ${{r.width}} x ${{r.height}}`)"""
# What can be read, with its size, its color, and the nearest ground behind it that is not clear.
_TEXTS = """() => {
    const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT), found = [];
    while (walk.nextNode()) {
        let at = walk.currentNode.parentElement;
        if (!walk.currentNode.data.trim() || at.closest('svg,script,noscript,[hidden]') ||
            !at.checkVisibility()) continue;
        const {color, fontSize} = getComputedStyle(at);
        while (at && getComputedStyle(at).backgroundColor == 'rgba(0, 0, 0, 0)')
            at = at.parentElement;
        const ground = getComputedStyle(at).backgroundColor;
        found.push([walk.currentNode.data, parseFloat(fontSize), color, ground]);
    }
    return found}"""
# The note in the foot, as it is while a phone copies the job.
_SAYS_WHAT_IS_KEPT = """() => {
    const note = document.getElementById('saved');
    note.textContent = note.dataset.saving;
    note.hidden = false;
}"""
_TOO_WIDE = "() => document.documentElement.scrollWidth - innerWidth"


def in_language(path: str, language: str) -> str:
    """Further languages lie below the folder of the job."""
    keys = (OLD, LARKSPUR, QUARRY, HERON, SANDPIPER)
    key = next(key for key in keys if path.startswith(key))
    return path if language == "en" else f"{key}/ES_{path.removeprefix(key)}"


@pytest.mark.parametrize("language", ["en", "es"])
@pytest.mark.parametrize("path", PAGES)
def test_a_page_serves_everybody(
    looked_at: tuple[Page, list[str]], web: tuple[Path, str], path: str, language: str
) -> None:
    page, faults = looked_at
    faults.clear()
    answer = page.goto(f"{web[1]}/{in_language(path, language)}")
    assert answer is not None and answer.ok
    assert page.locator("html").get_attribute("lang") == language
    page.evaluate(_SAYS_WHAT_IS_KEPT)
    axe_finds_nothing(page)
    gloves_and_sun(page)
    no_sideways_push(page)
    assert faults == []


def axe_finds_nothing(page: Page) -> None:
    found = Axe().run(page, options=RULES)
    assert found.violations_count == 0, found.generate_report()
    # What it leaves to the eye: contrast beside the arrow of a link, which is measured below.
    left = {each["id"] for each in found.response["incomplete"]}
    assert left <= {"color-contrast-enhanced"}


def gloves_and_sun(page: Page) -> None:
    assert page.evaluate(_SMALL_TARGETS) == []
    texts = page.evaluate(_TEXTS)
    assert len(texts) > 10
    for text, size, ink, ground in texts:
        assert size >= 16, text
        assert contrast(hexadecimal(ink), hexadecimal(ground)) >= AAA, text


def no_sideways_push(page: Page) -> None:
    """WCAG 2.2, success criteria 1.4.10 (320 pixels) and 1.4.4 (text of 200 %)."""
    assert page.evaluate(_TOO_WIDE) <= 0
    page.set_viewport_size({"width": 320, "height": 844})
    assert page.evaluate(_TOO_WIDE) <= 0
    assert page.evaluate(_SMALL_TARGETS) == []
    page.set_viewport_size(PHONE)  # type: ignore[arg-type]
    page.wait_for_function("width => innerWidth === width", arg=PHONE["width"])
    sizes = [size for _, size, *_ in page.evaluate(_TEXTS)]
    page.evaluate("() => { document.documentElement.style.fontSize = '225%' }")  # for 112.5 %
    for (text, size, *_), before in zip(page.evaluate(_TEXTS), sizes, strict=True):
        assert size == pytest.approx(2 * before), text
    assert page.evaluate(_TOO_WIDE) <= 0


def hexadecimal(color: str) -> str:
    """`rgb(17, 17, 17)` as `#111111`."""
    numbers = [int(part) for part in color.removeprefix("rgb(").removesuffix(")").split(",")]
    return "#" + "".join(f"{number:02X}" for number in numbers)
