"""How far a print is, for whoever waits for it."""

from __future__ import annotations


class Progress:
    """Told what is being done; this one keeps it to itself."""

    def sets(self, file: str, cards: int) -> None:
        """The cards of a file are about to be set."""

    def draws(self, file: str, page: int, pages: int) -> None:
        """A page of it is about to be drawn, counted from 1."""

    def works(self, on: str) -> None:
        """Something that has no parts to count takes long."""

    def ends(self) -> None:
        """Nothing more is told: it is done, or it was stopped."""
