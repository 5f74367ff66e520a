"""Guessing is slow, however many guess, and none of them keeps a crew out."""

from __future__ import annotations

import random
from collections.abc import Iterator

import pytest

from cardgen.server.pin_attempts import (
    EXPIRES_S,
    FREE_ATTEMPTS,
    KNOWN_ATTEMPTS,
    NOISY_PATIENCE_S,
    PATIENCE_S,
    PAUSE_S,
    AttemptLimiter,
    TooManyAttempts,
)

DAY_S = 24 * 60 * 60


class Clock:
    """A clock that goes only when told."""

    def __init__(self) -> None:
        self.at = 1000.0

    def __call__(self) -> float:
        return self.at


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture
def limiter(clock: Clock) -> AttemptLimiter:
    return AttemptLimiter(clock)


def turns_taken(limiter: AttemptLimiter, asked: Iterator[tuple[str, str, str]]) -> Iterator[float]:
    """When each of these may try a PIN; those that are refused are left out."""
    for who in asked:
        try:
            yield limiter.reserve(*who).at
        except TooManyAttempts:
            continue


# ---- how often a guesser may try -----------------------------------------------------------


def test_whoever_guesses_from_everywhere_has_8640_tries_a_day(
    limiter: AttemptLimiter, clock: Clock
) -> None:
    """A crowd that has another address for each try, and never sleeps."""
    begun, addresses = clock.at, iter(range(10**9))
    taken: list[float] = []
    while clock.at < begun + DAY_S:
        crowd = ((f"net {next(addresses)}", "ana", "") for _ in range(3))
        taken += turns_taken(limiter, crowd)
        clock.at += 4
    within_a_day = [at for at in taken if at < begun + DAY_S]
    assert len(within_a_day) <= 5 + 8640  # those for free, and one in 10 s
    assert len(within_a_day) > 8000  # the crowd did what it could
    # Half of all PINs of six digits, the easiest that are taken, last for two months.
    assert 10**6 / 2 / (5 + 8640) > 57


def test_tries_that_come_together_are_counted_before_any_has_failed(
    limiter: AttemptLimiter,
) -> None:
    at_once = list(turns_taken(limiter, ((f"net {n}", "ana", "") for n in range(100))))
    # Five at once, and four more 10 s apart, the last of them at the 40 s for which one waits.
    assert at_once == [1000.0] * 5 + [1010.0, 1020.0, 1030.0, 1040.0]


def test_an_address_that_tries_every_crew_is_no_faster(
    limiter: AttemptLimiter, clock: Clock
) -> None:
    begun = clock.at
    taken: list[float] = []
    while clock.at < begun + 3600:
        taken += turns_taken(limiter, (("here", f"crew {n}", "") for n in range(50)))
        clock.at += 5
    assert len([at for at in taken if at < begun + 3600]) <= 5 + 360


def test_a_stolen_phone_is_soon_a_stranger(limiter: AttemptLimiter, clock: Clock) -> None:
    for _ in range(KNOWN_ATTEMPTS):
        assert limiter.reserve("here", "ana", "phone").is_known
    assert limiter.attempts("address here") == 0  # its neighbors are not to blame
    begun = clock.at
    taken: list[float] = []
    while clock.at < begun + DAY_S:
        taken += turns_taken(limiter, iter([("here", "ana", "phone")]))
        clock.at += 7
    # As known 10 in each quarter of an hour; as a stranger what its crew has.
    assert len([at for at in taken if at < begun + DAY_S]) <= 10 * 96 + 5 + 8640


def test_a_right_pin_among_wrong_ones_buys_no_more_of_them(
    limiter: AttemptLimiter, clock: Clock
) -> None:
    """Somebody who has the PIN of one crew guesses at another's."""
    begun, guesses = clock.at, 0
    while clock.at < begun + 3600:
        limiter.succeeded(limiter.reserve("here", "ben"))
        guesses += len(list(turns_taken(limiter, iter([("here", "ana", "")]))))
        clock.at += 10
    assert guesses <= 5 + 360
    assert limiter.attempts("crew ben") == 0


