"""The picture of a sheet on the print page is to scale; the card chosen in it is printed first."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pytest
import yaml
from playwright.sync_api import Browser, Locator, Page, expect
from pypdf import PdfReader

from cardgen.desk.print_choices import tag_stocks, told_of
from cardgen.desk.stock_pictures import first_card
from cardgen.words import load_words
from tests.desk.desks import desk_page, open_desk
from tests.jobs import sample
from tests.record.test_access import axe_finds_nothing

pytestmark = pytest.mark.xdist_group("browser")
ROOT = Path(__file__).parents[2]
PT_PER_MM = 72 / 25.4


def millimeters(text: str) -> float:
    return float(text.removesuffix(" mm"))


def said_of(stock: str) -> dict[str, Any]:
    """What the file of a stock says, read without cardgen."""
    text = (ROOT / "layouts" / "stock" / f"{stock}.yaml").read_text(encoding="utf-8")
    found: dict[str, Any] = yaml.safe_load(text)
    return found


def pictures() -> dict[str, ElementTree.Element]:
    words, _ = load_words(("en",))
    assert words is not None
    html = first_card(words, tag_stocks()).text.replace(" hidden>", ' hidden="">')
    root = ElementTree.fromstring(re.sub(r"(<input[^>]*)>", r"\1/>", html))  # noqa: S314  # our own
    return {each.attrib["data-stock"]: each[0] for each in root.iterfind("div")}


def test_each_sheet_with_several_cards_is_drawn_to_scale() -> None:
    """Held against the very files: paper and grid, without a gap where none is said."""
    found = pictures()
    assert {"id-1-letter", "id-1-a4", "id-1-a5", "a7-letter", "a7-a4"} <= found.keys()
    for stock, picture in found.items():
        said = said_of(stock)
        paper, card, grid = said["paper"], said["card"], said["grid"]
        wide, high = millimeters(card["width"]), millimeters(card["height"])
        step_x = wide + millimeters(grid.get("gap_x", "0 mm"))
        step_y = high + millimeters(grid.get("gap_y", "0 mm"))
        at = [
            (millimeters(grid["left"]) + c * step_x, millimeters(grid["top"]) + r * step_y)
            for r in range(grid.get("rows", 1))
            for c in range(grid.get("columns", 1))
        ]
        left, top, across, down = map(float, picture.attrib["viewBox"].split())
        # The paper with the same edge on all sides, in the same scale both ways.
        assert left == top
        assert across == pytest.approx(millimeters(paper["width"]) - 2 * left)
        assert down == pytest.approx(millimeters(paper["height"]) - 2 * top)
        size = [float(picture.attrib[each]) for each in ("width", "height")]
        assert size[0] / across == pytest.approx(size[1] / down, rel=1e-3)
        cards = picture.findall("g")
        assert [card_.attrib["data-number"] for card_ in cards] == [
            str(number) for number in range(1, len(at) + 1)
        ]
        for place, drawn in zip(at, cards, strict=True):
            edge = {key: value for key, value in drawn[0].attrib.items() if key != "class"}
            wanted = dict(zip(("x", "y", "width", "height"), (*place, wide, high), strict=True))
            assert {k: float(v) for k, v in edge.items()} == pytest.approx(wanted, abs=1e-3)
            assert drawn.findtext("text") == drawn.attrib["data-number"]


def test_each_stock_of_the_desk_is_told_in_spanish_with_the_same_figures() -> None:
    spanish, english = (load_words((each,))[0] for each in ("es", "en"))
    assert spanish is not None and english is not None
    for stock in tag_stocks():
        told = [told_of(stock, words) for words in (english, spanish)]
        assert told[0] == f"{stock.name}: {said_of(stock.name)['about']}"
        assert told[0] != told[1], stock.name
        assert re.findall("[0-9]+", told[0]) == re.findall("[0-9]+", told[1])


def test_the_card_that_is_chosen_is_printed_first(browser: Browser, tmp_path: Path) -> None:
    (tmp_path / "larkspur.yaml").write_text(sample("larkspur"), encoding="utf-8")
    with open_desk(tmp_path) as address, desk_page(browser) as (page, faults):
        page.goto(address)
        page.get_by_role("link", name="Larkspur Cottage").click()
        page.get_by_role("link", name="Print").click()
        choose_by_press_and_keys(page)
        field_and_stock_go_along(page)
        axe_finds_nothing(page)
        page.get_by_role("radio", name="5").click()
        page.get_by_role("button", name="Make the PDF files").click()
        expect(page.get_by_role("link", name="valve-tags.pdf")).to_be_visible()
        assert faults == []
    grid, card = (said_of("id-1-letter")[key] for key in ("grid", "card"))
    # Card 5 of three in a row is the middle one of the second row.
    left = millimeters(grid["left"]) + millimeters(card["width"])
    top = millimeters(grid["top"]) + millimeters(card["height"])
    x, y = place_of("A1", tmp_path / "larkspur-cards" / "valve-tags.pdf")
    assert left < x < left + millimeters(card["width"])
    assert top < y < top + millimeters(card["height"])


def place_of(text: str, path: Path) -> tuple[float, float]:
    """Where the first page has it, in millimeters from its top left corner, as pypdf reads it."""
    page = PdfReader(path).pages[0]
    places: list[tuple[float, float]] = []

    def see(found: str, cm: list[float], tm: list[float], *_: object) -> None:
        if found.strip() == text:
            x = tm[4] * cm[0] + tm[5] * cm[2] + cm[4]
            y = tm[4] * cm[1] + tm[5] * cm[3] + cm[5]
            places.append((x / PT_PER_MM, (float(page.mediabox.height) - y) / PT_PER_MM))

    page.extract_text(visitor_text=see)
    return places[0]


def is_chosen(page: Page, number: int) -> None:
    """In the picture and in the field; those before it are crossed out, which needs no color."""
    expect(page.get_by_role("radio", name=str(number))).to_be_checked()
    expect(page.get_by_label("First free card on the sheet").first).to_have_value(str(number))
    crosses = page.locator(".cross:visible")
    expect(crosses).to_have_count(number - 1)
    fills = [fill(page.locator(".card:visible .edge").nth(at)) for at in (number - 1, number)]
    assert len(set(fills)) == 2


def fill(edge: Locator) -> str:
    found: str = edge.evaluate("each => getComputedStyle(each).fill")
    return found


def choose_by_press_and_keys(page: Page) -> None:
    is_chosen(page, 1)
    page.get_by_role("radio", name="4").click()
    is_chosen(page, 4)
    for key, number in (
        *(("ArrowRight", 5), ("ArrowDown", 8), ("ArrowDown", 8), ("ArrowUp", 5)),
        *(("Home", 1), ("ArrowLeft", 1), ("ArrowRight", 2)),
    ):
        page.keyboard.press(key)
        is_chosen(page, number)
        expect(page.get_by_role("radio", name=str(number))).to_be_focused()
    page.keyboard.press("Shift+Tab")  # one stop for all cards
    expect(page.locator("#f-start")).to_be_focused()


def field_and_stock_go_along(page: Page) -> None:
    page.locator("#f-start").fill("3")
    is_chosen(page, 3)
    page.locator("#f-stock").select_option("id-1-a5")
    expect(page.locator(".card:visible")).to_have_count(4)
    is_chosen(page, 1)
    page.locator("#f-start").fill("9")  # more than it has: the browser says so
    assert page.locator("#f-start").evaluate("field => field.validity.rangeOverflow")
    page.locator("#f-stock").select_option("roll-50x75")
    expect(page.locator("#first-card")).to_be_hidden()
    assert page.locator("#f-start").input_value() == "1"
    page.locator("#f-stock").select_option("id-1-letter")
    is_chosen(page, 1)
