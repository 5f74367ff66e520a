"""Leave room in the finished pages for what a server adds to them, and put it there.

What is added brings no style and no script, so the digests in a page's policy still hold.
"""

from __future__ import annotations

import html
import json
import re
from collections.abc import Callable, Sequence

from cardgen.record.html import Markup, element

VALVE, PLACE = "valve", "place"
_ROOM = re.compile(rb'<div data-room="(valve|place)" data-of="([^"]*)" hidden></div>')
_LANGUAGE = re.compile(rb'<html lang="([A-Za-z-]+)"')
_PAGES, _NAME = "const PAGES=[", ",NAME=OURS+'"


def room(kind: str, of: str) -> Markup:
    """Nothing to see until a server fills it: for a valve its last readings, for a place the way
    to write one down.
    """
    return element("div", data_room=kind, data_of=of, hidden=True)


def filled(page: bytes, part: Callable[[str, str], Markup]) -> bytes:
    """The page with each room filled by what `part(kind, of)` makes for it."""

    def put(found: re.Match[bytes]) -> bytes:
        return part(found[1].decode(), html.unescape(found[2].decode())).text.encode()

    return _ROOM.sub(put, page)


def language_of(page: bytes) -> str:
    found = _LANGUAGE.search(page[:200])
    return found[1].decode() if found else ""


def with_pages(worker: bytes, pages: Sequence[str], digest: str) -> bytes:
    """The worker that keeps those pages too; another digest makes another copy on the phone."""
    text = worker.decode()
    more = "".join(f"{json.dumps(page)}," for page in pages)
    return text.replace(_PAGES, _PAGES + more, 1).replace(_NAME, f"{_NAME}{digest} ", 1).encode()
