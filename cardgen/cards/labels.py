"""The names of fields as a person is told them: most say themselves what they hold."""

from __future__ import annotations

_SAID = {"from_to": "way", "boxed": "in the frame", "running": "while it runs"}


def label(field: str) -> str:
    """`hot` as it is, `boxed` as what stands in the frame."""
    return _SAID.get(field, field.replace("_", " "))
