"""What the results page says that the readings point to; nothing without a network."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import pytest

from cardgen.asbuilt import AsBuilt
from cardgen.examine import examine_text
from cardgen.memory.revisions import RevisionLog, from_json, to_json
from cardgen.output.as_printable import as_printable
from cardgen.record import HISTORY, PageWords
from cardgen.record.diagnosis_part import diagnosis_part
from cardgen.record.judging import judged_results
from cardgen.results import Kind, Measured
from cardgen.words import load_words
from tests.jobs import sample
from tests.record.records import publish, revision, words

COMMON_OPEN = {"A1": 31.1, "A2": 31.1, "A4": float("inf"), "A5": float("inf")}


def larkspur() -> AsBuilt:
    printable = as_printable(examine_text(sample("larkspur")), with_network=True)
    assert printable is not None
    return printable.asbuilt


def measured(values: dict[str, float], when: str = "2026-04-20") -> list[Measured]:
    return [
        Measured(
            id=f"{valve} {when}",
            when=when,
            record_key="",
            box="",
            valve=valve,
            kind=Kind.CONTROLLER,
            value=value,
        )
        for valve, value in values.items()
    ]


def part(known: AsBuilt, readings: list[Measured], language: str = "en") -> str:
    catalogues, problems = load_words((language,))
    assert catalogues is not None, problems
    judged = judged_results([known], readings)
    found = diagnosis_part(PageWords(catalogues), known, judged.today)
    return (
        words(f"<!DOCTYPE html><meta charset=utf-8><title>t</title>{found.text}".encode())
        if found
        else ""
    )


@pytest.mark.parametrize(
    ("language", "said"),
    [
        ("en", "common A (A-K2 white), between controller A and box VB-3"),
        ("es", "común A (A-K2 blanco), entre el controlador A y la caja VB-3"),
    ],
)
def test_suspects_the_way_and_the_next_measurement(language: str, said: str) -> None:
    """A4 and A5 are all that hangs on A-K2: 140 ft to VB-3, sample_jobs/larkspur.yaml."""
    text = part(larkspur(), measured(COMMON_OPEN), language)
    assert said in text
    assert "A-K2 · 140 ft [1]" in text
    assert "! A4 OL" in text
    assert "811" in text


def test_a_sound_walk_says_that_and_what_it_leaves_open() -> None:
    text = part(larkspur(), measured({"A1": 31.1, "A2": 31.2}))
    fits, left_open = text.split("All 2 readings fit the job: nothing measured points to a fault.")
    assert fits.endswith("Controller A ")
    assert left_open.startswith(" What was measured does not show: ")
    assert left_open.endswith("a leak to ground. Run each station and see its area get wet.")


def test_the_newest_reading_counts() -> None:
    repaired = measured(COMMON_OPEN) + measured({"A4": 31.8, "A5": 31.8}, "2026-05-02")
    assert "nothing measured points to a fault" in part(larkspur(), repaired)


def test_without_a_network_or_readings_nothing_is_said() -> None:
    assert part(replace(larkspur(), network=None), measured(COMMON_OPEN)) == ""
    assert part(larkspur(), []) == ""
    assert part(larkspur(), measured({"A99": 3.0})) == ""


def test_a_record_keeps_the_network_of_its_newest_revision_only(tmp_path: Path) -> None:
    publish(revision(1), tmp_path)
    folder = publish(revision(2), tmp_path)
    log = from_json((folder / HISTORY).read_bytes())
    assert [each.network is not None for each in log.revisions] == [False, True]
    assert log.revisions[-1].network == larkspur().network
    publish(revision(1), tmp_path)  # once more an older one: the newest keeps its own
    again = from_json((folder / HISTORY).read_bytes())
    assert [each.network is not None for each in again.revisions] == [False, True]


def test_a_record_published_before_there_were_networks_loads_on() -> None:
    log = RevisionLog(revisions=(replace(larkspur(), network=None),))
    content = json.loads(to_json(log))
    assert "network" not in content["revisions"][0]
    assert from_json(to_json(log)).revisions[0].network is None
