"""The style and scripts of the server's pages: files of `assets`, and the style of the record."""

from __future__ import annotations

from pathlib import Path

from cardgen.record import page_assets
from cardgen.record.page_assets import web_text

_ASSETS = Path(__file__).with_name("assets")

STYLE = f"{page_assets.STYLE}\n{web_text(_ASSETS, 'crew.css')}"
# Of the entry page, in this order: the last puts the others together.
ENTRY_SCRIPTS = tuple(
    web_text(_ASSETS, f"{name}.js")
    for name in ("entry_queue", "entry_sender", "keypad", "smaller_photo", "entry_page")
)
