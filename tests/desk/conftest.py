"""What the tests of the desk share."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser

from tests.record.browser import chromium


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    """Closed after each module: while Playwright runs, asyncio has no other loop in the process."""
    with chromium() as found:
        yield found
