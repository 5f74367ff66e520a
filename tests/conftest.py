"""Refuse to run without the outside tools: a skipped second opinion would look like a pass."""

from __future__ import annotations

import ctypes.util
import shutil
from collections.abc import Callable

import pytest

# Each: the Debian package, and how its part is found.
NEEDED: dict[str, Callable[[], str | None]] = {
    "chromium": lambda: shutil.which("chromium"),
    "git": lambda: shutil.which("git"),
    "libzbar0": lambda: ctypes.util.find_library("zbar"),
    "ngspice": lambda: shutil.which("ngspice"),
    "poppler-utils": lambda: shutil.which("pdftoppm"),
}


def pytest_configure() -> None:
    missing = [package for package, found in NEEDED.items() if not found()]
    if missing:
        line = "apt-get update && apt-get install -y --no-install-recommends " + " ".join(missing)
        raise pytest.UsageError(f"the tests need tools that are missing here; as root: {line}")
