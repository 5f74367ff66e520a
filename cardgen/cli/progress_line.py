"""Say on a terminal how far a print is: one line that is written over, and gone at the end."""

from __future__ import annotations

import logging
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from threading import Timer
from typing import TextIO

from cardgen.output.progress import Progress
from cardgen.stages import LOGGER

PAUSE = 0.1  # s; a line that changes more often cannot be read (ours)


class ProgressLine(Progress):
    """`valve-tags.pdf: page 12 of 224`."""

    def __init__(self, terminal: TextIO) -> None:
        self._terminal = terminal
        self._wide = 0
        self._next = 0.0

    def sets(self, file: str, cards: int) -> None:
        self._show(f"{file}: {cards} card{'' if cards == 1 else 's'}")

    def draws(self, file: str, page: int, pages: int) -> None:
        if time.monotonic() >= self._next:
            self._show(f"{file}: page {page} of {pages}")

    def works(self, on: str) -> None:
        self._show(f"{on} ...")

    def ends(self) -> None:
        if self._wide:
            self._show("")
            self._terminal.write("\r")
            self._terminal.flush()
        self._wide = 0

    def _show(self, line: str) -> None:
        """Over the line before, of which nothing is left standing."""
        self._terminal.write(f"\r{line:{self._wide}}")
        self._terminal.flush()
        self._wide = len(line)
        self._next = time.monotonic() + PAUSE


@contextmanager
def told_after(pause_s: float, on: str) -> Iterator[None]:
    """Say what is being done if it takes longer than that."""
    progress = progress_here()
    timer = Timer(pause_s, progress.works, (on,))
    timer.daemon = True
    timer.start()
    try:
        yield
    finally:
        timer.cancel()
        timer.join()  # so that nothing is written after the line is gone
        progress.ends()


def progress_here() -> Progress:
    """On a terminal, unless it tells the stages already; a file or a pipe is told nothing."""
    is_free = sys.stderr.isatty() and not LOGGER.isEnabledFor(logging.INFO)
    return ProgressLine(sys.stderr) if is_free else Progress()
