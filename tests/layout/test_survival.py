"""The choice of a symbol against its measurement, a little of which is measured again here."""

from __future__ import annotations

import pytest

from cardgen.layout.geometry import frame
from cardgen.layout.qr import encode, symbol
from cardgen.layout.survival import COARSE, SCORES, choices
from tests.benchmarks.survival import (
    ADDRESSES,
    ROOMS,
    Candidate,
    Room,
    alike,
    candidates,
    frames,
    plain,
    survival,
)


def chosen(room: Room) -> Candidate:
    made = symbol(ADDRESSES[0], frame(0, 0, room.side, room.side), dot_mm=room.dot)
    assert made is not None
    version, dots = (len(made.rows) - 17) // 4, round(made.module / room.dot)
    wanted = (made.level, version, dots, 1)
    every = candidates(room)
    return next(c for c in every if (c.level, c.version, c.dots, c.copies) == wanted)


def test_what_is_measured_is_in_the_table_and_like_every_frame_of_a_face() -> None:
    assert set(SCORES) == {(room.dpi < COARSE, room.side) for room in ROOMS}
    assert [at for at in frames() if not any(alike(at, room) for room in ROOMS)] == []


@pytest.mark.parametrize("room", ROOMS, ids=lambda room: f"{room.side:g} mm, {room.dpi:g} dpi")
def test_the_best_by_measurement_is_taken(room: Room) -> None:
    scores = SCORES[room.dpi < COARSE, room.side]
    one, usual = chosen(room), plain(candidates(room))
    possible = {key: score for key, score in scores.items() if encode(ADDRESSES[0], *key[:2])}
    assert scores[one.level, one.version, one.less] > max(possible.values()) - 1
    chance = 1 if len(possible) == 2 else 0  # percent: 3-Q and 3-M alone have modules of one size
    assert scores[one.level, one.version, one.less] > (
        scores[usual.level, usual.version, 0] - chance
    )


def test_a_frame_between_the_measured_ones_takes_the_nearest() -> None:
    assert choices(21.2, coarse=False) == choices(21.5, coarse=False)
    assert choices(60, coarse=True) == choices(28, coarse=True)


def test_an_address_too_long_for_what_was_measured_still_gets_a_symbol() -> None:
    made = symbol("HTTPS://A.EXAMPLE/" + "X" * 100, frame(0, 0, 40, 40), dot_mm=25.4 / 600)
    assert made is not None
    assert made.level == "H"


@pytest.mark.parametrize("room", [Room(21, 203.2), Room(21.5, 600)], ids=["roll", "card"])
def test_measured_again_the_choice_is_not_worse_than_level_m(room: Room) -> None:
    one, usual = chosen(room), plain(candidates(room))
    assert survival(one, room, trials=3)["all"] >= survival(usual, room, trials=3)["all"]
