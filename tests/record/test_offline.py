"""The copy on a phone is bounded, and its note says what is in it."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Route

from cardgen.record import PageWords, offline
from cardgen.record.offline import BESIDE, OfflineChoice, RecordPage, chosen
from cardgen.words import load_words
from tests.jobs import sample
from tests.record.browser import host, phone
from tests.record.records import BOTH, LARKSPUR, QUARRY, kept_pages, made, publish, sample_files
from tests.record.test_browser import wait_for_copy


def pages(*kinds: str) -> list[RecordPage]:
    """A page of 1,000 bytes of each kind in both languages."""
    return [
        RecordPage(name=f"{n}-{language}", language=language, kind=kind, data=b"x" * 1_000)
        for language in ("en", "es")
        for n, kind in enumerate(kinds)
    ]


def note(copy: OfflineChoice, language: str) -> str:
    words, _ = load_words((language,))
    assert words is not None
    return copy.note(PageWords(words))


def test_what_fits_is_kept_whole() -> None:
    copy = chosen(pages("", "boxes", "stations"), offline.LIMIT)
    assert copy.left == ()
    assert note(copy, "en") == "Saved on this phone: all pages of revision #revision, #age."


def test_boxes_come_before_stations_and_drawing() -> None:
    made_of = pages("drawing", "stations", "boxes", "", "boxes")
    copy = chosen(made_of, limit=7 * (1_000 + BESIDE))
    assert [page.kind for page in copy.pages] == ["", "", *["boxes"] * 4, "stations"]
    assert note(copy, "en") == (
        "Saved on this phone: Boxes and Stations of revision #revision, #age. "
        "Too large to save, so they need a signal: Wiring drawing."
    )
    assert "hace falta señal: Estaciones y Diagrama de cableado" in note(copy, "es")


def test_a_kind_that_is_kept_in_part_says_how_many() -> None:
    copy = chosen(pages("", "boxes", "boxes"), limit=5 * (1_000 + BESIDE))
    assert "Boxes of revision" in note(copy, "en")
    assert "Cajas (1 de 2) de la revisión" in note(copy, "es")
    assert "hace falta señal: Cajas (1 de 2)." in note(copy, "es")


def test_the_samples_are_kept_whole_and_stay_far_below_the_bound() -> None:
    files = sample_files("heron")
    kept = kept_pages(files["offline_.js"])
    html = [name for name in files if name.endswith(".html")]
    assert sorted(kept) == sorted(html)
    assert sum(len(files[name]) for name in html) < offline.LIMIT / 3


def test_a_job_beyond_the_bound_keeps_no_more_than_the_bound(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(offline, "LIMIT", 500_000)
    files = made(sample("heron"), Path("nowhere"), BOTH).files
    kept = kept_pages(files["offline_.js"])
    assert 400_000 < sum(len(files[name]) for name in kept) < 500_000
    assert "index.html" in kept and "ES_/index.html" in kept


@pytest.mark.xdist_group("browser")
def test_a_phone_shows_what_it_keeps_and_says_what_it_does_not(
    browser: Browser, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(offline, "LIMIT", 990_000)
    publish(sample("quarry"), tmp_path, BOTH)
    with phone(browser) as (page, _, _), host(tmp_path) as port:
        page.goto(f"http://localhost:{port}/{QUARRY}/VB-3/")
        wait_for_copy(page, 3)
        page.context.set_offline(True)
        page.goto(f"http://localhost:{port}/{QUARRY}/VB-8/")
        page.locator("#saved").wait_for(state="visible")
        text = page.locator("#saved").inner_text()
        assert "Boxes, Controllers" in text.partition("Too large to save")[0]
        assert "Wiring drawing" in text.partition("Too large to save")[2]


@pytest.mark.xdist_group("browser")
def test_on_one_bar_the_visited_page_is_kept_and_the_rest_goes_on_where_it_stopped(
    browser: Browser, tmp_path: Path
) -> None:
    """The link carries a few pages, then nothing; the host tells which were asked for twice."""
    publish(sample("larkspur"), tmp_path)
    every = len(kept_pages((tmp_path / LARKSPUR / "offline_.js").read_bytes()))
    asked: list[str] = []
    bar = {"left": 9}

    def weak(route: Route) -> None:
        asked.append(route.request.url)
        if bar["left"] > 0 or route.request.url.endswith("offline_.js"):
            bar["left"] -= 1
            route.continue_()
        else:
            route.abort()

    with phone(browser) as (page, _, _), host(tmp_path) as port:
        page.context.route("**/*", weak)
        address = f"http://localhost:{port}/{LARKSPUR}/VB-3/"
        page.goto(address)
        saved = page.locator("#saved")
        saved.wait_for(state="visible")
        page.wait_for_timeout(1000)
        page.evaluate("dispatchEvent(new Event('online'))")
        page.wait_for_timeout(1000)
        text = saved.inner_text()
        found = re.search(rf"so far: (\d+) of {every} pages of revision 1", text)
        assert found and 0 < int(found[1]) < every, text
        first = list(asked)
        page.context.set_offline(True)
        page.goto(address)  # what was visited is there
        assert page.locator("h1").inner_text() == "VB-3"
        page.context.set_offline(False)
        bar["left"] = 10_000
        page.goto(address)
        wait_for_copy(page, 1)
        later = asked[len(first) :]
        got_before = {url for url in first[:9] if url.endswith(".html")}
        assert not got_before & {url for url in later if url.endswith(".html")}
        assert "all pages of revision 1" in saved.inner_text()
