"""A plugin of pytest: keep which tests run each line of cardgen, the fastest first."""

from __future__ import annotations

import json
from collections import defaultdict
from collections.abc import Iterator
from pathlib import Path

import coverage
import pytest

ROOT = Path(__file__).parents[2]
OUT = ROOT / ".mutants" / "map.json"
_took_s: dict[str, float] = {}
_coverage = coverage.Coverage(data_file=None, source=[str(ROOT / "cardgen")])


def pytest_sessionstart() -> None:
    _coverage.start()


@pytest.hookimpl(wrapper=True)
def pytest_runtest_protocol(item: pytest.Item) -> Iterator[None]:
    _coverage.switch_context(item.nodeid)
    return (yield)


def pytest_runtest_logreport(report: pytest.TestReport) -> None:
    if report.when == "call" and report.passed:
        _took_s[report.nodeid] = report.duration


def pytest_sessionfinish() -> None:
    _coverage.stop()
    data = _coverage.get_data()
    found: dict[str, dict[int, list[str]]] = defaultdict(dict)
    for path in sorted(data.measured_files()):
        module = str(Path(path).relative_to(ROOT))
        for line, contexts in data.contexts_by_lineno(path).items():
            known = [name for name in contexts if name in _took_s]
            found[module][line] = sorted(known, key=lambda name: (_took_s[name], name))
    OUT.write_text(json.dumps(found), encoding="utf-8")
