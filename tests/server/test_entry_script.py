"""The entry page on a phone: its keys, its queue without signal, in a real browser."""

from __future__ import annotations

import json
import math
import re
import time
import uuid
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from cardgen.results import Kind
from cardgen.results.reading_value import NotAValue, value_read
from cardgen.server.entry_kinds import factors_of
from tests.record.browser import phone
from tests.record.records import LARKSPUR
from tests.record.test_pages import CHAIN
from tests.server.crews import READINGS, Served, served
from tests.server.phones import PIN
from tests.server.test_photos import heic, with_exif

pytestmark = pytest.mark.xdist_group("browser")

# 56 px and more for what is pressed with wet gloves: our choice, above the 44 of WCAG 2.2, 2.5.5.
_SMALL = """() => [...document.querySelectorAll('button,.tile,.field,summary,[type=file],.check')]
    .filter(e => e.checkVisibility()).map(e => [e.textContent, e.getBoundingClientRect()])
    .filter(([, r]) => r.height < 56 || r.width < 56)
    .map(([text, r]) => `${text} ${r.width} x ${r.height}`)"""
_KEPT = """async () => {
    const name = (await caches.keys()).find(name => name.startsWith('record '));
    const kept = name && await caches.open(name);
    return !!(navigator.serviceWorker.controller && kept
        && await kept.match(new URL('READINGS_', location.href))
        && await kept.match(new URL('saved_at', location.href)))}"""


@pytest.fixture
def record(tmp_path: Path) -> Iterator[Served]:
    with served(tmp_path) as found:
        yield found


def at(record: Served, path: str = READINGS) -> str:
    return f"http://localhost:{record.port}{path}"


def log_in(page: Page, record: Served, to: str = READINGS, crew: str = "Ana") -> None:
    """As the phone of a crew that has logged in before; `fill_in` is by hand."""
    kept = record.crew(crew).cookies
    page.context.add_cookies([{"name": k, "value": kept[k], "url": at(record, "/")} for k in kept])
    page.goto(at(record, to))


def fill_in(page: Page, crew: str = "Ana") -> None:
    page.locator("[name=crew]").fill(crew)
    page.locator("[name=pin]").fill(PIN)
    page.get_by_role("button", name="Log in").click()


def wait_for_copy(page: Page) -> None:
    """Until the phone has kept the record, and the form with it."""
    end = time.monotonic() + 20
    while not page.evaluate(_KEPT):
        assert time.monotonic() < end, "no copy was kept"
        page.wait_for_timeout(50)


def type_in(page: Page, valve: str, value: str, kind: str = "ohms at the controller") -> None:
    tile = page.locator(".tile", has=page.locator(f"[name=valve][value={valve}]"))
    tile.wait_for(state="attached")  # the page may still be on its way
    page.wait_for_load_state()
    if not tile.is_visible():
        page.locator("#valves summary").click()
    tile.click()
    page.locator("#f-kind").select_option(kind)
    for key in re.findall("OL|.", value):
        page.locator(f"#keys button[value='{key}']").click()


def save(page: Page, valve: str, value: str) -> None:
    type_in(page, valve, value)
    page.locator("#save").click()


def values(record: Served) -> list[tuple[str, str]]:
    return [(entry.valve, entry.value) for entry in record.stored()]


@pytest.mark.parametrize("path", ["?box=VB-1", "?box=A", "", "?box=VB-1&language=es"])
def test_all_is_large_enough_for_a_glove(browser: Browser, record: Served, path: str) -> None:
    with phone(browser, keeps=False) as (page, asked, faults):
        page.goto(at(record, READINGS + path))
        for folded in page.locator("#differs summary, #conditions summary").all():
            folded.click()
        for width in (390, 320):
            page.set_viewport_size({"width": width, "height": 844})
            assert page.evaluate("document.documentElement.scrollWidth - innerWidth") <= 0
            assert page.evaluate(_SMALL) == []
        assert faults == []
        assert {url.split("/")[2] for url in asked} == {f"localhost:{record.port}"}


