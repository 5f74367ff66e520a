"""The style and scripts of the server's pages: files of `assets`, and the style of the record."""

from __future__ import annotations

from pathlib import Path

from cardgen.record import page_assets
from cardgen.record.page_assets import web_text

_ASSETS = Path(__file__).with_name("assets")

STYLE = f"{page_assets.STYLE}\n{web_text(_ASSETS, 'crew.css')}"


def _scripts(*names: str) -> tuple[str, ...]:
    return tuple(web_text(_ASSETS, f"{name}.js") for name in names)


# What shows and sends what waits on the phone, and the page that puts it together.
_WAITING = _scripts("entry_queue", "entry_sender", "waiting_list")
WAITING_SCRIPTS = (*_WAITING, *_scripts("waiting_here"))
ENTRY_SCRIPTS = (
    *_WAITING,
    *_scripts("keypad", "valve_tiles", "reading_ends", "walk_conditions"),
    *_scripts("smaller_photo", "entry_page"),
)
