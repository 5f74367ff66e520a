"""A browser, and one served record for all tests of a module that only add to it."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser

from tests.record.browser import chromium
from tests.server.crews import Served, served


@pytest.fixture(scope="package")
def browser() -> Iterator[Browser]:
    """Closed after this folder: while Playwright runs, asyncio has no other loop in the thread."""
    with chromium() as found:
        yield found


@pytest.fixture(scope="module")
def record(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    with served(tmp_path_factory.mktemp("served")) as found:
        yield found
