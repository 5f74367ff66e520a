"""What a person writes in a job is shown as text: it adds no element, and nothing runs."""

from __future__ import annotations

import csv
import re
from dataclasses import replace
from pathlib import Path

import pytest

from cardgen.asbuilt import BuiltSpare
from cardgen.asbuilt.model.as_built import BuiltChange
from cardgen.memory.codec import BadStoredValue, dumped, loaded
from cardgen.output.recording import RecordRequest
from cardgen.record.html import Markup, element, joined
from cardgen.record.page_words import PageWords
from cardgen.words import english
from tests.record.records import BOTH, made, pages, printable, tree, words

EVIL = "</style></script><script>alert(1)</script>\"'><b onclick=x>&amp;{0}{job}"
SHORT = "<b onclick=x>&amp;"  # for a band, which the drawing shows in one line
TEXTS = (
    *("SITE", "WALL", "WALK", "BED", "ROUND", "TIE", "TAPE", "AREA", "NOTE", "DEVICE"),
    *("EAVE", "LATER", "LOG"),
)
JOB = """
job: {code: LARK-06, site: SITE, revision: 1, date: 2026-03-14}
record: {address: https://jobs.example.com, key: 7Q2F9KX4M3T8}
palettes: {five: [white, red, blue, green, yellow]}
coils:
  usual: {supply: 24 V AC, resistance: 30 ohm, inrush: 0.40 A, holding: 0.23 A, minimum: 20 V}
controllers:
  A: {place: WALL, supply: 24 V AC, stations: 4, coil: usual, common: A-K1 white}
cables:
  A-K1: {gauge: 18 AWG, palette: five, band: TAPE, run: [A, 85 ft, VB-1, 60 ft, VB-2]}
boxes:
  VB-1: {place: WALK, size: ROUND, ties: [TIE]}
  VB-2: {place: BED}
stations:
  A1: {area: AREA, box: VB-1, hot: A-K1 red, notes: [NOTE]}
  A2: {area: beds, box: VB-2, hot: A-K1 blue, device: DEVICE}
sensors:
  RAIN: {kind: rain, controllers: A, contact: normally closed, place: EAVE}
spares:
  SP-1: {conductor: A-K1 green, to: VB-2, reserved for: LATER}
changes:
  - {revision: 1, date: 2026-03-14, text: LOG}
"""


def filled(text: str, wanted: RecordRequest = BOTH) -> dict[str, bytes]:
    job = JOB
    for name in TEXTS:
        said = SHORT if text and name == "TAPE" else text or name
        quoted = said.replace("'", "''")
        job = re.sub(rf"\b{name}\b", lambda _, q=quoted: f"'{q}'", job)  # type: ignore[misc]
    return dict(made(job, Path("nowhere"), wanted).files)


def shape(page: bytes) -> list[tuple[object, list[str]]]:
    """Elements and the names of their attributes."""
    return [(node.tag, sorted(node.attrib)) for node in tree(page).iter()]


def test_a_text_that_is_markup_adds_no_element() -> None:
    plain, evil = pages(filled("")), pages(filled(EVIL))
    for name, page in evil.items():
        if "WIRING_DRAWING" not in name:  # its lines break where a text is longer
            assert shape(page) == shape(plain[name]), name
    assert sum(EVIL in words(page) for page in evil.values()) > 5


def test_a_row_of_readings_adds_no_element_and_its_texts_go_nowhere(tmp_path: Path) -> None:
    readings = tmp_path / "readings.csv"
    with readings.open("w", encoding="utf-8", newline="") as stream:
        writer = csv.writer(stream)
        writer.writerow(("when", "box", "valve", "kind", "value", "by", "notes"))
        row = ("2026-03-14", "VB-1", "A1", "ohms at the controller", "31.2", EVIL, EVIL)
        writer.writerow(row)
    wanted = replace(BOTH, results=readings)
    read, plain = filled("", wanted), filled("")
    assert "last measured 31.2 Ω" in words(read["VB-1/index.html"])
    assert not any(b"alert" in data for data in read.values())
    assert set(read) == set(plain)


def test_the_drawing_has_no_script_of_a_text() -> None:
    root = tree(filled(EVIL)["WIRING_DRAWING/index.html"])
    assert [node.text for node in root.iter("script") if "alert" in (node.text or "")] == []
    assert list(root.iter("b")) == []


def test_every_element_escapes() -> None:
    made_of = element("p", "<i>", element("b", "\"&'"), title='">', hidden=True, lang=None)
    assert made_of.text == ('<p title="&quot;&gt;" hidden>&lt;i&gt;<b>&quot;&amp;&#x27;</b></p>')
    assert joined("<", None, Markup("<br>")).text == "&lt;<br>"


def test_what_html_forbids_or_turns_the_text_is_replaced() -> None:
    assert joined("a\x00b\x0bc\u202ed\ufffe").text == "a\ufffdb\ufffdc\ufffdd\ufffd"
    assert joined("Größe 5 Ω – ñ 漢").text == "Größe 5 Ω – ñ 漢"


def test_values_of_words_are_no_templates() -> None:
    assert PageWords(english())("lead", load="{job}") == "lead of {job}"


def test_what_was_added_later_may_be_missing_in_an_older_file() -> None:
    spare = printable_spare()
    older = {name: value for name, value in dumped(spare).items() if name not in ("loop", "joined")}
    assert loaded(BuiltSpare, older) == replace(spare, loop=None, joined=())


def printable_spare() -> BuiltSpare:
    found = printable("quarry").asbuilt.spares[0]
    assert found.loop is not None
    return found


def test_what_is_kept_as_json_comes_back_or_is_refused() -> None:
    change = BuiltChange(revision=1, date="2026-01-01", text="x")
    assert loaded(BuiltChange, dumped(change)) == change
    wrongs: tuple[object, ...] = (
        {},
        {**dumped(change), "revision": "1"},
        {**dumped(change), "more": 1},
        [],
        None,
    )
    for wrong in wrongs:
        with pytest.raises(BadStoredValue):
            loaded(BuiltChange, wrong)
