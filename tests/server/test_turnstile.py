"""Guessing is slow, and no crowd of guessers keeps a crew out."""

from __future__ import annotations

import asyncio
from collections.abc import Coroutine
from typing import Any

import pytest

from cardgen.server import turnstile
from cardgen.server.turnstile import FREE, GAP, LONGEST, OWN, WAITING, Turnstile, Wait


class Clock:
    """A clock that goes only when told."""

    def __init__(self) -> None:
        self.at = 1000.0

    def __call__(self) -> float:
        return self.at


def run(coroutine: Coroutine[Any, Any, None]) -> None:
    asyncio.run(coroutine)


async def one_try(gate: Turnstile, network: str, device: str = "") -> None:
    async with gate.turn(network, device):
        pass


def test_a_network_that_fails_often_waits_and_then_may_try_again() -> None:
    async def check() -> None:
        clock = Clock()
        gate = Turnstile(clock)
        for _ in range(FREE):
            await one_try(gate, "here")
            gate.failed("here", "")
        waits = []
        for _ in range(8):
            with pytest.raises(Wait) as told:
                await one_try(gate, "here")
            waits.append(told.value.seconds)
            clock.at += told.value.seconds
            await one_try(gate, "here")  # what was told is true
            gate.failed("here", "")
        assert waits[:4] == [2, 4, 8, 16]
        assert max(waits) <= LONGEST
        await one_try(gate, "elsewhere")  # others do not wait for it

    run(check())


def test_after_a_while_all_is_forgotten() -> None:
    async def check() -> None:
        clock = Clock()
        gate = Turnstile(clock)
        for _ in range(50):
            gate.failed("here", "")
        clock.at += turnstile.FORGOTTEN + 1
        await one_try(gate, "here")

    run(check())


def test_a_crowd_of_guessers_does_not_keep_out_a_phone_that_was_in_before() -> None:
    async def check() -> None:
        gate = Turnstile(Clock())
        blocked = asyncio.Event()

        async def slow() -> None:
            async with gate.turn("10.0.0.0/24", ""):
                await blocked.wait()

        crowd = [asyncio.create_task(slow())]
        crowd += [
            asyncio.create_task(one_try(gate, f"10.0.{n}.0/24")) for n in range(1, WAITING + 30)
        ]
        await asyncio.sleep(0)
        async with asyncio.timeout(5):
            await one_try(gate, "10.0.0.0/24", "a known phone")
        blocked.set()
        for task in crowd:
            task.cancel()
        await asyncio.gather(*crowd, return_exceptions=True)

    run(check())


def test_a_new_phone_comes_before_those_that_have_failed() -> None:
    async def check() -> None:
        clock = Clock()
        gate = Turnstile(clock)
        order: list[str] = []
        first = asyncio.Event()

        async def hold() -> None:
            async with gate.turn("holder", ""):
                await first.wait()

        async def attempt(network: str) -> None:
            async with gate.turn(network, ""):
                order.append(network)

        for n in range(WAITING):
            gate.failed(f"bad {n}", "")
        gate_holder = asyncio.create_task(hold())
        await asyncio.sleep(0)
        clock.at += turnstile.FORGOTTEN / 2
        crowd = [asyncio.create_task(attempt(f"bad {n}")) for n in range(WAITING)]
        await asyncio.sleep(0)
        fresh = asyncio.create_task(attempt("fresh"))  # the queue is full: one of them must go
        await asyncio.sleep(0)
        clock.at += turnstile.FORGOTTEN  # no gap between tries, so that the test need not wait
        first.set()
        await asyncio.wait_for(fresh, 5)
        assert order[0] == "fresh"
        results = await asyncio.gather(*crowd, return_exceptions=True)
        assert sum(isinstance(result, Wait) for result in results) == 1
        await gate_holder

    run(check())


