"""A hot that is not known, on the pages of the record, with a reading taken on such a valve.

Counted by hand in the job of tests/wiring/test_maybe_hots.py.
"""

from __future__ import annotations

from pathlib import Path

from cardgen.output.recording import RecordRequest
from tests.jobs import edit
from tests.record.records import made, words
from tests.wiring.test_maybe_hots import JOB

READ = "valve,date,ohms at the controller\nA1,2026-04-01,31\nA2,2026-04-01,33\n"


def test_pages_say_that_nobody_knows_and_keep_what_was_read(tmp_path: Path) -> None:
    """In VB-1 are K1 blue, green and brown for A2 and A3; A1 should read 31.1 ohms."""
    results = tmp_path / "read.csv"
    results.write_text(READ, encoding="utf-8")
    files = made(JOB, tmp_path / "web", RecordRequest(results=results)).files
    page = {name.split("/")[0]: words(data) for name, data in files.items() if ".html" in name}
    box = page["VB-1"]
    assert "wire not known" in box and "Not known: cut none and cap none" in box
    assert box.count("not known: may be the hot of A2 and A3") == 3
    assert page["A"].count("wire not known") == 2
    assert page["FIND_IN_JOB"].count("wire not known") == 2
    spares = page["SPARE_LIST"]
    assert "SP-1" in spares and not any(color in spares for color in ("blue", "green", "brown"))
    read = page["TEST_RESULTS"]
    assert "33" in read and "31" in read
    assert "wire not known" in page["STATION_A2"] and "33" in page["STATION_A2"]


def test_a_page_names_the_end_that_is_known(tmp_path: Path) -> None:
    """K1 green is on terminal 3 and comes to VB-1; K2 red is on the coil of A3 in VB-3."""
    text = edit(JOB, "Not  Known", "[K1 green, not known, K2 red]")
    files = made(text, tmp_path / "web", RecordRequest()).files
    page = {name.split("/")[0]: words(data) for name, data in files.items() if ".html" in name}
    assert "Hot at this valve red RD K2 · 18 AWG Terminal controller A, terminal 3" in page["VB-3"]
    assert "Hot at the controller green GN K1" in page["VB-3"]
    _, unknown = page["VB-1"].split("Not known: cut none and cap none")
    assert "green GN K1 · 18 AWG · hot A3" in unknown
    assert page["A"].count("wire not known") == 1  # that of A2
    assert "green" not in page["SPARE_LIST"]
    assert "At the controller, wires lifted not known" in page["STATION_A3"]
