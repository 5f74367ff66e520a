"""Examining a job leaves the program as it found it."""

from __future__ import annotations

import gc

import pytest

import cardgen.examine
from cardgen.examine import examine_text
from tests.jobs import sample


@pytest.mark.parametrize("on", [True, False])
def test_the_collector_is_as_it_was(on: bool, monkeypatch: pytest.MonkeyPatch) -> None:
    seen: list[bool] = []

    def fails(*_: object) -> None:
        seen.append(gc.isenabled())
        raise MemoryError

    try:
        (gc.enable if on else gc.disable)()
        examine_text(sample("larkspur"))
        assert gc.isenabled() is on
        monkeypatch.setattr(cardgen.examine, "make_up", fails)
        with pytest.raises(MemoryError):
            examine_text(sample("larkspur"))
        assert (gc.isenabled(), seen) == (on, [False])
    finally:
        gc.enable()
