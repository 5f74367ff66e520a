"""Turn a manifest into bytes with a checksum over all it says, and back."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from typing import Any

CHECKSUM = "checksum"


class BadSeal(ValueError):
    """The bytes are not a manifest as it was written: cut short, damaged, or changed by hand."""


def sealed(manifest: Mapping[str, Any]) -> bytes:
    """The same for the same manifest; how it is set in lines does not count."""
    whole = {**manifest, CHECKSUM: _checksum(manifest)}
    return (json.dumps(whole, indent=1, sort_keys=True, ensure_ascii=False) + "\n").encode()


def opened(data: bytes) -> dict[str, Any]:
    """What `sealed` was given.

    Raises:
        BadSeal: if it is anything else.
    """
    try:
        found = json.loads(data)
    except (ValueError, RecursionError) as fault:
        raise BadSeal("no JSON") from fault
    if not isinstance(found, dict):
        raise BadSeal("no manifest")
    if found.pop(CHECKSUM, "") != _checksum(found):
        raise BadSeal("another checksum")
    return found


def _checksum(manifest: Mapping[str, Any]) -> str:
    text = json.dumps(manifest, sort_keys=True, ensure_ascii=True, separators=(",", ":"))
    return hashlib.sha256(text.encode()).hexdigest()
