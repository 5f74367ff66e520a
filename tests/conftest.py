"""What holds for all tests: the outside tools are there, examples stay the same, long ones first.

A missing tool stops the run: a skipped second opinion would look like a pass.
"""

from __future__ import annotations

import ctypes.util
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings
from xdist.scheduler import LoadGroupScheduling

# What fails for one fails for all, and on a busy machine as on a quiet one.
settings.register_profile(
    "cardgen", derandomize=True, deadline=None, suppress_health_check=[HealthCheck.too_slow]
)
settings.load_profile("cardgen")


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


# Groups and modules that take long: begun first, they are done while others still have work.
LONG = ()


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    rank = {name: number for number, name in enumerate(LONG)}
    items.sort(key=lambda item: rank.get(_scope(item), len(rank)))


def _scope(item: pytest.Item) -> str:
    """The group of a test, or else its module."""
    group = item.get_closest_marker("xdist_group")
    return group.args[0] if group else item.nodeid.partition("::")[0]


class _Modules(LoadGroupScheduling):
    """A module that is in no group stays with one worker, too: its tests share what they make."""

    def _split_scope(self, nodeid: str) -> str:
        scope: str = super()._split_scope(nodeid)
        return scope.partition("::")[0]


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_make_scheduler(config: pytest.Config, log: object) -> LoadGroupScheduling:
    return _Modules(config, log)
