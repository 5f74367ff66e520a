"""Fifty crews write and five hundred phones read; killed half-way, nothing acknowledged is lost."""

from __future__ import annotations

from pathlib import Path

from tests.benchmarks.load import CREWS, READERS, load

# The benchmark takes a minute; all crews and phones come to their turn several times in this.
SECONDS = 8.0


def test_what_was_acknowledged_is_there_after_a_kill_under_load(tmp_path: Path) -> None:
    found = load(tmp_path, SECONDS)
    assert not found.lost
    assert not found.refused and not found.cut
    # Many came to their turn, before and after; how many is for the benchmark to say.
    assert len(found.acknowledged) > CREWS
    assert len(found.read) > READERS
