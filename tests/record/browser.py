"""A real browser that talks to this machine only, and a plain web host for it."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from threading import Thread

from playwright.sync_api import Browser, Page, sync_playwright

_SILENT = (
    *("--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run"),
    *("--disable-background-networking", "--disable-component-update", "--disable-sync"),
)
# A telephone held upright, in CSS pixels.
PHONE = {"width": 390, "height": 844}


class _Quiet(SimpleHTTPRequestHandler):
    def log_message(self, format: str, *args: object) -> None:  # noqa: A002
        """Nothing: the tests say what is asked for."""


@contextmanager
def host(folder: Path, port: int = 0) -> Iterator[int]:
    """Serve a folder as any web host does, on this machine; the port."""
    server = ThreadingHTTPServer(("127.0.0.1", port), partial(_Quiet, directory=str(folder)))
    thread = Thread(target=server.serve_forever, daemon=True)
    thread.start()
    try:
        yield server.server_address[1]
    finally:
        server.shutdown()
        server.server_close()
        thread.join()


@contextmanager
def chromium() -> Iterator[Browser]:
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(
            executable_path=shutil.which("chromium"), args=list(_SILENT)
        )
        try:
            yield browser
        finally:
            browser.close()


@contextmanager
def phone(browser: Browser, *, script: bool = True) -> Iterator[tuple[Page, list[str], list[str]]]:
    """A new phone's page, with the addresses it asks for and what it complains of."""
    with browser.new_context(viewport=PHONE, java_script_enabled=script) as context:  # type: ignore[arg-type]
        page = context.new_page()
        asked: list[str] = []
        faults: list[str] = []
        context.on("request", lambda request: asked.append(request.url))
        page.on("pageerror", lambda fault: faults.append(str(fault)))
        page.on("console", lambda m: faults.append(m.text) if m.type == "error" else None)
        yield page, asked, faults
