"""Read the scripts and styles of `assets`, which stand in each page as they are.

None holds a word of the job, so their digests in a page's policy are the same for all pages; what
differs from page to page are attributes.
"""

from __future__ import annotations

from pathlib import Path

_ASSETS = Path(__file__).with_name("assets")


def web_text(folder: Path, name: str) -> str:
    """A script or style as it goes into a page, where '</' would end it too early."""
    text = (folder / name).read_text(encoding="utf-8")
    assert "</" not in text, name
    return text


STYLE = web_text(_ASSETS, "page.css")
SAVED_COPY = web_text(_ASSETS, "saved_copy.js")
FIND = web_text(_ASSETS, "find.js")
OFFLINE_WORKER = web_text(_ASSETS, "offline_worker.js")
