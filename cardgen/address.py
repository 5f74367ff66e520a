"""Spell a name as it stands in an address of the job record, and make the key in it."""

from __future__ import annotations

import secrets

# Digits and capitals without those that people misread, 0 O, 1 I L, 5 S, 8 B, U V, or OCR: 9 J Q.
ALPHABET = "23467ACDEFGHKMNPRTWXYZ"
_LENGTH = 12  # 22^12: 53 bits; what is longer does not fit beside the code of a small tag


def record_spelling(name: str) -> str:
    """Capitals, digits, '-' and '.' only."""
    return name.upper().replace("_", "-")


def new_record_key() -> str:
    """For one job: nobody can guess its page."""
    return "".join(secrets.choice(ALPHABET) for _ in range(_LENGTH))