# ---- how long a crew waits -----------------------------------------------------------------


def test_a_crew_that_types_its_pin_right_never_waits(limiter: AttemptLimiter) -> None:
    for _ in range(20):  # a whole office behind one address on the first day
        attempt = limiter.reserve("office", "ana")
        assert attempt.wait_s == 0
        limiter.succeeded(attempt)


def test_turns_of_an_address_are_a_pause_apart_and_what_is_told_is_true(
    limiter: AttemptLimiter, clock: Clock
) -> None:
    waits = [limiter.reserve("here", f"crew {n}").wait_s for n in range(FREE_ATTEMPTS + 3)]
    assert waits == [0, 0, 0, 0, 0, 10, 20, 30]
    with pytest.raises(TooManyAttempts) as told:
        limiter.reserve("here", "another")
    assert told.value.seconds == 10
    assert limiter.reserve("elsewhere", "another").wait_s == 0  # others do not wait for it
    clock.at += told.value.seconds
    assert limiter.reserve("here", "another").wait_s == NOISY_PATIENCE_S


@pytest.mark.parametrize("guessers", [1, 2])
@pytest.mark.parametrize("crew", ["ana", "ben"])
def test_behind_a_noisy_address_a_crew_has_its_turn_within_30_s(
    limiter: AttemptLimiter, clock: Clock, guessers: int, crew: str
) -> None:
    """They guess at Ana without an end, each as soon as its last try has failed."""
    again = [clock.at] * guessers
    chance = random.Random(1)
    for _ in range(500):
        clock.at += chance.uniform(0, 4)
        for number, at in enumerate(again):
            if at <= clock.at:
                again[number] = limiter.reserve("here", "ana").at
        attempt = limiter.reserve("here", crew)
        assert attempt.wait_s <= 30
        limiter.succeeded(attempt)
        clock.at = max(clock.at, attempt.at)


def test_away_from_all_noise_the_crew_they_guess_at_has_its_turn_within_40_s(
    limiter: AttemptLimiter, clock: Clock
) -> None:
    """Ten addresses guess without an end, each as often as it may."""
    crowd = [(f"net {n}", "ana", "") for n in range(10)]
    for address, *_ in crowd:
        limiter.reserve(address, f"somebody at {address}")
    chance = random.Random(1)
    for number in range(500):
        clock.at += chance.uniform(0, 4)
        chance.shuffle(crowd)
        list(turns_taken(limiter, iter(crowd)))
        if number % 10 == 0:  # they go on while it waits
            attempt = limiter.reserve(f"new {number}", "ana")
            assert attempt.wait_s <= PATIENCE_S == 40
            limiter.succeeded(attempt)


def test_a_phone_that_was_in_before_waits_for_nobody(limiter: AttemptLimiter) -> None:
    list(turns_taken(limiter, ((f"net {n % 50}", "ana", "") for n in range(1000))))
    list(turns_taken(limiter, (("here", "ana", "") for _ in range(1000))))
    for _ in range(30):
        attempt = limiter.reserve("here", "ana", "phone")
        assert attempt.wait_s == 0
        limiter.succeeded(attempt)


def test_a_right_pin_clears_a_known_phone(limiter: AttemptLimiter) -> None:
    last = [limiter.reserve("here", "ana", "phone") for _ in range(KNOWN_ATTEMPTS)][-1]
    limiter.succeeded(last)
    assert limiter.attempts("phone phone") == 0


def test_after_a_while_all_is_forgotten(limiter: AttemptLimiter, clock: Clock) -> None:
    list(turns_taken(limiter, (("here", "ana", "") for _ in range(100))))
    clock.at += EXPIRES_S + PATIENCE_S
    assert limiter.reserve("here", "ana").wait_s == 0


def test_what_is_remembered_has_an_end(limiter: AttemptLimiter, clock: Clock) -> None:
    for n in range(20_000):
        limiter.reserve(f"net {n}", f"name {n}")
        clock.at += PAUSE_S
    assert len(limiter._turns) <= 2 * (EXPIRES_S / PAUSE_S + 1)
