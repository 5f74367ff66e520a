"""Pause the search for what can be thrown away while much is made that is kept."""

from __future__ import annotations

import gc
from collections.abc import Iterator
from contextlib import contextmanager
from threading import Lock

_lock = Lock()
_pauses: list[bool] = []  # of all threads that are inside now: whether it was on before the first


@contextmanager
def gc_paused() -> Iterator[None]:
    """Everything made here is kept, so looking again and again for what is not costs a third.

    At the end it all counts as old at once, as if it had been looked through many times.  Where
    several threads are inside, the last one out turns it on again.
    """
    with _lock:
        _pauses.append(_pauses[0] if _pauses else gc.isenabled())
        gc.disable()
    try:
        yield
    finally:
        with _lock:
            was_on = _pauses.pop()
            if not _pauses:
                gc.freeze()
                gc.unfreeze()  # into the oldest generation
                if was_on:
                    gc.enable()
