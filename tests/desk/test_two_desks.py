"""Two desks on one folder, in two processes: whatever was acknowledged is in the file."""

from __future__ import annotations

import re
import signal
import threading
from collections import Counter
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from http.client import HTTPException
from pathlib import Path

import pytest
import yaml
from playwright.sync_api import Browser, Page, Route, expect

from cardgen.desk.job_folder import JobFolder
from cardgen.desk.open_job import OpenJob
from cardgen.editing import Put
from tests.desk.clients import DeskClient
from tests.desk.desks import cell, desk_page, killed_desk, open_desk, running_desk, typed
from tests.jobs import sample

WRITERS, ROWS = 4, 8  # two on each desk
KILLS = 2
_LOST = (OSError, HTTPException)  # nobody answers any more


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "larkspur.yaml").write_text(sample("larkspur"), encoding="utf-8")
    return tmp_path


def client_of(address: str) -> DeskClient:
    match = re.search(r":(\d+)/open/(.+)", address)
    assert match
    return DeskClient(int(match[1]), match[2])


def areas_in(folder: Path) -> Counter[str]:
    """As another reader of YAML finds them."""
    job = yaml.safe_load((folder / "larkspur.yaml").read_text(encoding="utf-8"))
    return Counter(station["area"] for station in job["stations"].values())


def add_row(desk: DeskClient, area: str) -> None:
    """As a page does it: what others have changed meanwhile is looked at, then sent again."""
    while True:
        row = {"section": "stations", "rows": [{"area": area, "box": "VB-1"}]}
        answer = desk.send("edit", {"version": desk.data()["version"], **row})
        if answer.status == 200:
            return
        assert answer.json()["kind"] == "changed", answer.text


def test_rows_that_four_people_add_at_once_are_all_there(folder: Path) -> None:
    with running_desk(folder) as one, open_desk(folder) as two:
        desks = [client_of(address) for address in (one, two)] * (WRITERS // 2)

        def write(writer: int) -> None:
            for number in range(ROWS):
                add_row(desks[writer], f"bed {writer}.{number}")

        with ThreadPoolExecutor(WRITERS) as pool:
            list(pool.map(write, range(WRITERS)))
        names = [[row["name"] for row in desk.data()["rows"]["stations"]] for desk in desks]
    found = areas_in(folder)
    assert all(found[f"bed {w}.{n}"] == 1 for w in range(WRITERS) for n in range(ROWS))
    assert found.total() == 6 + WRITERS * ROWS
    # The names follow each other, none twice; both desks show the same.
    assert names[0] == names[1] == [f"A{n}" for n in range(1, 6 + WRITERS * ROWS + 1)]


def test_a_desk_that_is_killed_while_it_saves_loses_nothing(folder: Path) -> None:
    acknowledged: list[str] = []
    sent: list[str] = []
    with open_desk(folder) as other:
        for kill in range(KILLS):
            with killed_desk(folder) as (address, process):
                desk, enough = client_of(address), threading.Event()
                stop = threading.Thread(
                    target=_kill_after, args=(enough, lambda: process.send_signal(signal.SIGKILL))
                )
                stop.start()
                for number in range(1000):
                    area = f"bed {kill}.{number}"
                    sent.append(area)
                    try:
                        add_row(desk, area)
                    except _LOST:
                        break
                    acknowledged.append(area)
                    if number == 3 + kill:
                        enough.set()
                stop.join()
            # Whoever goes on is not kept waiting, and takes nothing of it away.
            add_row(client_of(other), f"after {kill}")
            acknowledged.append(f"after {kill}")
    found = areas_in(folder)
    assert len(acknowledged) > KILLS * 4
    assert [area for area in acknowledged if found[area] != 1] == []
    # What was under way is there once, or not at all.
    more = found.keys() - areas_of(sample("larkspur")) - set(acknowledged)
    assert more <= set(sent) and len(more) <= KILLS
    assert max(found.values()) == 1
    files = [path.name for path in folder.iterdir() if not path.name.startswith(".")]
    assert files == ["larkspur.yaml"]


def _kill_after(enough: threading.Event, kill: Callable[[], None]) -> None:
    enough.wait()
    kill()


def areas_of(text: str) -> set[str]:
    return {station["area"] for station in yaml.safe_load(text)["stations"].values()}


def test_two_people_type_into_one_job(browser: Browser, folder: Path) -> None:
    """What comes too late waits beside the cell, and is typed again over what is there now."""
    with (
        open_desk(folder) as one,
        open_desk(folder) as two,
        desk_page(browser) as (mine, my_faults),
        desk_page(browser) as (yours, _),
    ):
        for page, address in ((mine, one), (yours, two)):
            page.goto(address)
            page.get_by_role("link", name="Larkspur Cottage").click()
            expect(cell(page, 0, "area")).to_have_text("front lawn west, spray")
        cell(yours, 1, "area").click()
        yours.keyboard.type("walk")  # Enter is not pressed yet
        typed(mine, 0, "area", "orchard")
        expect(mine.locator("#saved")).to_have_text("Saved")
        yours.keyboard.press("Enter")
        expect(yours.locator("#notice")).to_contain_text("has been changed meanwhile")
        assert "walk" not in areas_in(folder) and "orchard" in areas_in(folder)
        yours.get_by_role("button", name="Take the file as it is now").click()
        expect(cell(yours, 0, "area")).to_have_text("orchard")
        typed(yours, 1, "area", "walk")
        expect(yours.locator("#saved")).to_have_text("Saved")
        # Here it comes by itself.
        expect(mine.locator("#notice")).to_contain_text("was changed outside this page")
        expect(cell(mine, 1, "area")).to_have_text("walk")
        assert my_faults == []
        type_before_it_has_come(mine, yours, 2, is_entered=True)
        type_before_it_has_come(mine, yours, 3, is_entered=False)
    assert {"orchard", "walk"} <= areas_in(folder).keys()


def type_before_it_has_come(mine: Page, yours: Page, row: int, *, is_entered: bool) -> None:
    """Not taken under the hands of somebody who types: that would overwrite it untold."""
    held: list[Route] = []

    def hold(route: Route) -> None:
        held.append(route)

    mine.route("**/data", hold)
    with mine.expect_request("**/data"):
        typed(yours, row, "area", f"thyme {row}")
    expect(yours.locator("#saved")).to_have_text("Saved")
    cell(mine, row, "area").click()
    mine.keyboard.type("sage")
    if is_entered:
        mine.keyboard.press("Enter")
    held[0].continue_()
    mine.wait_for_function("() => !jobPage.busy")
    mine.unroute("**/data", hold)
    if not is_entered:
        mine.keyboard.press("Enter")
    expect(mine.locator("#notice")).to_contain_text("has been changed meanwhile")
    mine.get_by_role("button", name="Take the file as it is now").click()
    expect(cell(mine, row, "area")).to_have_text(f"thyme {row}")


def test_what_is_found_is_of_the_text_that_was_shown(folder: Path) -> None:
    """Another request may write between two looks at the same text."""
    job = OpenJob.at(JobFolder(folder).file("larkspur.yaml"))
    shown = job.show()
    job.edit([Put(path=("stations", "A1", "box"), value="VB-77")], shown.version)
    assert [p.code for p in job.examined().problems if p.verdict == "error"] == ["unknown-name"]
    assert [p for p in job.examined(shown).problems if p.verdict == "error"] == []
    assert job.root(shown) != job.root()
    assert [p.code for p in job.examined().problems if p.verdict == "error"] == ["unknown-name"]
