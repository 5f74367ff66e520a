"""Say which stage of the flow begins, for whoever wants to follow along.

A program that uses the library sees it with `logging.getLogger("cardgen.stages")`, a person with
`--verbose`.  Numbers and names are those of the flow in DEVELOPERS.md.
"""

from __future__ import annotations

import logging
from enum import IntEnum

LOGGER = logging.getLogger("cardgen.stages")


class Stage(IntEnum):
    """The stages, in the order in which a job goes through them."""

    READING = 1
    JOB = 2
    WIRING = 3
    ELECTRICS = 4
    CHECKS = 5
    ASBUILT = 6
    CARDS = 7
    LAYOUT = 8
    DRAW = 9
    RECORD = 10
    OUTPUT = 11

    def begins(self) -> None:
        LOGGER.info("%2d %s", self.value, self.name.lower())
