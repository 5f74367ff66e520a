"""Say what was printed: of which job and revision, and a digest of what each thing says."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Sequence
from dataclasses import asdict
from typing import Any

from cardgen.cards import Card, Printable
from cardgen.drawing import HomeRun, outline


def manifest(job: Printable, cards: Sequence[Card], homes: Sequence[HomeRun]) -> dict[str, Any]:
    """Which job and revision, and a digest of what each card and home run says."""
    return {
        "job": job.info.code.value,
        "key": job.record.key.value,
        "revision": job.info.revision,
        "date": job.info.date,
        "cards": {f"{card.kind} {card.id}": _digest(card) for card in cards},
        "wiring drawing": {home.run.cable: _hash(outline(home)) for home in homes},
    }


def _digest(card: Card) -> str:
    """The same as long as the card says the same; the stamp's revision does not count."""
    said = {k: v for k, v in asdict(card).items() if k != "place"}
    said["fields"] = {k: v for k, v in said["fields"].items() if k != "stamp"}
    return _hash(json.dumps(said, sort_keys=True, ensure_ascii=False, default=str))


def _hash(text: str) -> str:
    return hashlib.sha256(text.encode()).hexdigest()[:16]
