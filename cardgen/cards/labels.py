"""The names of fields as a person is told them: most say themselves what they hold."""

from __future__ import annotations

_SAID = {"from_to": "way", "running": "while it runs", "figures": "while it runs"}
_SAID |= dict.fromkeys(("boxed", "boxed_short"), "in the frame")


def label(field: str) -> str:
    """`hot` as it is, `boxed` as what stands in the frame."""
    return _SAID.get(field, field.replace("_", " "))
