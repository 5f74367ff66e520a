"""A real browser that talks to this machine only, and a plain web host for it."""

from __future__ import annotations

import shutil
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from ssl import SSLContext, SSLError
from threading import Thread

from playwright.sync_api import Browser, Page, Playwright, expect, sync_playwright

# For all tests that look at a page: it holds for the process, so it is said here alone.
expect.set_options(timeout=20_000)  # a busy machine is no fault
# What makes PDFs or many jobs says so itself.
MAKING_MS = 60_000
_SILENT = (
    *("--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run"),
    *("--disable-background-networking", "--disable-component-update", "--disable-sync"),
)
_CHROMIUM = shutil.which("chromium")
# It opens a page in a third of the time, where it is installed.
_WITHOUT_WINDOWS = shutil.which("chromium-headless-shell") or _CHROMIUM
# A telephone held upright, in CSS pixels.
PHONE = {"width": 390, "height": 844}


class _Quiet(SimpleHTTPRequestHandler):
    def log_message(self, format: str, *args: object) -> None:  # noqa: A002
        """Nothing: the tests say what is asked for."""


class _Patient(ThreadingHTTPServer):
    def handle_error(self, request: object, client_address: object) -> None:
        """A phone that is closed hangs up in the middle of an answer; else say what it was."""
        if not isinstance(sys.exception(), ConnectionError | SSLError):
            super().handle_error(request, client_address)  # type: ignore[arg-type]


@contextmanager
def host(folder: Path, port: int = 0, *, secret: SSLContext | None = None) -> Iterator[int]:
    """Serve a folder as any web host does, on this machine, over https with `secret`; the port."""
    server = _Patient(("127.0.0.1", port), partial(_Quiet, directory=str(folder)))
    if secret is not None:
        server.socket = secret.wrap_socket(server.socket, server_side=True)
    thread = Thread(target=server.serve_forever, daemon=True)
    thread.start()
    try:
        yield server.server_address[1]
    finally:
        server.shutdown()
        server.server_close()
        thread.join()


_RUNNING: list[Playwright] = []


@contextmanager
def _playwright() -> Iterator[Playwright]:
    """It starts once in a process: whoever comes second takes what runs."""
    if _RUNNING:
        yield _RUNNING[0]
        return
    with sync_playwright() as started:
        _RUNNING.append(started)
        try:
            yield started
        finally:
            _RUNNING.clear()


@contextmanager
def chromium(*more: str, windows: bool = False) -> Iterator[Browser]:
    """A browser, with more options of its command line.

    Args:
        windows: for a newer copy of a record: without them it is not always looked for.
    """
    program = _CHROMIUM if windows else _WITHOUT_WINDOWS
    with _playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=program, args=[*_SILENT, *more])
        try:
            yield browser
        finally:
            browser.close()


@contextmanager
def phone(
    browser: Browser, *, script: bool = True, keeps: bool = True
) -> Iterator[tuple[Page, list[str], list[str]]]:
    """A new phone's page, with the addresses it asks for and what it complains of.

    Args:
        keeps: all pages of a job, for a day without signal. Copying them takes longer than most
            tests, which look at one page.
    """
    with browser.new_context(
        viewport=PHONE,  # type: ignore[arg-type]
        java_script_enabled=script,
        service_workers="allow" if keeps else "block",
    ) as context:
        page = context.new_page()
        asked: list[str] = []
        faults: list[str] = []
        context.on("request", lambda request: asked.append(request.url))
        page.on("pageerror", lambda fault: faults.append(str(fault)))
        page.on("console", lambda m: faults.append(m.text) if m.type == "error" else None)
        yield page, asked, faults
