"""What can be said of a printer in plain words: its paper, and with how many inks it prints."""

from __future__ import annotations

from enum import StrEnum

PAPERS = ("letter", "a4")


class Ink(StrEnum):
    """What a printer is given."""

    COLOR = "color"
    GRAY = "gray"
    ONE = "one"
