"""Limit how often a PIN may be tried: guessing is slow, and nobody can keep a crew out by it.

Attempts are counted by crew, and by the address that they come from.  Either may try some at once;
after those its turns are a pause apart.  So however many addresses guess at one crew, there are
`FREE_ATTEMPTS` and then one in `PAUSE_S`, 8,640 a day.

Turns are given in the order of arrival, and an address with a wrong PIN gets none as late as others
do.  So an address without one has its turn within `PATIENCE_S` even where others guess at its crew
without an end; it takes some ninety addresses to use those turns up, too.  Behind an address where
one or two guess, a crew has its turn within `NOISY_PATIENCE_S`.  A phone that has logged in before
holds a device cookie and waits for nobody (OWASP, "Slow Down Online Guessing Attacks with Device
Cookies").
"""

from __future__ import annotations

import math
import time
from collections.abc import Callable
from dataclasses import dataclass

# All of these are our choice.
EXPIRES_S = 15 * 60.0  # after which an attempt no longer counts
FREE_ATTEMPTS = 5  # of a crew or address without a pause
PAUSE_S = 10.0
NOISY_PATIENCE_S = 3 * PAUSE_S  # how long an address with a wrong PIN waits for its turn at most
PATIENCE_S = NOISY_PATIENCE_S + PAUSE_S
KNOWN_ATTEMPTS = 10  # of a phone that has logged in before; then it is a stranger again


class TooManyAttempts(Exception):
    """Not now; after so many seconds."""

    def __init__(self, seconds: float) -> None:
        super().__init__(f"{seconds:.0f} s")
        self.seconds = max(1, math.ceil(seconds))


@dataclass(frozen=True, slots=True, kw_only=True)
class Attempt:
    """A turn to try one PIN.

    Attributes:
        at: by the limiter's clock, `wait_s` after it was asked for.
        counted_for: the crew and address, or the known phone alone.
    """

    at: float
    wait_s: float
    counted_for: tuple[str, ...]
    is_known: bool


class AttemptLimiter:
    """The attempts of late, and the turns that are given already."""

    def __init__(self, clock: Callable[[], float] = time.monotonic) -> None:
        self._clock = clock
        self._turns: dict[str, list[float]] = {}  # the latest come last

    def reserve(self, address: str, crew: str, phone: str = "") -> Attempt:
        """A turn, which counts as a wrong PIN until it is told to be right.

        Args:
            phone: empty for one that has not logged in as this crew before.

        Raises:
            TooManyAttempts: if there is none soon.
        """
        self._forget()
        own = f"phone {phone}"
        if phone and self.attempts(own) < KNOWN_ATTEMPTS:
            return self._given(self._clock(), (own,), is_known=True)
        by_address, by_crew = f"address {address}", f"crew {crew}"
        patience = NOISY_PATIENCE_S if self.attempts(by_address) else PATIENCE_S
        at = max(self._next_turn(by_address), self._next_turn(by_crew))
        too_long = at - self._clock() - patience
        if too_long > 0:
            raise TooManyAttempts(too_long)
        return self._given(at, (by_address, by_crew), is_known=False)

    def succeeded(self, attempt: Attempt) -> None:
        """The PIN was right: it was no guess."""
        for key in attempt.counted_for:
            turns = self._turns.get(key, [])
            if attempt.is_known:
                turns.clear()
            elif attempt.at in turns:
                turns.remove(attempt.at)

    def attempts(self, key: str) -> int:
        """Of `crew NAME`, `address NETWORK` or `phone COOKIE`, as far as they still count."""
        since = self._clock() - EXPIRES_S
        return sum(turn > since for turn in self._turns.get(key, ()))

    def _next_turn(self, key: str) -> float:
        now = self._clock()
        if self.attempts(key) < FREE_ATTEMPTS:
            return now
        return max(now, max(self._turns[key]) + PAUSE_S)

    def _given(self, at: float, keys: tuple[str, ...], *, is_known: bool) -> Attempt:
        since = self._clock() - EXPIRES_S
        for key in keys:
            self._turns[key] = [*(t for t in self._turns.pop(key, ()) if t > since), at]
        return Attempt(at=at, wait_s=at - self._clock(), counted_for=keys, is_known=is_known)

    def _forget(self) -> None:
        """What no longer counts, so that no crowd fills the memory."""
        since = self._clock() - EXPIRES_S
        while self._turns:
            key, turns = next(iter(self._turns.items()))
            if any(turn > since for turn in turns):
                break
            del self._turns[key]
