"""Why something that was asked for is not done: one sentence and the way out."""

from __future__ import annotations


class Refused(Exception):
    """Nothing has been changed.

    Attributes:
        sentence: what is in the way.
        help: the way out.
    """

    def __init__(self, sentence: str, help_: str = "") -> None:
        super().__init__(sentence)
        self.sentence, self.help = sentence, help_


class CannotWrite(Refused):
    """The output folder cannot take the files."""
