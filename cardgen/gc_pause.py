"""Pause the search for what can be thrown away while much is made that is kept."""

from __future__ import annotations

import gc
from collections.abc import Iterator
from contextlib import contextmanager


@contextmanager
def gc_paused() -> Iterator[None]:
    """Everything made here is kept, so looking again and again for what is not costs a third.

    At the end it all counts as old at once, as if it had been looked through many times.
    """
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        gc.freeze()
        gc.unfreeze()  # into the oldest generation
        if was_on:
            gc.enable()
