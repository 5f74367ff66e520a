"""A walk along the strip of a controller with a phone of 390 x 740: what it costs in taps."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.jobs import sample
from tests.record.browser import phone
from tests.record.records import LARKSPUR, QUARRY
from tests.server.crews import READINGS, served
from tests.server.test_entry_script import at, log_in, values

pytestmark = pytest.mark.xdist_group("browser")
STATIONS = 30
TAPS_OF_A_VALVE = 4  # the aim
SMALL = {"width": 390, "height": 740}
# What stands in the window as it is, without a finger that pushes.
_IN_VIEW = """() => ['#valve-name', '#f-value', '#save', '#next', '#keys'].every(name => {
    const element = document.querySelector(name);
    if (element.hidden) return true;
    const box = element.getBoundingClientRect();
    const top = document.elementFromPoint(box.x + box.width / 2, box.y + box.height / 2);
    return box.top >= 0 && box.bottom <= innerHeight && element.contains(top)
        || element.contains(top.closest(name))})"""


def yard() -> str:
    """Thirty stations, five in each of six boxes, each box with a cable of its own."""
    numbers, colors = range(1, 7), ("red", "blue", "green", "yellow", "orange")
    commons = ", ".join(f"A-K{n} white" for n in numbers)
    cables = "".join(
        f"  A-K{n}: {{gauge: 18 AWG, palette: six, run: [A, {90 * n} ft, VB-{n}]}}\n"
        for n in numbers
    )
    boxes = "".join(f"  VB-{n}: {{place: lawn {n}}}\n" for n in numbers)
    stations = "".join(
        f"  A{5 * n + i - 4}: {{area: lawn, box: VB-{n}, hot: A-K{n} {color}}}\n"
        for n in numbers
        for i, color in enumerate(colors)
    )
    return f"""
