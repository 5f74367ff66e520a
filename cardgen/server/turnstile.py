"""Say when a PIN may be tried: guessing is slow, and nobody can keep a crew out by it.

A phone that has logged in before holds a device cookie and has an allowance of its own (OWASP,
"Slow Down Online Guessing Attacks with Device Cookies").  All others share one lane, in which a
network that has failed less goes first; one that fails often waits, but never for good.
"""

from __future__ import annotations

import asyncio
import heapq
import itertools
import math
import time
from collections import OrderedDict
from collections.abc import AsyncIterator, Callable
from contextlib import asynccontextmanager
from dataclasses import dataclass, field

# All of these are our choice.
FORGOTTEN = 15 * 60.0  # seconds after which a failure no longer counts
FREE = 5  # failures of a network before it has to wait
LONGEST = 60.0  # seconds it waits at most
OWN = 10  # failures of a known phone before it is a stranger again
CALM, GAP = 30, 5.0  # failures of all strangers, and seconds between their tries after those
WAITING, OF_ONE = 64, 4  # waiting strangers, and those of one network
PATIENCE = 30.0  # seconds that a stranger waits for its turn
_KNOWN_WAITING = 16
_REMEMBERED = 10_000  # networks and phones


class Wait(Exception):
    """Not now; after so many seconds."""

    def __init__(self, seconds: float) -> None:
        super().__init__(f"{seconds:.0f} s")
        self.seconds = max(1, math.ceil(seconds))


@dataclass(order=True, slots=True)
class _Waiting:
    failed: int
    number: int
    network: str = field(compare=False)
    turn: asyncio.Future[None] = field(compare=False)


class Turnstile:
    """Two lanes, one try at a time in each."""

    def __init__(self, clock: Callable[[], float] = time.monotonic) -> None:
        self._clock = clock
        self._failed: OrderedDict[str, list[float]] = OrderedDict()
        self._strangers: list[float] = []  # when any of them failed
        self._queue: list[_Waiting] = []
        self._number = itertools.count()
        self._busy, self._last = False, -math.inf
        self._known, self._known_waiting = asyncio.Lock(), 0

    @asynccontextmanager
    async def turn(self, network: str, device: str) -> AsyncIterator[None]:
        """Wait until it is one's turn; `device` is empty for a phone that is not known.

        Raises:
            Wait: if it must come again later.
        """
        if device and self.failures(device) < OWN:
            async with self._known_turn():
                yield
        else:
            await self._stranger_turn(network)
            try:
                yield
            finally:
                self._last = self._clock()
                self._release()

    def failed(self, network: str, device: str) -> None:
        """Note a wrong PIN."""
        now, who = self._clock(), device or network
        times = self._failed.setdefault(who, [])
        times.append(now)
        del times[:-OWN]
        self._failed.move_to_end(who)
        if not device:
            self._strangers.append(now)
            del self._strangers[: -CALM - 1]
        while len(self._failed) > _REMEMBERED:
            self._failed.popitem(last=False)

    def passed(self, device: str) -> None:
        """Note a right PIN of a phone that is known."""
        self._failed.pop(device, None)

    def failures(self, who: str) -> int:
        """Of a network or phone, as far as they still count."""
        since = self._clock() - FORGOTTEN
        return sum(at > since for at in self._failed.get(who, ()))

    @asynccontextmanager
    async def _known_turn(self) -> AsyncIterator[None]:
        if self._known_waiting >= _KNOWN_WAITING:
            raise Wait(5)
        self._known_waiting += 1
        try:
            async with self._known:
                yield
        finally:
            self._known_waiting -= 1

    async def _stranger_turn(self, network: str) -> None:
        self._refuse_early(network)
        turn = asyncio.get_running_loop().create_future()
        one = _Waiting(self.failures(network), next(self._number), network, turn)
        self._make_room(one)
        heapq.heappush(self._queue, one)
        self._next()
        try:
            async with asyncio.timeout(PATIENCE):
                await turn
        except BaseException as error:
            self._leave(one)
            if isinstance(error, TimeoutError):
                raise Wait(GAP) from error
            raise

    def _leave(self, one: _Waiting) -> None:
        """Whoever gives up must not hold up the lane, even if it was called at that very moment."""
        if one in self._queue:
            self._queue.remove(one)
            heapq.heapify(self._queue)
        elif not one.turn.cancelled() and one.turn.exception() is None:
            self._release()

    def _release(self) -> None:
        self._busy = False
        self._next()

    def _refuse_early(self, network: str) -> None:
        failures = self.failures(network)
        if failures >= FREE:
            pause = min(LONGEST, 2.0 ** (failures - FREE + 1))
            left = self._failed[network][-1] + pause - self._clock()
            if left > 0:
                raise Wait(left)
        if sum(one.network == network for one in self._queue) >= OF_ONE:
            raise Wait(GAP)

    def _make_room(self, one: _Waiting) -> None:
        if len(self._queue) < WAITING:
            return
        last = max(self._queue)
        if last < one:
            raise Wait(PATIENCE)
        self._queue.remove(last)
        heapq.heapify(self._queue)
        last.turn.set_exception(Wait(PATIENCE))

    def _next(self) -> None:
        """Call the next stranger, now or when the gap is over."""
        if self._busy or not self._queue:
            return
        left = self._last + self._gap() - self._clock()
        if left > 0:
            asyncio.get_running_loop().call_later(left, self._next)
            return
        one = heapq.heappop(self._queue)
        if one.turn.done():
            self._next()
            return
        self._busy = True
        one.turn.set_result(None)

    def _gap(self) -> float:
        since = self._clock() - FORGOTTEN
        return GAP if sum(at > since for at in self._strangers) > CALM else 0.0
