"""What happens at a desk on a working day: searching, pasting, undoing, and others at the files."""

from __future__ import annotations

from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.desk.desks import cell, desk_page, opened, pasted, running_desk, typed
from tests.jobs import sample
from tests.record.test_access import axe_finds_nothing

pytestmark = pytest.mark.xdist_group("browser")

# ISO/IEC 7810 ID-1, upright; a pixel of a page is 1/96 inch (CSS Values and Units 4, 6.2).
_IS_AS_WIDE_AS_A_CARD = """() => {
  const image = document.querySelector("figure img");
  return image && Math.abs((image.getBoundingClientRect().width / 96) * 25.4 - 53.98) < 0.6;
}"""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    for name in ("larkspur", "quarry"):
        (tmp_path / f"{name}.yaml").write_text(sample(name), encoding="utf-8")
    (tmp_path / "broken.yaml").write_text("job: {code: X-1\nstations:\n", encoding="utf-8")
    (tmp_path / "shopping.yaml").write_text("- tape\n- connectors\n", encoding="utf-8")
    return tmp_path


def larkspur(folder: Path) -> str:
    return (folder / "larkspur.yaml").read_text(encoding="utf-8")


def is_saved(page: Page) -> None:
    expect(page.locator("#saved")).to_have_text("Saved")


def test_a_working_day(browser: Browser, folder: Path) -> None:
    with running_desk(folder) as address, desk_page(browser) as (page, faults):
        page.goto(address)
        expect(page.locator("#jobs tr")).to_have_count(3)  # not what is no job
        expect(page.locator("#jobs")).to_contain_text("nothing wrong")
        search_all_jobs(page)
        page.get_by_role("link", name="All jobs").click()
        page.get_by_role("link", name="broken.yaml").click()
        expect(page.locator(".file-lines strong")).to_be_visible()
        axe_finds_nothing(page)
        page.get_by_role("link", name="All jobs").click()
        page.get_by_role("link", name="Larkspur Cottage").click()
        cell(page, 0, "area").click()
        paste_under_headings(page, folder)
        go_back_and_forward(page, folder)
        type_what_does_not_fit(page, folder)
        give_a_box_another_name(page, folder)
        fill_parts_that_few_jobs_have(page, folder)
        assert faults == []
        what_is_refused_or_lost_waits(page, folder)
        others_change_the_file(page, folder)
        axe_finds_nothing(page)
    # What a browser says of a refusal, and of an address that does not answer.
    assert all("409" in fault or "ERR_FAILED" in fault for fault in faults), faults


def search_all_jobs(page: Page) -> None:
    """A box of the quarry is found among all jobs, and its row is chosen there."""
    page.get_by_label("Search jobs").fill("foot of the north")
    expect(page.locator("#jobs tr:visible")).to_have_count(1)
    page.get_by_role("link", name="VB-5: foot of the north slope").click()
    expect(page.locator("#tab-boxes")).to_have_attribute("aria-selected", "true")
    expect(page.locator("figcaption").first).to_contain_text("VB-5")


def paste_under_headings(page: Page, folder: Path) -> None:
    """Headings of ours in any order; a cell with a line break stands in quotes."""
    pasted(
        page, 0, "name",
        "Station\tNotes\tArea", 'A1\t"keep clear\nof the oak"\tfront lawn', "A2\t\tfront walk",
    )  # fmt: skip
    is_saved(page)
    expect(cell(page, 0, "notes")).to_have_text("keep clear of the oak")
    expect(page.locator("#cell-said")).to_have_text("A1 Station: A1")
    lines = larkspur(folder).splitlines()
    assert (
        "  A1: {area: front lawn, box: VB-1, hot: A-K1 red, notes: keep clear of the oak}" in lines
    )
    assert "  A2: {area: front walk, box: VB-1, hot: A-K1 blue}" in lines


def go_back_and_forward(page: Page, folder: Path) -> None:
    """Also after the page was loaded again."""
    changed = larkspur(folder)
    page.reload()
    page.locator("#undo").click()
    expect(cell(page, 1, "area")).to_have_text("front lawn east, spray")
    assert larkspur(folder) == sample("larkspur")
    cell(page, 2, "box").click()
    page.keyboard.press("Control+y")
    expect(cell(page, 1, "area")).to_have_text("front walk")
    assert larkspur(folder) == changed
    page.keyboard.press("Control+z")
    expect(cell(page, 1, "area")).to_have_text("front lawn east, spray")


def type_what_does_not_fit(page: Page, folder: Path) -> None:
    """It is told before it is written, and Esc leaves all as it was."""
    cell(page, 2, "area").click()
    expect(page.locator("figcaption").first).to_contain_text("A3")
    page.wait_for_function(_IS_AS_WIDE_AS_A_CARD)  # it may be drawn again meanwhile
    page.keyboard.type(
        "beds by the long wall with roses, sage, lavender and thyme, three rows deep "
    )
    page.keyboard.type("with drip line under the mulch and a flush valve at each end of the row")
    expect(page.locator("#preview .misfit")).to_contain_text("mm too")
    page.keyboard.press("Escape")
    expect(cell(page, 2, "area")).to_have_text("front beds, drip")
    assert larkspur(folder) == sample("larkspur")


