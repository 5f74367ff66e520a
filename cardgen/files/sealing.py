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
    """The same for the same manifest, which is not empty; in one line, but that does not count."""
    text = _plain(manifest)
    return f'{text[:-1]},"{CHECKSUM}":"{_digest(text)}"}}\n'.encode()


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
    if found.pop(CHECKSUM, "") != _digest(_plain(found)):
        raise BadSeal("another checksum")
    return found


def _plain(manifest: Mapping[str, Any]) -> str:
    return json.dumps(manifest, sort_keys=True, separators=(",", ":"))


def _digest(text: str) -> str:
    return hashlib.sha256(text.encode()).hexdigest()
