"""Crews write and others read while the server is killed: `python -m tests.benchmarks.load`.

50 crews enter a reading every second or so and 500 phones read for a minute, all on this machine;
half-way the server is killed (SIGKILL) and started again.  Prints how many pages and entries a
second, how long they took, and how many acknowledged entries are lost, which must be none.
"""

from __future__ import annotations

import json
import statistics
import subprocess
import sys
import tempfile
import time
import uuid
from collections.abc import Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field
from http.client import HTTPException
from pathlib import Path

from cardgen.server.entries import entries
from cardgen.server.store import Store
from tests.jobs import sample
from tests.record.records import LARKSPUR, publish
from tests.server.crews import enter, told
from tests.server.phones import Phone, opened, running

CREWS, READERS, SECONDS = 50, 500, 60.0
NAMES = ("p50", "p99", "most")
WRITING = 1.0  # seconds between two entries of a crew
PAGES = tuple(f"/{LARKSPUR}/{page}" for page in ("", "VB-1/", "VB-2/", "STATION_A1/", "A/"))


@dataclass(slots=True)
class Load:
    """What happened.

    Attributes:
        wrote, read: seconds that each acknowledged entry and each page took.
        refused: entries that a running server did not take, with its answer.
        cut: pages that did not come although the server was running.
        lost: acknowledged entries that the data file does not have.
    """

    seconds: float
    wrote: list[float] = field(default_factory=list)
    read: list[float] = field(default_factory=list)
    refused: list[str] = field(default_factory=list)
    cut: int = 0
    acknowledged: dict[str, str] = field(default_factory=dict)
    lost: set[str] = field(default_factory=set)


@dataclass(slots=True)
class _Down:
    """When the server was not there; a phone that fails then has no reason to complain."""

    port: int
    since: float = 0.0
    until: float = 0.0

    def covers(self, at: float) -> bool:
        # A request under way when it was killed fails a moment later.
        return bool(self.since) and self.since <= at and (not self.until or at < self.until + 5)


def load(folder: Path, seconds: float, crews: int = CREWS, readers: int = READERS) -> Load:
    """Serve larkspur, let all of them at it, kill the server half-way, and count."""
    web = folder / "web"
    publish(sample("larkspur"), web)
    opened(folder / "web.sqlite", *(f"crew {n}" for n in range(crews))).close()
    found = Load(seconds)
    with ThreadPoolExecutor(crews + 1) as pool:
        with running(web) as (port, process):
            down = _Down(port)
            phones = [Phone(port) for _ in range(crews)]
            for number, phone in enumerate(phones):
                assert phone.log_in(f"crew {number}").status == 303
            ends = time.monotonic() + seconds
            command = (sys.executable, "-m", "tests.benchmarks.readers")
            asks = (*command, str(port), str(seconds), str(readers), *PAGES)
            reading = pool.submit(subprocess.check_output, asks, text=True)
            writing = [pool.submit(_write, p, n, ends, down, found) for n, p in enumerate(phones)]
            time.sleep(seconds / 2)
            down.since = time.time()
            process.kill()
        with running(web, "--port", str(port)):
            down.until = time.time()
            for one in writing:
                one.result()
            told_by_readers = json.loads(reading.result())
    found.read = told_by_readers["took"]
    found.cut = sum(not down.covers(at) for at in told_by_readers["cut"])
    store = Store(folder / "web.sqlite")
    kept = {entry.id: entry.value for entry in entries(store, LARKSPUR)}
    store.close()
    found.lost = {id_ for id_, value in found.acknowledged.items() if kept.get(id_) != value}
    return found


def _write(phone: Phone, number: int, ends: float, down: _Down, found: Load) -> None:
    time.sleep(number % 10 / 10)
    while time.monotonic() < ends:
        id_, value = str(uuid.uuid4()), f"{20 + len(found.wrote) % 30}"
        begun = time.monotonic()
        try:
            answer = enter(phone, {"id": id_, "value": value})
            if answer.status == 200 and told(answer)["id"] == id_:
                found.wrote.append(time.monotonic() - begun)
                found.acknowledged[id_] = value
            elif not down.covers(time.time()):
                found.refused.append(f"{answer.status} {answer.text[:200]}")
        except (OSError, HTTPException, ValueError, AssertionError) as fault:
            if not down.covers(time.time()):
                found.refused.append(repr(fault))
        time.sleep(WRITING)


def _line(what: str, took: Sequence[float], seconds: float) -> str:
    hundred = statistics.quantiles(took, n=100)
    milliseconds = (1000 * value for value in (hundred[49], hundred[98], max(took)))
    times = ", ".join(f"{n} {v:.0f} ms" for n, v in zip(NAMES, milliseconds, strict=True))
    return f"{what}: {len(took)}, {len(took) / seconds:.0f} a second, {times}"


if __name__ == "__main__":
    with tempfile.TemporaryDirectory() as name:
        result = load(Path(name), float(sys.argv[1]) if sys.argv[1:] else SECONDS)
    print(_line("pages read", result.read, result.seconds))
    print(_line("entries acknowledged", result.wrote, result.seconds))
    print(f"refused while it ran: {result.cut} pages, {len(result.refused)} entries")
    print(*dict.fromkeys(result.refused[:5]), sep="\n", end="")
    print(f"lost: {len(result.lost)}")