def give_a_box_another_name(page: Page, folder: Path) -> None:
    """All that mentions it goes with it, in one step; or the name alone, if one wants that."""
    opened(page, "boxes")
    typed(page, 0, "name", "WALK")
    notice = page.locator("#notice")
    expect(notice).to_contain_text("VB-1 → WALK. Places that mention it were changed as well: 3.")
    assert larkspur(folder) == sample("larkspur").replace("VB-1", "WALK")
    axe_finds_nothing(page)
    page.get_by_role("button", name="Change the name only").click()
    expect(notice).to_be_hidden()
    expect(page.locator("#findings")).to_contain_text("Add box VB-1")
    assert larkspur(folder) == sample("larkspur").replace("  VB-1: {", "  WALK: {")
    page.locator("#undo").click()
    expect(cell(page, 0, "name")).to_have_text("VB-1")
    change_the_name_only_while_typing(page, folder)
    opened(page, "stations")
    assert larkspur(folder) == sample("larkspur")


def change_the_name_only_while_typing(page: Page, folder: Path) -> None:
    """What was typed after the name is written, too, and stays."""
    typed(page, 0, "name", "WALK")
    is_saved(page)
    cell(page, 1, "place").click()
    page.keyboard.type("side walk")
    page.get_by_role("button", name="Change the name only").click()
    expect(page.locator("#findings")).to_contain_text("Add box VB-1")
    renamed = sample("larkspur").replace("  VB-1: {", "  WALK: {")
    assert larkspur(folder) == renamed.replace("place: front bed", "place: side walk")
    while larkspur(folder) != sample("larkspur"):
        page.locator("#undo").click()
        is_saved(page)
    expect(cell(page, 0, "name")).to_have_text("VB-1")


def fill_parts_that_few_jobs_have(page: Page, folder: Path) -> None:
    """They come on demand, by keys as well; a cell offers what it takes, `not known` too."""
    expect(page.locator("#tab-sensors")).to_be_visible()  # the sample has one
    expect(page.locator("#tab-joints")).to_be_hidden()
    page.locator("#more-parts").press("Enter")
    expect(page.locator("#tab-singles")).to_be_focused()
    page.keyboard.press("ArrowRight")
    expect(page.locator("#tab-controllers")).to_have_attribute("aria-selected", "true")
    axe_finds_nothing(page)
    opened(page, "joints")
    pasted(page, 0, "name", "VB-1\tA-K1 red in, A1; A-K1 blue in, A2")
    is_saved(page)
    expect(cell(page, 0, "joints")).to_have_text("A-K1 red in, A1; A-K1 blue in, A2")
    assert "\njoints:\n  VB-1: [[A-K1 red in, A1], [A-K1 blue in, A2]]\n" in larkspur(folder)
    page.locator("#undo").click()
    expect(cell(page, 0, "name")).to_have_text("")
    opened(page, "coils")
    cell(page, 0, "resistance").dblclick()
    offered = page.locator("input:focus").get_attribute("list")
    assert page.locator(f"#{offered} option").evaluate_all("all => all.map(o => o.value)") == [
        "not known"
    ]
    page.keyboard.press("Escape")
    opened(page, "stations")
    assert larkspur(folder) == sample("larkspur")


def what_is_refused_or_lost_waits(page: Page, folder: Path) -> None:
    """A block with one name too many is not thrown away, nor what is typed while nobody answers."""
    pasted(page, 0, "name", "A1\tfront lawn", "A3\tfront walk")
    expect(page.locator("#notice")).to_contain_text("There is a 'A3' already")
    assert larkspur(folder) == sample("larkspur")
    typed(page, 1, "name", "A2")
    expect(page.locator("#notice")).to_be_hidden()
    is_saved(page)
    assert "{area: front lawn, box: VB-1" in larkspur(folder)
    assert "{area: front walk, box: VB-1" in larkspur(folder)
    page.route("**/edit", lambda route: route.abort())
    typed(page, 5, "area", "rose bed")
    expect(page.locator("#notice")).to_contain_text("does not answer")
    assert "rose bed" not in larkspur(folder)
    page.unroute("**/edit")
    expect(page.locator("#notice")).to_be_hidden()
    assert "rose bed" in larkspur(folder)
    page.locator("#undo").click()
    expect(cell(page, 5, "area")).to_have_text("side beds, drip")
    page.locator("#undo").click()
    expect(cell(page, 0, "area")).to_have_text("front lawn west, spray")
    assert larkspur(folder) == sample("larkspur")


def others_change_the_file(page: Page, folder: Path) -> None:
    """While one types: nothing of theirs is overwritten, and what was typed is kept beside it."""
    cell(page, 4, "area").click()
    page.keyboard.type("orchard")
    theirs = sample("larkspur").replace("back lawn north", "north orchard")
    (folder / "larkspur.yaml").write_text(theirs, encoding="utf-8")
    page.keyboard.press("Enter")
    expect(page.locator("#notice")).to_contain_text("has been changed meanwhile")
    assert larkspur(folder) == theirs
    typed(page, 0, "notes", "by the hedge")  # goes on before anybody has decided
    opened(page, "boxes")
    typed(page, 1, "size", "10 in round")
    assert larkspur(folder) == theirs
    page.get_by_role("button", name="Keep mine as a copy").click()
    expect(page.get_by_role("link", name="larkspur-mine.yaml")).to_be_visible()
    mine = sample("larkspur").replace('"back lawn south, rotor"', "orchard")
    mine = mine.replace("place: front bed, size: 12 x 17 in", "place: front bed, size: 10 in round")
    mine = mine.replace("hot: A-K1 red}", "hot: A-K1 red, notes: by the hedge}")
    assert (folder / "larkspur-mine.yaml").read_text(encoding="utf-8") == mine
    opened(page, "stations")
    expect(cell(page, 3, "area")).to_have_text("north orchard, rotor")
    # Seen without a key pressed, too.
    (folder / "larkspur.yaml").write_text(sample("larkspur"), encoding="utf-8")
    expect(page.locator("#notice")).to_contain_text("was changed outside this page")
    expect(cell(page, 3, "area")).to_have_text("back lawn north, rotor")