def test_a_reading_is_typed_and_judged_without_leaving_the_page(
    browser: Browser, record: Served
) -> None:
    with phone(browser, keeps=False) as (page, _, faults):
        log_in(page, record, f"{READINGS}?box=VB-1")
        assert page.locator(".tile:visible [name=valve]").count() == 2
        type_in(page, "A1", "7.4.")
        assert page.locator("#f-value").input_value() == "7.4"
        assert page.locator("#hint").inner_text().startswith("= 7.4 Ω. Expected: 25–37 Ω. ! out of")
        page.locator("#keys button[value=OL]").click()
        assert page.locator("#f-value").input_value() == "OL"
        page.locator("#keys button[value=clear]").click()
        type_in(page, "A1", "31.1")
        assert page.locator("#hint").inner_text() == "= 31.1 Ω. Expected: 25–37 Ω. ✓ in range"
        page.locator("#save").click()
        expect(page.locator("#said")).to_contain_text("The reading is within 25 to 37 Ω.")
        assert page.locator("#waiting").is_hidden()
        assert values(record) == [("A1", "31.1")]
        assert faults == []


def test_two_readings_without_signal_are_sent_once_each_when_it_is_back(
    browser: Browser, record: Served
) -> None:
    with phone(browser) as (page, _, _):
        log_in(page, record)
        wait_for_copy(page)
        page.context.set_offline(True)
        page.goto(at(record, f"/{LARKSPUR}/VB-1/"))  # from the copy, with the way to the form
        page.get_by_role("link", name="Enter a reading").last.click()
        page.wait_for_url("**READINGS_?box=VB-1")
        assert page.locator(".tile:visible [name=valve]").count() == 2
        save(page, "A1", "31.1")
        expect(page.locator("#waiting")).to_contain_text("1 entry is waiting on this phone.")
        save(page, "A2", "OL")
        expect(page.locator("#waiting")).to_contain_text("2 entries are waiting on this phone.")
        page.reload()
        expect(page.locator("#waiting")).to_contain_text("2 entries are waiting on this phone.")
        assert values(record) == []
        page.context.set_offline(False)
        expect(page.locator("#said")).to_contain_text("The meter shows OL: the hot")
        expect(page.locator("#waiting")).to_be_hidden()
        page.reload()
        page.wait_for_load_state("networkidle")
        assert values(record) == [("A1", "31.1"), ("A2", "OL")]


def test_a_login_that_ended_meanwhile_is_asked_for_and_nothing_is_lost(
    browser: Browser, record: Served
) -> None:
    with phone(browser) as (page, _, _):
        log_in(page, record, f"{READINGS}?box=VB-1")
        page.wait_for_load_state("networkidle")
        page.context.clear_cookies()
        save(page, "A1", "31.1")
        expect(page.locator("#waiting")).to_contain_text("1 entry is waiting on this phone.")
        page.get_by_role("link", name="Log in to send what is waiting").click()
        fill_in(page, "Ben")
        page.wait_for_url("**READINGS_?box=VB-1")
        expect(page.locator("#said")).to_contain_text("within 25 to 37")
        assert values(record) == [("A1", "31.1")]
        assert (record.stored()[0].crew, record.stored()[0].more) == ("Ben", '{"by": "Ana"}')


def test_two_tabs_do_not_send_twice(browser: Browser, record: Served) -> None:
    with phone(browser) as (page, _, _):
        log_in(page, record, f"{READINGS}?box=VB-1")
        other = page.context.new_page()
        other.goto(at(record, f"{READINGS}?box=VB-2"))
        page.context.set_offline(True)
        save(page, "A1", "31.1")
        expect(page.locator("#waiting")).to_contain_text("1 entry is waiting")
        page.context.set_offline(False)
        for tab in (page, other):
            tab.evaluate("dispatchEvent(new Event('online'))")
        expect(page.locator("#waiting")).to_be_hidden()
        other.reload()
        other.wait_for_load_state("networkidle")
        assert values(record) == [("A1", "31.1")]


