"""Refuse to run without the outside tools: a skipped second opinion would look like a pass."""

from __future__ import annotations

import ctypes.util
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest


def _models(language: str) -> str | None:
    """What Tesseract has learned of a language, as Debian installs it."""
    found = Path("/usr/share/tesseract-ocr").glob(f"*/tessdata/{language}.traineddata")
    return next(map(str, found), None)


# Each: the Debian package, and how its part is found.
NEEDED: dict[str, Callable[[], str | None]] = {
    "chromium": lambda: shutil.which("chromium"),
    "git": lambda: shutil.which("git"),
    "libatomic1": lambda: ctypes.util.find_library("atomic"),
    "libzbar0": lambda: ctypes.util.find_library("zbar"),
    "ngspice": lambda: shutil.which("ngspice"),
    "poppler-utils": lambda: shutil.which("pdftoppm"),
    "tesseract-ocr-eng": lambda: _models("eng"),
    "tesseract-ocr-spa": lambda: _models("spa"),
}


def pytest_configure() -> None:
    missing = [package for package, found in NEEDED.items() if not found()]
    if missing:
        line = "apt-get update && apt-get install -y --no-install-recommends " + " ".join(missing)
        raise pytest.UsageError(f"the tests need tools that are missing here; as root: {line}")
