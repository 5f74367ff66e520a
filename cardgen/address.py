"""Spell a name as it stands in an address of the job record."""

from __future__ import annotations


def record_spelling(name: str) -> str:
    """Capitals, digits, '-' and '.' only."""
    return name.upper().replace("_", "-")