def test_many_wrong_pins_from_everywhere_make_guessing_slow(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    async def check() -> None:
        gate, loop = Turnstile(), asyncio.get_running_loop()
        monkeypatch.setattr(turnstile, "GAP", 0.2)
        for n in range(turnstile.CALM + 1):
            gate.failed(f"net {n}", "")
        start = loop.time()
        for n in range(3):
            await one_try(gate, f"new {n}")
        assert loop.time() - start >= 0.2 * 2  # at least a gap between each two

    run(check())


def test_a_known_phone_does_not_wait_for_the_gap_between_strangers() -> None:
    async def check() -> None:
        gate = Turnstile(Clock())  # it stands still, so the gap never ends
        for n in range(turnstile.CALM + 1):
            gate.failed(f"net {n}", "")
        await one_try(gate, "new")
        stranger = asyncio.create_task(one_try(gate, "other"))
        for _ in range(20):
            await one_try(gate, "new", "known")
        assert not stranger.done()
        stranger.cancel()
        await asyncio.gather(stranger, return_exceptions=True)

    run(check())


def test_what_guessing_a_pin_takes() -> None:
    # 10^6 PINs of six digits, one try in GAP seconds from all strangers together: half of them
    # takes a month; a known phone that was stolen has OWN tries in FORGOTTEN seconds.
    days = 10**6 / 2 * GAP / 86_400
    assert days > 28
    assert 10**6 / 2 * turnstile.FORGOTTEN / OWN / 86_400 > 365


def test_a_known_phone_that_fails_too_often_is_a_stranger_again() -> None:
    async def check() -> None:
        clock = Clock()
        gate = Turnstile(clock)
        for _ in range(OWN):
            await one_try(gate, "here", "phone")
            gate.failed("here", "phone")
        assert gate.failures("here") == 0  # its neighbours are not to blame
        for _ in range(FREE):
            gate.failed("here", "")
        with pytest.raises(Wait):
            await one_try(gate, "here", "phone")
        await one_try(gate, "here", "another phone")

    run(check())


def test_a_right_pin_clears_a_known_phone() -> None:
    gate = Turnstile(Clock())
    for _ in range(OWN):
        gate.failed("here", "phone")
    gate.passed("phone")
    assert gate.failures("phone") == 0


def test_one_network_does_not_fill_the_queue() -> None:
    async def check() -> None:
        gate = Turnstile(Clock())
        blocked = asyncio.Event()

        async def slow() -> None:
            async with gate.turn("there", ""):
                await blocked.wait()

        tasks = [asyncio.create_task(slow()) for _ in range(20)]
        await asyncio.sleep(0)
        refused = [task for task in tasks if task.done() and task.exception()]
        assert len(refused) == 20 - 1 - turnstile.OF_ONE
        blocked.set()
        await asyncio.gather(*tasks, return_exceptions=True)

    run(check())


def test_who_gives_up_while_waiting_holds_up_nobody() -> None:
    async def check() -> None:
        gate = Turnstile(Clock())
        blocked = asyncio.Event()

        async def slow() -> None:
            async with gate.turn("a", ""):
                await blocked.wait()

        first = asyncio.create_task(slow())
        await asyncio.sleep(0)
        gone = [asyncio.create_task(one_try(gate, f"b{n}")) for n in range(5)]
        await asyncio.sleep(0)
        for task in gone:
            task.cancel()
        await asyncio.gather(*gone, return_exceptions=True)
        blocked.set()
        await first
        async with asyncio.timeout(5):
            await one_try(gate, "c")

    run(check())


def test_who_gives_up_when_just_called_holds_up_nobody() -> None:
    async def check() -> None:
        gate = Turnstile(Clock())
        blocked = asyncio.Event()

        async def slow() -> None:
            async with gate.turn("a", ""):
                await blocked.wait()
            assert gate._busy  # the second is called, and has not gone on yet
            second.cancel()

        first = asyncio.create_task(slow())
        second = asyncio.create_task(one_try(gate, "b"))
        await asyncio.sleep(0)
        blocked.set()
        await first
        await asyncio.gather(second, return_exceptions=True)
        assert second.cancelled()
        async with asyncio.timeout(5):
            await one_try(gate, "c")

    run(check())


def test_who_waits_too_long_is_told_to_come_again(monkeypatch: pytest.MonkeyPatch) -> None:
    async def check() -> None:
        gate = Turnstile(Clock())
        monkeypatch.setattr(turnstile, "PATIENCE", 0.05)
        blocked = asyncio.Event()

        async def slow() -> None:
            async with gate.turn("a", ""):
                await blocked.wait()

        first = asyncio.create_task(slow())
        await asyncio.sleep(0)
        with pytest.raises(Wait):
            await one_try(gate, "b")
        blocked.set()
        await first
        await one_try(gate, "b")

    run(check())


def test_what_is_remembered_has_an_end(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(turnstile, "_REMEMBERED", 100)
    gate = Turnstile(Clock())
    for n in range(1000):
        gate.failed(f"net {n}", "")
    assert gate.failures("net 999") == 1
    assert gate.failures("net 0") == 0
