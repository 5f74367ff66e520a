"""Read the scripts and styles of the desk: files at addresses that change with them."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from functools import cache
from pathlib import Path

from cardgen.record import page_assets

_ASSETS = Path(__file__).with_name("assets")
MEDIA = {".js": "text/javascript", ".css": "text/css"}
PRINT_SCRIPTS = ("first_card.js",)
QUEUE_SCRIPTS = ("desk_calls.js", "print_queue.js")
LIST_SCRIPTS = ("desk_calls.js", "job_list.js")
JOB_SCRIPTS = (
    "tabulator.js",
    "desk_calls.js",
    "grid_paste.js",
    "cell_editor.js",
    "held_keys.js",
    "grid_table.js",
    "grid_findings.js",
    "tag_preview.js",
    "wire_proposals.js",
    "job_fields.js",
    "part_tabs.js",
    "row_marks.js",
    "save_notices.js",
    "waiting_changes.js",
    "job_page.js",
)


def address_of(name: str) -> str:
    """`/assets/0f3a.../desk.css`; a browser keeps it until the file changes."""
    return f"/assets/{hashlib.sha256(asset(name)).hexdigest()[:16]}/{name}"


@cache
def asset(name: str) -> bytes:
    """A file by its name.

    Raises:
        KeyError: if there is none.
    """
    found = dict(_files())
    data = found[name].read_bytes()
    if name == "desk.css":  # its colors and sizes are those of the record's pages
        return page_assets.STYLE.encode() + b"\n" + data
    return data


def _files() -> Iterator[tuple[str, Path]]:
    for path in _ASSETS.iterdir():
        if path.suffix in MEDIA:
            yield path.name, path
