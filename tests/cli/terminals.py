"""A terminal of Unix on which a program runs: what it shows there, and what a person types."""

from __future__ import annotations

import os
import pty
import select
import signal
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from time import monotonic

ROOT = Path(__file__).parents[2]
PATIENCE_S = 30


@dataclass
class Screen:
    """What stands on it so far.

    Attributes:
        is_closed: whether the program has left it.
        code: what the program ended with; None while it runs.
    """

    end: int
    shown: str = ""
    is_closed: bool = False
    code: int | None = None

    def waits_for(self, text: str) -> None:
        until = monotonic() + PATIENCE_S
        while text not in self.shown and not self.is_closed:
            assert monotonic() < until, self.shown
            self._read()
        assert text in self.shown, self.shown

    def waits_for_the_end(self) -> None:
        until = monotonic() + PATIENCE_S
        while not self.is_closed:
            assert monotonic() < until, self.shown
            self._read()

    def types(self, keys: str) -> None:
        os.write(self.end, keys.encode())

    def _read(self) -> None:
        if not select.select([self.end], [], [], 0.2)[0]:
            return
        try:
            piece = os.read(self.end, 4096)
        except OSError:  # Linux: the other side is closed
            piece = b""
        self.shown += piece.decode()
        self.is_closed = not piece


@contextmanager
def terminal(folder: Path, *arguments: str) -> Iterator[Screen]:
    """A Python program in a folder; whatever runs at the end is stopped by Ctrl+C."""
    ours, theirs = pty.openpty()
    environment = {**os.environ, "PYTHONPATH": str(ROOT), "BROWSER": "true"}  # opens nothing
    with subprocess.Popen(
        [sys.executable, *arguments],
        cwd=folder, env=environment, stdin=theirs, stdout=theirs, stderr=theirs,
    ) as program:  # fmt: skip
        os.close(theirs)
        screen = Screen(ours)
        try:
            yield screen
        finally:
            if not screen.is_closed:
                program.send_signal(signal.SIGINT)
            screen.code = program.wait(timeout=PATIENCE_S)
            os.close(ours)
