"""Say what a phone keeps of a job: as the worker that keeps it, and as data for a server."""

from __future__ import annotations

import json
from dataclasses import dataclass

from cardgen.memory.codec import BadStoredValue, dumped, loaded
from cardgen.record.page_assets import OFFLINE_WORKER


@dataclass(frozen=True, slots=True)
class Note:
    """What the foot of the pages in a language says of the copy."""

    language: str
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class OfflineCopy:
    """What the worker of a job keeps.

    Attributes:
        pages: by the names of their files.
        digest: of all that is kept: with another one, a phone makes another copy.
        notes: none where all pages are kept.
    """

    pages: tuple[str, ...]
    revision: int
    digest: str
    notes: tuple[Note, ...]

    def note(self, language: str) -> str:
        return next((note.text for note in self.notes if note.language == language), "")

    def worker(self) -> bytes:
        """The service worker, with what it keeps before it."""
        told = {"pages": self.pages, "revision": self.revision, "digest": self.digest}
        record = f"self.RECORD = {json.dumps(told)};"
        title = f"// Keeps revision {self.revision} of this job on the phone."
        return f"{title}\n{record}\n{OFFLINE_WORKER}".encode()

    def to_json(self) -> bytes:
        """For a server, which keeps pages of its own beside them."""
        said = json.dumps(dumped(self), ensure_ascii=False, sort_keys=True, indent=0)
        return f"{said}\n".encode()


def copy_of(data: bytes) -> OfflineCopy:
    """What `to_json` wrote.

    Raises:
        BadStoredValue: if it is anything else.
    """
    try:
        said = json.loads(data)
    except (ValueError, RecursionError) as fault:
        raise BadStoredValue("no JSON") from fault
    found: OfflineCopy = loaded(OfflineCopy, said)
    return found
