"""The finished `wiring-drawing.pdf`, read by programs that are not ours."""

from __future__ import annotations

import re
from collections import Counter
from functools import cache

import pytest

from cardgen.draw.pdf import pdf
from cardgen.examine import examine_text
from cardgen.output.printing import Print, make_print
from tests.drawing.drawings import sheets_of
from tests.jobs import SAMPLES, edit, sample
from tests.output.jobs import said_of
from tests.outside.pages import sizes_mm, structure_faults, text_by_pdfium, text_by_pypdf

NAME = "wiring-drawing.pdf"
SIZES = {"letter": (279.4, 215.9), "a4": (297.0, 210.0)}
COILS = re.compile(r"^(?:master valve|valve|relay) (\S+)$", re.MULTILINE)


@cache
def drawing(name: str, paper: str = "letter") -> bytes:
    """The drawing alone: a whole print takes seconds."""
    return pdf([each.page for each in sheets_of(name, paper)], title="t", subject="s")


@cache
def printed(name: str) -> Print:
    made, problems = make_print(examine_text(sample(name)))
    assert made is not None, problems
    return made


@pytest.mark.parametrize("name", SAMPLES)
def test_every_valve_stands_in_it_exactly_once(name: str) -> None:
    facts = examine_text(sample(name)).facts
    assert facts
    found = Counter(COILS.findall("\n".join(text_by_pypdf(drawing(name)))))
    assert found == Counter(list(facts.wiring.loads))


@pytest.mark.parametrize("name", SAMPLES)
def test_two_readers_find_every_box_and_every_length_of_a_cable(name: str) -> None:
    facts = examine_text(sample(name)).facts
    assert facts
    for read in (text_by_pypdf, text_by_pdfium):
        text = "\n".join(read(drawing(name)))
        for cable in facts.job.cables.values():
            for stop in cable.run[1:]:
                assert re.search(rf"^{re.escape(stop.at)}\b", text, re.MULTILINE), stop.at
                assert stop.leg
                parts = [part for part in (cable.id, cable.band, str(stop.leg.value)) if part]
                assert " · ".join(parts) in text


@pytest.mark.parametrize("paper", ["letter", "a4"])
@pytest.mark.parametrize("name", SAMPLES)
def test_structure_and_size_of_its_pages(name: str, paper: str) -> None:
    made = drawing(name, paper)
    assert structure_faults(made) == []
    for size in sizes_mm(made):
        assert size == pytest.approx(SIZES[paper], abs=0.05)


def test_each_page_says_which_job_and_revision_and_how_many_there_are() -> None:
    pages = text_by_pypdf(printed("quarry").files[NAME])
    for number, text in enumerate(pages, 1):
        assert f"QUAR-24 · rev 3, 2026-05-11 · Quarry Row Offices · sheet {number} of 3" in text
        assert "print at 100 %: this bar is 50 mm" in text


def test_what_each_home_run_says_is_compared() -> None:
    before = said_of(sample("larkspur"))
    after = said_of(edit(sample("larkspur"), "140 ft", "145 ft"))
    changed = {key for key, said in before.items() if after[key] != said}
    assert {key for key in changed if "drawing" in key} == {"wiring drawing A-K2"}
    assert {k for k in before if "drawing" in k} <= {*printed("larkspur").manifest["cards"]}
    assert printed("larkspur").counts[NAME] == (2, 1)