def test_an_answer_that_was_lost_makes_no_second_row(browser: Browser, record: Served) -> None:
    with phone(browser) as (page, _, _):
        log_in(page, record, f"{READINGS}?box=VB-1")
        page.route("**/READINGS_", lambda route: (route.fetch(), route.abort()))
        save(page, "A1", "31.1")
        expect(page.locator("#waiting")).to_contain_text("There is no signal.")
        assert values(record) == [("A1", "31.1")]
        page.unroute("**/READINGS_")
        page.reload()
        expect(page.locator("#said")).to_contain_text("within 25 to 37")
        assert values(record) == [("A1", "31.1")]


def test_what_the_server_refuses_can_be_changed_and_sent(browser: Browser, record: Served) -> None:
    with phone(browser, keeps=False) as (page, _, _):
        log_in(page, record, f"{READINGS}?box=VB-1")
        page.locator("#f-notes").fill("gate code 4711")
        save(page, "A1", "31.1")
        expect(page.locator("#waiting")).to_contain_text("looks like a code")
        page.locator(".tile", has=page.locator("[name=valve][value=A2]")).click()
        page.get_by_role("button", name="Change it").click()
        expect(page.locator("[name=valve][value=A1]")).to_be_checked()
        expect(page.locator("#f-value")).to_have_value("31.1")
        expect(page.locator("#f-notes")).to_have_value("gate code 4711")
        expect(page.locator("#waiting")).to_contain_text("looks like a code")  # until it is kept
        page.locator("#f-notes").fill("lid cracked")
        page.locator("#save").click()
        expect(page.locator("#said")).to_contain_text("31.1")
        expect(page.locator("#waiting")).to_be_hidden()
        assert values(record) == [("A1", "31.1")]


def test_what_the_server_refuses_stays_on_the_phone_until_it_is_thrown_away(
    browser: Browser, record: Served
) -> None:
    with phone(browser, keeps=False) as (page, _, _):
        log_in(page, record, f"{READINGS}?box=VB-1")
        page.locator("#f-notes").fill("gate code 4711")
        save(page, "A1", "31.1")
        expect(page.locator("#waiting")).to_contain_text("looks like a code")
        page.locator("#f-photo").set_input_files(
            {"name": "a.heic", "mimeType": "image/heic", "buffer": heic()}
        )
        save(page, "A2", "30")
        expect(page.locator("#waiting")).to_contain_text("(HEIC)")
        save(page, "A2", "29")
        expect(page.locator("#said")).to_contain_text("29 Ω")
        assert values(record) == [("A2", "29")]
        page.on("dialog", lambda dialog: dialog.accept())
        discard = page.get_by_role("button", name="Discard")
        for left in (1, 0):
            discard.first.click()
            expect(discard).to_have_count(left)  # else the next click may be on the same one
        expect(page.locator("#waiting")).to_be_hidden()


def test_a_difference_with_a_photo_reaches_the_office(browser: Browser, record: Served) -> None:
    with phone(browser, keeps=False) as (page, _, faults):
        log_in(page, record, f"/{LARKSPUR}/VB-2/")
        page.get_by_role("link", name="Something here differs from the tag").click()
        page.wait_for_url("**READINGS_*")
        assert page.locator("#f-box").input_value() == "VB-2"
        page.locator("#f-differs").fill("blue is spliced to green\nby an older crew")
        page.locator("#f-other-photo").set_input_files(
            {"name": "a.jpg", "mimeType": "image/jpeg", "buffer": with_exif(6)}
        )
        page.get_by_role("button", name="Report it to the office").click()
        expect(page.locator("#said")).to_contain_text("Reported.")
        page.get_by_role("link", name="What differs").click()
        expect(page.locator("main")).to_contain_text("blue is spliced to green")
        assert faults == []
        page.get_by_role("link", name="Photo").click()
        page.wait_for_url("**/PHOTOS_/*")
        size = "[document.images[0].naturalWidth, document.images[0].naturalHeight]"
        assert page.evaluate(size) == [40, 60]


