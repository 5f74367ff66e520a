"""A job as built as the texts that are kept of it; it is made again only when it is asked for.

```
frame   the job as built, with a digest in the place of each large part
parts   digest -> a box, a controller, a conductor ... as JSON
```
"""

from __future__ import annotations

import base64
import binascii
import hashlib
import json
import zlib
from collections.abc import Iterator, Mapping
from dataclasses import field, fields
from functools import cached_property
from typing import Any

from cardgen.asbuilt import AsBuilt
from cardgen.light_dataclass import dataclass
from cardgen.memory.codec import BadStoredValue, as_text, dumped, loaded

# What is kept once for all revisions that have it.
_POOLED = ("boxes", "controllers", "conductors", "spares", "cables")
_DIGEST = 16  # hexadecimal digits


@dataclass(frozen=True, kw_only=True)
class StoredJob:
    """Two are equal if their frames are: a digest stands for what it was made of."""

    frame: Mapping[str, Any]
    parts: Mapping[str, str] = field(compare=False, repr=False)

    @classmethod
    def of(cls, asbuilt: AsBuilt) -> StoredJob:
        parts: dict[str, str] = {}
        frame: dict[str, Any] = {}
        for each in fields(AsBuilt):
            value = getattr(asbuilt, each.name)
            if each.name not in _POOLED:
                frame[each.name] = dumped(value)
                continue
            texts = [as_text(part) for part in value]
            frame[each.name] = [_digest(text) for text in texts]
            parts |= zip(frame[each.name], texts, strict=True)
        return cls(frame=frame, parts=parts)

    @property
    def digests(self) -> Iterator[str]:
        """Of the parts that it has."""
        for name in _POOLED:
            yield from self.frame.get(name, ())

    def checked(self) -> StoredJob:
        """Itself, if it has all its parts.

        Raises:
            BadStoredValue: if it has not.
        """
        if not all(digest in self.parts for digest in self.digests):
            raise BadStoredValue("a part is missing")
        return self

    @cached_property
    def asbuilt(self) -> AsBuilt:
        """The job itself.

        Raises:
            BadStoredValue: if the texts are not what was kept of one.
        """
        made = {
            name: [_value(self.parts[digest]) for digest in self.frame.get(name, ())]
            for name in _POOLED
        }
        found: AsBuilt = loaded(AsBuilt, {**self.frame, **made})
        return found


def _value(text: str) -> Any:
    try:
        return json.loads(text)
    except (ValueError, RecursionError) as fault:
        raise BadStoredValue("no JSON") from fault


def _digest(text: str) -> str:
    return hashlib.sha256(text.encode()).hexdigest()[:_DIGEST]


def packed(parts: Mapping[str, str]) -> str:
    """The parts of several jobs as one text: their JSON says the same names again and again."""
    packer = zlib.compressobj()
    pieces = [packer.compress(f"{digest} {text}\n".encode()) for digest, text in parts.items()]
    return base64.b64encode(b"".join((*pieces, packer.flush()))).decode()


def unpacked(text: str) -> dict[str, str]:
    """What `packed` was given.

    Raises:
        BadStoredValue: if it is anything else.
    """
    try:
        lines = zlib.decompress(base64.b64decode(text, validate=True)).decode()
    except (binascii.Error, zlib.error, UnicodeDecodeError) as fault:
        raise BadStoredValue("not packed") from fault
    return dict(_halves(line) for line in lines.split("\n") if line)


def _halves(line: str) -> tuple[str, str]:
    digest, _, text = line.partition(" ")
    return digest, text
