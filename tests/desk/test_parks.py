"""A town with 60 parks at the desk: all tags in one queue that is stopped, and three crews.

What each tag says is held against the table of the maker (`parks.py`), tag by tag.  A queue that
is killed is in `test_desk_memory.py`.
"""

from __future__ import annotations

import re
from pathlib import Path
from threading import Event

import pytest
from playwright.sync_api import Browser, Page, expect
from pypdf import PdfReader

from tests.desk.desks import cell, desk_page, open_desk
from tests.desk.parks import Park, ParkValve, park
from tests.desk.tags_read import ReadTag, tags_of, tags_read
from tests.desk.test_crew_bundles import parts
from tests.record.browser import MAKING_MS

PARKS, STATIONS = 60, 42
CREWS = 3
_QUEUE_MS = 300_000  # whatever else the machine does; quiet, it takes a quarter minute


@pytest.fixture(scope="module")
def town() -> list[Park]:
    made = [park(number, STATIONS) for number in range(1, PARKS + 1)]
    assert sum(len(each.valves) for each in made) == 2520
    assert sum(len(each.unknown) for each in made) == sum(each.legs for each in made) / 3
    return made


def test_all_tags_of_sixty_parks(
    browser: Browser, tmp_path: Path, town: list[Park], may_print: Event
) -> None:
    for each in town:
        (tmp_path / f"{each.name}.yaml").write_text(each.text, encoding="utf-8")
    with open_desk(tmp_path) as address, desk_page(browser) as (page, faults):
        page.goto(address)
        begin_queue(page)
        printed = stopped_in_the_middle(page, may_print)
        kept = {name: (tmp_path / name).stat().st_mtime_ns for name in printed}
        go_on(page)
        search(page, town[40].valves[20])
        bundles(page, town[40])
        assert faults == []
    for name, when in kept.items():  # what was printed is not printed again
        assert (tmp_path / name).stat().st_mtime_ns == when
    for each in town:
        tags = tags_read(tmp_path / f"{each.name}-cards" / "valve-tags.pdf")
        are_of(each, tags, each.valves)
    crews_have_each_tag_once(town[40], tmp_path / f"{town[40].name}-cards" / "crews")


def begin_queue(page: Page) -> None:
    expect(page.locator("#jobs tr")).to_have_count(PARKS, timeout=MAKING_MS)
    page.get_by_label("Choose all that are listed").check()
    page.get_by_role("button", name="Print the chosen jobs").click()
    page.get_by_label("Box tags").uncheck()
    page.get_by_role("button", name="Make the PDF files").click()


def stopped_in_the_middle(page: Page, may_print: Event) -> list[str]:
    """The files that are printed by then; the next one is not begun before Stop was pressed."""
    done = page.locator("#queue-jobs tr[data-state=printed]")
    done.nth(9).wait_for(timeout=_QUEUE_MS)  # seen at once, where `expect` looks now and then
    may_print.clear()
    names = done.locator("th").all_text_contents()
    assert 10 <= len(names) < PARKS
    with page.expect_response("**/queue/stop"):
        page.get_by_role("button", name="Stop").click()
    may_print.set()
    expect(page.locator("#queue-said")).to_contain_text("Stopped.", timeout=MAKING_MS)
    return [f"{name.removesuffix('.yaml')}-cards/valve-tags.pdf" for name in names]


def go_on(page: Page) -> None:
    page.get_by_role("button", name="Go on").click()
    expect(page.locator("#queue-said")).to_have_text(
        f"Done. {PARKS} of {PARKS} jobs are printed.", timeout=_QUEUE_MS
    )
    page.get_by_role("link", name="All jobs").click()


def search(page: Page, valve: ParkValve) -> None:
    """By what is planted there, to its row and its tag."""
    page.get_by_label("Search jobs").fill(valve.area)
    page.get_by_role("link", name=f"{valve.valve}: {valve.area}").click()
    expect(page.locator("figure img").first).to_have_attribute(
        "alt", re.compile(f"^{valve.valve}\n")
    )
    expect(page.locator("#cell-said")).to_contain_text(f"{valve.valve} Station")
    row = page.locator(".tabulator-row", has_text=valve.area)
    expect(row.locator('[tabulator-field="hot"]')).to_have_text(f"{valve.cable} {valve.color}")
    assert cell(page, 0, "name").is_visible()


def bundles(page: Page, town_park: Park) -> None:
    """Each crew takes the boxes of one stretch, tags and the list of what it can find out."""
    page.get_by_role("link", name="Print", exact=True).click()
    page.get_by_role("link", name="For a crew").click()
    boxes = list(dict.fromkeys(valve.box for valve in town_park.valves))
    for crew in range(CREWS):
        page.get_by_label("Name of the crew").fill(f"Crew {crew + 1}")
        for box in boxes[crew::CREWS]:
            page.get_by_label(re.compile(f"^{box}: ")).check()
        page.get_by_label("Box tags").uncheck()
        page.get_by_label("Test sheet").uncheck()
        page.get_by_label("Survey list").check()
        page.get_by_role("button", name="Make the PDF for this crew").click()
        expect(page.get_by_role("link", name=f"crews/crew-{crew + 1}.pdf")).to_be_visible(
            timeout=MAKING_MS
        )
        page.get_by_role("link", name="For a crew").click()


def are_of(of: Park, tags: list[ReadTag], valves: tuple[ParkValve, ...]) -> None:
    """Each tag once, and on it what the maker has of that valve."""
    known = {valve.valve: valve for valve in valves}
    assert sorted(tag.valve for tag in tags) == sorted(known), of.name
    for tag in tags:
        valve = known[tag.valve]
        place = f"box {valve.box} controller A, terminal {valve.terminal} {valve.area} "
        assert tag.text.startswith(f"{valve.valve} {place}{valve.color} "), (of.name, tag)
        assert re.search(rf" {valve.color} ([A-Z]{{2}} )?HOT · {valve.cable}\b", tag.text), tag
        assert f"COMMON A · {valve.cable}" in tag.text, tag
        assert f"{of.name.upper()} · rev 1" in tag.text, tag


def crews_have_each_tag_once(of: Park, folder: Path) -> None:
    boxes = list(dict.fromkeys(valve.box for valve in of.valves))
    asked = set()
    for crew in range(CREWS):
        path = folder / f"crew-{crew + 1}.pdf"
        own = set(boxes[crew::CREWS])
        sheets = PdfReader(path).outline
        assert [str(mark.title) for mark in sheets] == ["Valve tags", "Survey list"]  # type: ignore[union-attr]
        tags = tags_of(path, "Valve tags")
        are_of(of, tags, tuple(valve for valve in of.valves if valve.box in own))
        survey = " ".join(parts(path)["Survey list"].split())
        asked |= set(re.findall(r"length of (A-K\d) from (A|VB-\d\d) to (VB-\d\d)", survey))
    assert asked == of.unknown
