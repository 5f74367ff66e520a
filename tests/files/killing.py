"""Kill a process, truly, before any of its changes to the disk, and half-way in a writing."""

from __future__ import annotations

import os
import signal
import sys
import traceback
from collections.abc import Callable, Collection
from pathlib import Path
from typing import Any

from cardgen.files import exchange

CHANGES = {"os.rename", "os.remove", "os.rmdir", "os.mkdir", "os.link"}


def killed_at(moment: int, work: Callable[[], object]) -> bool:
    """Do the work in a child that is killed at its so-manieth change; false if it had no more."""
    child = os.fork()
    if not child:
        count_down(moment)
        code = 1
        try:
            work()
            code = 0
        except BaseException:  # noqa: BLE001  # it must not run on as a second pytest
            traceback.print_exc()
        os._exit(code)
    status = os.waitpid(child, 0)[1]
    if os.WIFSIGNALED(status):
        assert os.WTERMSIG(status) == signal.SIGKILL
        return True
    assert os.WEXITSTATUS(status) == 0
    return False


def killed_half_way(work: Callable[[], object]) -> None:
    """Do the work in a child that is killed when it has exchanged one file of a set."""

    def work_half() -> None:
        die_half_way()
        work()

    assert killed_at(1_000_000, work_half)


def die_half_way() -> None:
    """This process will be killed when it has exchanged one file of a set."""
    real = exchange._carry_out  # the middle of it is what is to be tried

    def carry_out(folder: Path, steps: Collection[exchange.FileChange]) -> None:
        count_down(2)  # its folder, its name
        real(folder, steps)

    exchange._carry_out = carry_out


def count_down(moment: int) -> None:
    """From now on this process changes the disk so many times, then it is dead."""
    left = moment

    def change() -> None:
        nonlocal left
        if left == 0:
            os.kill(os.getpid(), signal.SIGKILL)
        left -= 1

    def audited(event: str, values: tuple[Any, ...]) -> None:
        if event in CHANGES or (event == "open" and values[2] & (os.O_CREAT | os.O_TRUNC)):
            change()

    def write_bytes(path: Path, data: bytes) -> int:
        with path.open("wb") as stream:
            stream.write(data[: len(data) // 2])
            stream.flush()
            change()
            stream.write(data[len(data) // 2 :])
        return len(data)

    Path.write_bytes = write_bytes  # type: ignore[method-assign,assignment]
    sys.addaudithook(audited)