job: {{code: WALK-30, site: Walk of thirty, revision: 1, date: 2026-03-14}}
record: {{address: https://jobs.example.com, key: {LARKSPUR}}}
palettes:
  six: [white, red, blue, green, yellow, orange]
coils:
  usual: {{supply: 24 V AC, resistance: 30 ohm, inrush: 0.40 A, holding: 0.23 A, minimum: 20 V}}
controllers:
  A:
    place: garage wall
    supply: 24 V AC
    stations: 30
    terminals: [C, 1 to 30]
    coil: usual
    common: [{commons}]
cables:
{cables}boxes:
{boxes}stations:
{stations}"""


class Finger:
    """It counts what it presses, and fails where it would have to push the page first."""

    def __init__(self, page: Page) -> None:
        self.page, self.taps = page, 0

    def press(self, name: str) -> None:
        target = self.page.locator(name)
        box = target.bounding_box()
        assert box is not None, name
        self.taps += 1
        self.page.mouse.click(box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)


def test_thirty_valves_take_four_taps_each_and_no_scrolling(
    browser: Browser, tmp_path: Path
) -> None:
    """The meter shows 32 at most valves, 33.5 at each tenth, OL at each fifteenth."""
    with served(tmp_path, yard()) as record, phone(browser, keeps=False) as (page, _, faults):
        page.set_viewport_size(SMALL)  # type: ignore[arg-type]
        log_in(page, record, f"{READINGS}?box=A")
        finger, read = Finger(page), []
        for number in range(1, STATIONS + 1):
            value = "OL" if number % 15 == 0 else "33.5" if number % 10 == 0 else "32"
            assert page.evaluate(_IN_VIEW), number
            assert re.match(rf"A{number}\b", page.locator("#valve-name").inner_text())
            for key in re.findall("OL|.", value):
                finger.press(f"#keys button[value='{key}']")
            finger.press("#next" if number < STATIONS else "#save")
            read.append((f"A{number}", value))
        expect(page.locator("#said b").first).to_contain_text(f"A{STATIONS}:")
        expect(page.locator("#waiting")).to_be_hidden()
        assert page.evaluate("scrollY") == 0
        assert finger.taps / STATIONS <= TAPS_OF_A_VALVE
        assert values(record) == read
        assert faults == []


@pytest.mark.parametrize("height", [740, 915])
def test_no_key_moves_under_a_finger(browser: Browser, tmp_path: Path, height: int) -> None:
    """What is said of a value saved stands above the keys, and they are where they were before."""
    with served(tmp_path, yard()) as record, phone(browser, keeps=False) as (page, _, _):
        page.set_viewport_size({"width": 390, "height": height})
        log_in(page, record, f"{READINGS}?box=A")
        before = page.locator("#keys").bounding_box()
        for key in ("#keys button[value='3']", "#keys button[value='2']", "#next"):
            Finger(page).press(key)
        expect(page.locator("#said b").first).to_contain_text("A1:")
        assert page.locator("#keys").bounding_box() == before


def test_in_a_box_the_coil_is_measured_and_at_a_terminal_all_its_coils(
    browser: Browser, tmp_path: Path
) -> None:
    """The quarry's A10 has two coils, A10a and A10b."""
    readings = f"/{QUARRY}/READINGS_"
    with (
        served(tmp_path, sample("quarry")) as record,
        phone(browser, keeps=False) as (page, _, faults),
    ):
        log_in(page, record, f"{readings}?box=A")
        names = page.locator(".tile:visible [name=valve], #valves:not([open]) [name=valve]")
        shown = names.evaluate_all("tiles => tiles.map(tile => tile.value)")
        assert "A10" in shown and "A10a" not in shown
        assert page.locator("#f-kind").input_value() == "ohms at the controller"
        page.locator("#valves summary").click()
        page.locator(".tile", has=page.locator("[name=valve][value=A10]")).click()
        page.locator("#f-value").fill("20")
        page.locator("#save").click()
        expect(page.locator("#said b").first).to_have_text("A10: Ohms at the controller: 20 Ω")
        page.goto(at(record, f"{readings}?box=VB-4"))
        assert page.locator("#f-kind").input_value() == "ohms at the coil"
        tiles = page.locator(".tile:visible [name=valve]")
        in_box = tiles.evaluate_all("tiles => tiles.map(tile => tile.value)")
        assert {"A10a", "A10b"} <= set(in_box) and "A10" not in in_box
        assert [e.value for e in record.stored(QUARRY)] == ["20"]
        assert faults == []


@pytest.mark.parametrize(
    ("kind", "typed", "stored"),
    [
        ("ohms at the coil", "1.2k", "1200"),
        ("milliamperes", "0.23A", "230"),
        ("insulation", "500k", "0.5"),
    ],
)
def test_a_unit_is_a_key(
    browser: Browser, tmp_path: Path, kind: str, typed: str, stored: str
) -> None:
    with served(tmp_path) as record, phone(browser, keeps=False) as (page, _, _):
        page.set_viewport_size(SMALL)  # type: ignore[arg-type]
        log_in(page, record, f"{READINGS}?box=VB-1&valve=A1")
        page.locator("#f-kind").select_option(kind)
        for key in typed:
            page.locator(f"#keys button[value='{key}']").click()
        expect(page.locator("#hint")).to_contain_text(f"= {stored} ")
        page.locator("#save").click()
        expect(page.locator("#said")).to_contain_text("A1:")
        assert values(record) == [("A1", stored)]


def test_a_comma_that_may_be_thousands_is_not_taken(browser: Browser, tmp_path: Path) -> None:
    with served(tmp_path) as record, phone(browser, keeps=False) as (page, _, _):
        log_in(page, record, f"{READINGS}?box=VB-1&valve=A1")
        page.locator("#f-value").fill("1,234")
        expect(page.locator("#hint")).to_contain_text("This is no value")
        page.locator("#save").click()
        expect(page.locator("#waiting")).to_contain_text("'1,234' may be 1234 or 1.234.")
        assert values(record) == []


def test_every_kind_is_entered_in_one_view_and_the_conditions_once(
    browser: Browser, tmp_path: Path
) -> None:
    """What lies in VB-1 of sample_jobs/larkspur.yaml, by hand: A1 and A2 end there, A3, A6 and the
    spares orange and brown of A-K1 pass, and so does the common.
    """
    further = [
        ("insulation", {"from": "COM-A"}, "500k", ("", "0.5", "COM-A", "")),
        ("ohms hot to hot", {"to": "A3"}, "61", ("A1", "61", "", "A3")),
        (
            "ohms of a spare loop",
            {"from": "SP-A-K1-6", "to": "COM-A", "in_box": "VB-2"},
            "OL",
            ("", "OL", "SP-A-K1-6", "COM-A"),
        ),
        ("walk test", {"to": "none"}, "", ("A1", "0", "", "none")),
        ("not reached", {}, "", ("A1", "0", "", "")),
    ]
    with served(tmp_path) as record, phone(browser, keeps=False) as (page, _, faults):
        page.set_viewport_size(SMALL)  # type: ignore[arg-type]
        log_in(page, record, f"{READINGS}?box=VB-1&valve=A1")
        page.locator("#conditions summary").click()
        page.get_by_label("Sensor RAIN is bypassed").check()
        page.get_by_label("Ohms of the meter's leads").fill("0,5")
        page.reload()  # another box, the same walk
        expect(page.locator("#conditions-said")).to_have_text("Sensor RAIN is bypassed, 0,5 Ω")
        page.evaluate("scrollTo(0, 0)")  # it was pushed up to open them
        page.locator("#f-value").fill("36.3 ohm")  # 36.3 is above 36, without the leads it is not
        said = "= 36.3 Ω. 35.8 Ω without the leads. Expected: 24–36 Ω. ✓ in range"
        expect(page.locator("#hint")).to_have_text(said)
        page.locator("#f-value").fill("")
        for kind, ends, value, stored in further:
            page.locator("#f-kind").select_option(kind)
            if value:
                page.locator("#save").click()
                expect(page.locator("#hint")).to_have_text("Type the value, or OL.")
            for name, end in ends.items():
                page.locator(f"#f-{name}").select_option(end)
            assert page.evaluate(_IN_VIEW), kind
            for key in re.findall("OL|.", value):
                page.locator(f"#keys button[value='{key}']").click()
            with page.expect_response("**/READINGS_"):
                page.locator("#save").click()
            expect(page.locator("#said b").first).to_contain_text(stored[2] or stored[0])
            entry = record.stored()[-1]
            more = json.loads(entry.more)
            found = (entry.valve, entry.value, more.get("start", ""), more.get("to", ""))
            assert (entry.kind, found) == (kind, stored)
            assert more["conditions"] == "RAIN bypassed; leads 0.5 ohm"
        page.locator("#f-kind").select_option("ohms hot to hot")
        page.locator("#f-to").select_option("")
        page.locator("#f-value").fill("61")
        page.locator("#save").click()
        expect(page.locator("#hint")).to_have_text(
            "Choose the two ends between which it was measured."
        )
        here = page.locator("#f-to option").evaluate_all("all => all.map(each => each.value)")
        assert here == ["", "A2", "A3", "A6"]
        assert page.evaluate("scrollY") == 0
        assert faults == []


# ---- a link that stalls --------------------------------------------------------------------


def test_on_a_stalled_link_an_entry_is_kept_at_once_and_sent_once(
    browser: Browser, tmp_path: Path
) -> None:
    with served(tmp_path) as record, phone(browser) as (page, _, _):
        log_in(page, record, f"{READINGS}?box=VB-1&valve=A1")
        page.wait_for_load_state("networkidle")
        page.locator("#f-kind").select_option("ohms at the controller")
        page.route("**/READINGS_", lambda _: None)  # never answered
        page.evaluate("document.getElementById('state').dataset.patience = '3000'")
        page.locator("#f-value").fill("31.1")
        page.locator("#save").click()
        expect(page.locator("#waiting")).to_contain_text(
            "Kept on this phone, sending.", timeout=2000
        )
        page.locator("#save").click()  # an impatient finger: the field is empty
        expect(page.locator("#hint")).to_have_text("Type the value, or OL.")
        page.locator("#f-value").fill("31.1")  # a more impatient one
        page.locator("#save").click()
        expect(page.locator("#hint")).to_contain_text("on the phone already")
        expect(page.locator("#waiting")).to_contain_text("The server does not answer.")
        expect(page.locator("#waiting")).to_contain_text("1 entry is waiting on this phone. A1")
        page.unroute("**/READINGS_")
        page.evaluate("dispatchEvent(new Event('online'))")
        expect(page.locator("#waiting")).to_be_hidden()
        assert values(record) == [("A1", "31.1")]


def test_what_waits_is_listed_and_sent_from_every_page(browser: Browser, tmp_path: Path) -> None:
    pages = ("", "VB-2/", "FIND_IN_JOB/", "WIRING_DRAWING/")
    results = ("RESULTS_", "RESULTS_?valve=A1", "REPORTS_")
    with served(tmp_path) as record, phone(browser) as (page, _, faults):
        log_in(page, record, f"{READINGS}?box=VB-1&valve=A1")
        for number, page_of_job in enumerate((*pages, *results), 30):
            page.goto(at(record, f"{READINGS}?box=VB-1&valve=A1"))
            page.wait_for_load_state("networkidle")
            page.context.route("**/READINGS_", lambda route: route.abort())
            page.locator("#f-value").fill(str(number))
            page.locator("#save").click()
            expect(page.locator("#waiting")).to_contain_text("There is no signal.")
            page.goto(at(record, f"/{LARKSPUR}/{page_of_job}"))
            expect(page.locator("#waiting")).to_contain_text("1 entry is waiting on this phone. A1")
            expect(page.locator("#waiting")).to_contain_text("There is no signal.")
            before = [("A1", str(value)) for value in range(30, number)]
            assert values(record) == before, page_of_job
            page.context.unroute("**/READINGS_")
            with page.expect_response("**/READINGS_"):  # the list is hidden until it is known
                page.reload()
            expect(page.locator("#waiting")).to_be_hidden()
            assert values(record) == [*before, ("A1", str(number))], page_of_job
        assert [fault for fault in faults if "ERR_FAILED" not in fault] == []


def test_what_was_written_on_paper_is_of_its_day(browser: Browser, tmp_path: Path) -> None:
    with served(tmp_path) as record, phone(browser, keeps=False) as (page, _, _):
        log_in(page, record, f"{READINGS}?box=A")
        page.locator("#f-day").fill("2026-05-04")
        for value in ("31", "32"):
            page.locator("#f-value").fill(value)
            expect(page.locator("#hint")).to_contain_text("Written down on 2026-05-04.")
            page.locator("#next").click()
        expect(page.locator("#said b").first).to_contain_text("A2:")
        assert [entry.said_at for entry in record.stored()] == ["2026-05-04"] * 2
