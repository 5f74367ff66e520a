"""The choice of a symbol against its measurement, a little of which is measured again here."""

from __future__ import annotations

from collections.abc import Mapping

import pytest

from cardgen.layout.geometry import frame
from cardgen.layout.qr import encode, symbol
from tests.benchmarks.survival import (
    ADDRESSES,
    CANDIDATES,
    COARSE,
    HOSTS,
    ROOMS,
    Candidate,
    Room,
    candidates,
    frames,
    percents,
    survival,
)
from tests.benchmarks.survival_scores import MOST_LOST, SCORES, total
from tests.for_each import for_each

CHANCE = 1.0  # points by which totals differ without meaning


def chosen(room: Room, address: str) -> Candidate:
    made = symbol(address, frame(0, 0, room.side, room.side), dot_mm=room.dot)
    assert made is not None
    version, dots = (len(made.rows) - 17) // 4, round(made.module / room.dot)
    return Candidate(made.level, version, dots)


def plain(room: Room, address: str) -> Candidate:
    """What everyone prints: level M in the smallest version."""
    usual = (c for c in candidates(room) if c.level == "M" and encode(address, "M", c.version))
    return min(usual, key=lambda candidate: candidate.version)


def scores_of(room: Room) -> Mapping[tuple[str, int], tuple[int, ...]]:
    return SCORES[room.dpi < COARSE, room.side]


def test_what_is_measured_is_in_the_table() -> None:
    assert set(SCORES) == {(room.dpi < COARSE, room.side) for room in ROOMS}
    for room in ROOMS:
        assert set(scores_of(room)) == {(c.level, c.version) for c in candidates(room)}


def test_every_frame_of_a_face_is_like_one_that_was_measured() -> None:
    """On coarse dots a frame has the modules of the largest measured one that goes into it.

    Version 2 may have one dot more, which makes it only better.
    """
    fine = [room.side for room in ROOMS if room.dpi >= COARSE]
    coarse = [room for room in ROOMS if room.dpi < COARSE]
    for at in frames():
        if at.dpi >= COARSE:
            assert any(abs(at.side / side - 1) <= 0.06 for side in fine), at
            continue
        like = max(room for room in coarse if room.side <= at.side)
        for level, version in (way for way in CANDIDATES if way[1] > 2):
            assert dots_of(level, version, at) == dots_of(level, version, like), at


def dots_of(level: str, version: int, room: Room) -> int | None:
    named = {(c.level, c.version): c.dots for c in candidates(room)}
    return named.get((level, version))


@for_each("host", HOSTS)
@for_each("room", ROOMS)
def test_the_best_that_loses_nothing_is_taken(room: Room, host: str) -> None:
    address = ADDRESSES[host][0]
    if not any(encode(address, c.level, c.version) for c in candidates(room)):
        assert symbol(address, frame(0, 0, room.side, room.side), dot_mm=room.dot) is None
        return
    scores = scores_of(room)
    one, usual = chosen(room, address), plain(room, address)
    before = scores["M", usual.version]
    unharmed = {
        way: total(shares)
        for way, shares in scores.items()
        if encode(address, *way)
        and all(new >= old - MOST_LOST for new, old in zip(shares, before, strict=True))
    }
    assert (one.level, one.version) in unharmed
    assert unharmed[one.level, one.version] >= max(unharmed.values()) - CHANCE
    assert one == usual or unharmed[one.level, one.version] > total(before)


@pytest.mark.parametrize("room", [Room(20.5, 203.2), Room(21.3, 600)], ids=["roll", "card"])
def test_measured_again_the_choice_is_better_than_level_m(room: Room) -> None:
    address = ADDRESSES["JOBS.EXAMPLE.COM"][0]
    one, usual = chosen(room, address), plain(room, address)
    assert one != usual
    again, before = (total(percents(survival(c, room, trials=3))) for c in (one, usual))
    assert again > before
