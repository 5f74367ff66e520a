"""Many phones that read a record: `python -m tests.benchmarks.readers PORT SECONDS PHONES PATH...`.

A process of its own, so that it does not wait for those that write.  Each phone keeps its
connection, asks for a page, takes all of it, and reads for a second or two.
"""

from __future__ import annotations

import asyncio
import contextlib
import json
import random
import sys
import time

THINKING = (0.5, 3.5)  # seconds between two pages of one phone
PATIENCE = 30.0  # seconds that anybody waits for a page


async def _page(
    stream: tuple[asyncio.StreamReader, asyncio.StreamWriter], port: int, path: str
) -> int:
    """Ask for a page and take it; the number in the first line."""
    reader, writer = stream
    writer.write(f"GET {path} HTTP/1.1\r\nHost: 127.0.0.1:{port}\r\n\r\n".encode())
    await writer.drain()
    head = (await reader.readuntil(b"\r\n\r\n")).decode("latin-1").lower()
    size = next(line for line in head.split("\r\n") if line.startswith("content-length:"))
    await reader.readexactly(int(size.split(":")[1]))
    return int(head.split(" ", 2)[1])


async def _phone(
    number: int, port: int, ends: float, paths: list[str], took: list[float], cut: list[float]
) -> None:
    chance = random.Random(number)  # the same load each time
    # Phones have addresses of their own; all of 127.0.0.0/8 is this machine (RFC 1122).
    own = f"127.0.{1 + number // 250}.{1 + number % 250}"
    await asyncio.sleep(chance.uniform(0, THINKING[1]))
    stream = None
    while time.monotonic() < ends:
        begun = time.monotonic()
        try:
            async with asyncio.timeout(PATIENCE):
                if stream is None:
                    stream = await asyncio.open_connection("127.0.0.1", port, local_addr=(own, 0))
                    begun = time.monotonic()
                status = await _page(stream, port, chance.choice(paths))
            if status != 200:
                raise ConnectionError(status)
            took.append(time.monotonic() - begun)
        except (OSError, TimeoutError, asyncio.IncompleteReadError):
            cut.append(time.time())
            if stream is not None:
                stream[1].close()
            stream = None
        await asyncio.sleep(chance.uniform(*THINKING))
    if stream is not None:
        stream[1].close()
        with contextlib.suppress(OSError):
            await stream[1].wait_closed()


async def _all(port: int, seconds: float, phones: int, paths: list[str]) -> dict[str, list[float]]:
    ends = time.monotonic() + seconds
    took: list[float] = []
    cut: list[float] = []
    await asyncio.gather(*(_phone(n, port, ends, paths, took, cut) for n in range(phones)))
    return {"took": took, "cut": cut}


if __name__ == "__main__":
    port, seconds, phones, *paths = sys.argv[1:]
    print(json.dumps(asyncio.run(_all(int(port), float(seconds), int(phones), paths))))
