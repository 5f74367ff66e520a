"""A browser, and one set of published records for all tests that look at pages in it."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser

from cardgen.output.recording import RecordRequest
from tests.jobs import SAMPLES, sample
from tests.memory.test_revisions import ALL
from tests.record.browser import chromium, host
from tests.record.records import BOTH, publish

# Of the day of the second revision: what the third changes makes the value of A3 outdated.
READINGS = """when,valve,kind,value
2025-04-02,A1,ohms at the controller,30.9
2026-04-02,A1,ohms at the controller,31.2
2026-04-02,A2,ohms at the controller,OL
2026-04-02,A3,ohms at the coil,29.5
2026-04-02,A4,volts,23.0
2026-04-02,A5,milliamperes,230
2026-04-02,A6,insulation,20
"""


@pytest.fixture(scope="package")
def browser() -> Iterator[Browser]:
    """Closed after this folder: while Playwright runs, asyncio has no other loop in the thread."""
    with chromium() as found:
        yield found


@pytest.fixture(scope="session")
def web(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Path, str]]:
    """All samples, and below OLD/ Larkspur in three revisions with readings; and the address."""
    out = tmp_path_factory.mktemp("web")
    readings = out.parent / "readings.csv"
    readings.write_text(READINGS, encoding="utf-8")
    for text in ALL:
        below = text.replace("jobs.example.com", "jobs.example.com/OLD")
        publish(below, out, RecordRequest(languages=BOTH.languages, results=readings))
    for name in SAMPLES:
        publish(sample(name), out, BOTH)
    with host(out) as port:
        yield out, f"http://localhost:{port}"
