"""A desk as a person opens it, and its pages in a browser.

The command in a process of its own takes two seconds of processor time to load, so that only what
is about the command or its end has one; what is about pages has a desk in this process.
"""

from __future__ import annotations

import logging
import os
import signal
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from playwright.sync_api import Browser, Locator, Page

from tests.desk.clients import TOKEN, answering

ROOT = Path(__file__).parents[2]
OFFICE, TABLET = {"width": 1280, "height": 800}, {"width": 1024, "height": 768}
_PASTE = """text => {
    const data = new DataTransfer();
    data.setData('text/plain', text);
    document.activeElement.dispatchEvent(
        new ClipboardEvent('paste', {clipboardData: data, bubbles: true, cancelable: true}));
}"""


class _Heard(logging.Handler):
    """What the command would tell at the terminal."""

    def __init__(self) -> None:
        super().__init__(logging.WARNING)
        self.lines: list[str] = []

    def emit(self, record: logging.LogRecord) -> None:
        self.lines.append(self.format(record))


@contextmanager
def open_desk(folder: Path) -> Iterator[str]:
    """The address of a desk in this process; what it logs is a fault."""
    heard = _Heard()
    logging.getLogger().addHandler(heard)
    try:
        with answering(folder) as port:
            yield f"http://127.0.0.1:{port}/open/{TOKEN}"
    finally:
        logging.getLogger().removeHandler(heard)
    assert heard.lines == []


@contextmanager
def _started_desk(folder: Path) -> Iterator[tuple[str, subprocess.Popen[str]]]:
    """The address that the command shows, and its process."""
    command = [sys.executable, "-m", "cardgen", "desk", str(folder), "--no-browser"]
    environment = {**os.environ, "PYTHONPATH": str(ROOT)}
    with subprocess.Popen(
        command,
        env=environment,
        cwd=ROOT,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    ) as process:
        assert process.stdout is not None
        assert process.stdout.readline() == f"The desk of '{folder}' is open at\n"
        yield process.stdout.readline().strip(), process


@contextmanager
def running_desk(folder: Path) -> Iterator[str]:
    """The address of a desk in a process of its own; Ctrl+C ends it, in plain words."""
    with _started_desk(folder) as (address, process):
        try:
            yield address
        finally:
            process.send_signal(signal.SIGINT)
            rest, faults = process.communicate(timeout=20)
        # One that prints nothing has no word of that.
        assert after_the_address(rest) == ["The desk is closed. Every change is in its job file."]
        assert (process.returncode, faults) == (0, "")


def after_the_address(said: str) -> list[str]:
    """Without what may be left of the line with Ctrl+C: a pipe gives lines in any parts."""
    return [line for line in said.splitlines() if line and "Ctrl+C" not in line]


@contextmanager
def killed_desk(folder: Path) -> Iterator[tuple[str, subprocess.Popen[str]]]:
    """One that is ended by kill -9, if the test has not done that itself."""
    with _started_desk(folder) as (address, process):
        try:
            yield address, process
        finally:
            process.kill()
            process.communicate(timeout=20)


@contextmanager
def desk_page(
    browser: Browser, *, size: dict[str, int] = OFFICE, language: str = "en"
) -> Iterator[tuple[Page, list[str]]]:
    """A page, with what it complains of; a refusal of its strict policy is among that."""
    with browser.new_context(viewport=size, locale=language) as context:  # type: ignore[arg-type]
        page = context.new_page()
        faults: list[str] = []
        page.on("pageerror", lambda fault: faults.append(str(fault)))
        page.on("console", lambda m: faults.append(m.text) if m.type == "error" else None)
        yield page, faults


def cell(page: Page, row: int, key: str) -> Locator:
    return page.locator(f".tabulator-row >> nth={row}").locator(f'[tabulator-field="{key}"]')


def typed(page: Page, row: int, key: str, *texts: str) -> None:
    """What a person types from a cell on, Tab between cells and Enter at the end."""
    cell(page, row, key).click()
    for text in texts[:-1]:
        page.keyboard.type(text)
        page.keyboard.press("Tab")
    page.keyboard.type(texts[-1])
    page.keyboard.press("Enter")


def pasted(page: Page, row: int, key: str, *lines: str) -> None:
    """A block from a spreadsheet: tabs between cells, the end of a line as Windows has it."""
    cell(page, row, key).click()
    page.evaluate(_PASTE, "\r\n".join(lines) + "\r\n")


def opened(page: Page, part: str) -> None:
    page.locator(f"#tab-{part}").click()
    page.locator(".tabulator-row").first.wait_for()