def test_without_script_it_is_a_plain_form(browser: Browser, record: Served) -> None:
    with phone(browser, script=False) as (page, _, _):
        log_in(page, record, f"{READINGS}?box=VB-1&valve=A1")
        assert page.locator("#keys").is_hidden()
        assert page.locator("#f-kind").input_value() == "ohms at the coil"  # one stands at a box
        page.locator("#f-kind").select_option("ohms at the controller")
        page.locator("#f-value").fill("16,2")
        page.locator("#save").click()
        expect(page.locator("main")).to_contain_text("about half")
        page.locator(".tile", has=page.locator("[value=A2]")).click()
        page.locator("#f-kind").select_option("ohms at the controller")
        page.locator("#ol input").check()
        page.locator("#save").click()
        expect(page.locator("main")).to_contain_text("The meter shows OL: the hot")
        assert values(record) == [("A1", "16.2"), ("A2", "OL")]


def test_on_a_kept_page_the_entry_is_of_the_crew_that_is_logged_in_now(
    browser: Browser, record: Served
) -> None:
    with phone(browser) as (page, _, _):
        log_in(page, record)
        wait_for_copy(page)  # the kept page was made for Ana
        page.context.clear_cookies()
        log_in(page, record, crew="Ben")
        page.goto(at(record, f"{READINGS}?box=VB-1"))
        page.wait_for_load_state("networkidle")
        page.context.set_offline(True)
        page.reload()
        save(page, "A1", "31.1")
        expect(page.locator("#waiting")).to_contain_text("1 entry is waiting")
        page.context.set_offline(False)
        expect(page.locator("#said")).to_contain_text("within 25 to 37")
        assert [(e.crew, e.more) for e in record.stored()] == [("Ben", "{}")]


def test_at_a_controller_the_next_station_is_one_press_away(
    browser: Browser, record: Served
) -> None:
    with phone(browser, keeps=False) as (page, _, faults):
        log_in(page, record, f"{READINGS}?box=A")
        assert page.locator("#valve-name").inner_text().startswith("A1 ")
        for valve, button in (("A1", "Save, then A2"), ("A2", "Save, then A3"), ("A3", "Save")):
            for key in "31":
                page.locator(f"#keys button[value='{key}']").click()
            page.get_by_role("button", name=button, exact=True).click()
            expect(page.locator("#said b").first).to_contain_text(f"{valve}:")
        page.get_by_role("button", name="Skip to A4").click()
        assert page.locator("#valve-name").inner_text().startswith("A4 ")
        assert values(record) == [("A1", "31"), ("A2", "31"), ("A3", "31")]
        assert faults == []


def test_what_is_empty_is_not_even_kept(browser: Browser, record: Served) -> None:
    with phone(browser, keeps=False) as (page, _, faults):
        log_in(page, record, f"{READINGS}?box=VB-1&valve=A1")
        page.locator("#save").click()
        expect(page.locator("#hint")).to_have_text("Type the value, or OL.")
        page.locator("#differs summary").click()
        page.get_by_role("button", name="Report it to the office").click()
        expect(page.locator("#f-differs")).to_be_focused()
        assert page.locator("#waiting").is_hidden()
        assert record.stored() == ()
        assert faults == []


# ---- what the scripts work out by themselves -----------------------------------------------


def works_out(browser: Browser, record: Served, *calls: str) -> list[object]:
    """What each call says on the entry page."""
    with phone(browser, keeps=False) as (page, _, faults):
        page.goto(at(record))
        found: list[object] = page.evaluate(f"[{', '.join(calls)}]")
        assert faults == []
        return found


def test_a_key_adds_to_the_value(browser: Browser, record: Served) -> None:
    told = {
        'valueAfter("", "7")': "7",
        'valueAfter("7", ".")': "7.",
        'valueAfter("7.4", ".")': "7.4",
        'valueAfter("7.4", "OL")': "OL",
        'valueAfter("OL", "3")': "3",
        'valueAfter("7.4", "clear")': "",
        'valueAfter("1.2", "k")': "1.2 k",
        'valueAfter("1.2 k", "M")': "1.2 M",
        'valueAfter("1.2 k", "3")': "1.2 k",
        'valueAfter("", "k")': "",
        'valueAfter("230 m", "A")': "230 mA",
    }
    assert works_out(browser, record, *told) == list(told.values())


