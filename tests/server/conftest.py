"""One served record for all tests of a module that only add to it."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from tests.server.crews import Served, served


@pytest.fixture(scope="module")
def record(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    with served(tmp_path_factory.mktemp("served")) as found:
        yield found
