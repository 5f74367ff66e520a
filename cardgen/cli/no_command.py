"""A first word that is no command: say so, and what was meant."""

from __future__ import annotations

from collections.abc import Collection

from cardgen.cli.telling import misused
from cardgen.reading.shapes import nearest


def tell(word: str, commands: Collection[str]) -> int:
    way_out = nearest(word, commands) or f"there are {', '.join(commands)}"
    return misused(f"there is no command '{word}'", way_out)