def test_the_phone_takes_a_value_for_what_the_server_takes_it(
    browser: Browser, record: Served
) -> None:
    numbers = (
        *("1.2 ", "1,2", "1,234", "0,234 ", "1,234.5", "1.234,5", "1,000,000", "1.000.000"),
        *("1234,567 ", ".5", "5.", "1,23,4", "12,34.5", "31.4.2", "x", "", "ol", "-5", "1e3"),
    )
    # As the server's reader takes them, and what it does not: SI has no millimeg.
    written = ("", "k", "K", "M", "m", "A", "V", " ohm", " k ohm", "kΩ", " Mohms", " mA", "x", "mm")
    for kind in (Kind.CONTROLLER, Kind.VOLTS, Kind.MILLIAMPERES, Kind.INSULATION):
        table = json.dumps(factors_of(kind))
        texts = [f"{n}{mark}" for n in numbers for mark in written]
        calls = [f"meterNumber({json.dumps(text)}, {table})" for text in texts]
        for text, phones in zip(texts, works_out(browser, record, *calls), strict=True):
            try:
                assert phones == pytest.approx(value_read(text, kind), abs=1e-6), text
            except NotAValue as refused:
                # What is too much, or never OL, is a number on the phone: the server says why not.
                if refused.variant not in ("too much", "never OL"):
                    assert isinstance(phones, float) and math.isnan(phones), text


def test_a_value_is_within_its_band_with_both_ends(browser: Browser, record: Served) -> None:
    told = {
        "isWithin([25, 37], 25)": True,
        "isWithin([25, 37], 37)": True,
        "isWithin([25, 37], 37.1)": False,
        "isWithin([25, 37], 24.9)": False,
        "isWithin([25, 37], Infinity)": False,
        "isWithin([1, null], Infinity)": True,  # insulation has no upper end
    }
    assert works_out(browser, record, *told) == list(told.values())


def test_a_mark_is_a_uuid_with_https_and_without(browser: Browser, record: Served) -> None:
    """`crypto.randomUUID` is there in secure contexts only."""
    with_it, without = works_out(
        browser,
        record,
        "newMark()",
        "(Object.defineProperty(crypto, 'randomUUID', {value: undefined}), newMark())",
    )
    for mark in (with_it, without):
        found = uuid.UUID(str(mark))
        assert (found.version, found.variant, str(found)) == (4, uuid.RFC_4122, mark)


def test_the_minute_is_that_of_the_clock_on_the_wall(browser: Browser, record: Served) -> None:
    call = "minuteOf(new Date(2026, 5, 1, 9, 5))"  # months are counted from 0
    for zone, distance in (("America/Phoenix", "-07:00"), ("Asia/Kolkata", "+05:30")):
        with browser.new_context(timezone_id=zone) as context:
            page = context.new_page()
            page.goto(at(record))
            assert page.evaluate(call) == f"2026-06-01T09:05{distance}"


def test_what_was_refused_is_shown_where_no_valve_is(browser: Browser, tmp_path: Path) -> None:
    """The page of a splice box has no form in which it could be changed."""
    with served(tmp_path, CHAIN) as record, phone(browser, keeps=False) as (page, _, _):
        log_in(page, record, f"{READINGS}?box=VB-2")
        page.locator("#f-notes").fill("gate code 4711")
        save(page, "A1", "31.1")
        expect(page.locator("#waiting")).to_contain_text("looks like a code")
        expect(page.get_by_role("button", name="Change it")).to_have_count(1)
        page.goto(at(record, f"{READINGS}?box=SB-1"))
        expect(page.get_by_role("button", name="Send again")).to_have_count(1)
        assert page.get_by_role("button", name="Change it").count() == 0
