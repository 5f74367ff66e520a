"""The copy on a phone is bounded, and its note says what is in it."""

from __future__ import annotations

from pathlib import Path

import pytest
from playwright.sync_api import Browser

from cardgen.record import PageWords, offline
from cardgen.record.offline import BESIDE, OfflineChoice, RecordPage, chosen
from cardgen.words import load_words
from tests.jobs import sample
from tests.record.browser import host, phone
from tests.record.records import BOTH, QUARRY, kept_pages, made, publish, sample_files
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
    monkeypatch.setattr(offline, "LIMIT", 880_000)
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
