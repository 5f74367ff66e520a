"""A plugin of pytest: keep which tests run each statement of cardgen, `-n 2` as well.

Every statement gets one more before it, which sets its byte of `_ran`; that costs little, and all
versions of Python do it alike.  What runs in threads counts for the test that is running; what
other processes run is not seen.  What is made once and kept (by a fixture of a module, by a cache)
counts for every test that takes it, not only for the one that comes first.
"""

from __future__ import annotations

import ast
import base64
import builtins
import functools
import importlib.machinery
import json
import os
import sys
import time
import zlib
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any, NamedTuple

import pytest

from tests.benchmarks.line_map import ROOT, places

OUT = ROOT / ".mutants"


class _Kept(NamedTuple):
    """What was run when something that many tests share was made, and how long that took."""

    ran: int
    took_s: float


_number = {place: number for number, place in enumerate(places(ROOT))}
_ran = bytearray(len(_number))
_taken: set[object] = set()
_kept: dict[object, _Kept] = {}
builtins.__dict__["__ran__"] = _ran


class _Probes(ast.NodeTransformer):
    def __init__(self, module: str) -> None:
        self.module = module

    def generic_visit(self, node: ast.AST) -> ast.AST:
        super().generic_visit(node)
        for name in ("body", "orelse", "finalbody"):
            body = getattr(node, name, None)
            if isinstance(body, list):
                setattr(node, name, [new for old in body for new in self._probed(node, old)])
        return node

    def _probed(self, holder: ast.AST, statement: ast.stmt) -> list[ast.stmt]:
        is_text = isinstance(statement, ast.Expr) and isinstance(statement.value, ast.Constant)
        is_future = isinstance(statement, ast.ImportFrom) and statement.module == "__future__"
        if isinstance(holder, (ast.Module, ast.ClassDef)) or is_text or is_future:
            return [statement]  # run when a module is read: not by a test
        number = _number[self.module, statement.lineno]
        (probe,) = ast.parse(f"__ran__[{number}] = 1").body
        for node in ast.walk(probe):
            ast.copy_location(node, statement)
        return [probe, statement]


class _Loader(importlib.machinery.SourceFileLoader):
    def path_stats(self, path: Any) -> Any:
        raise OSError  # nothing compiled is read or kept

    def source_to_code(self, data: Any, path: Any, *, _optimize: int = -1) -> Any:  # type: ignore[override]
        tree = _Probes(str(Path(path).relative_to(ROOT))).visit(ast.parse(data))
        return compile(tree, path, "exec", dont_inherit=True, optimize=_optimize)


class _Finder(importlib.machinery.PathFinder):
    @classmethod
    def find_spec(cls, fullname: str, path: Any = None, target: Any = None) -> Any:
        spec = super().find_spec(fullname, path, target)
        if fullname.partition(".")[0] != "cardgen" or spec is None or spec.origin is None:
            return None
        spec.loader = _Loader(fullname, spec.origin)
        return spec


def _noted(key: object, make: Callable[[], Any]) -> Any:
    """What `make` gives; what it runs is kept under the key, too."""
    before, began = bytes(_ran), time.perf_counter()
    _ran[:] = bytes(len(_ran))
    outer = set(_taken)
    _taken.clear()
    try:
        return make()
    finally:
        ran = int.from_bytes(_ran) | _of_kept(set(_taken))
        old = _kept.get(key, _Kept(0, 0.0))
        _kept[key] = _Kept(old.ran | ran, max(old.took_s, time.perf_counter() - began))
        _ran[:] = (int.from_bytes(before) | ran).to_bytes(len(_ran))
        _taken.update(outer)
        _taken.add(key)


def _of_kept(keys: set[object]) -> int:
    ran = 0
    for key in keys:
        ran |= _kept[key].ran
    return ran


def _noting(kept_by: Callable[[Any], Any], function: Any) -> Any:
    """A cache that says which test took what it keeps: by value in tests, else by function."""
    home = function.__module__.partition(".")[0]
    if home not in ("cardgen", "tests"):
        return kept_by(function)

    def made(*values: Any, **named: Any) -> Any:
        key = object() if home == "tests" else function
        return _noted(key, lambda: function(*values, **named)), key

    cached = kept_by(made)

    @functools.wraps(function)
    def taken(*values: Any, **named: Any) -> Any:
        value, key = cached(*values, **named)
        _taken.add(key)
        return value

    taken.__dict__.update(cache_clear=cached.cache_clear, cache_info=cached.cache_info)
    return taken


def _watch_caches() -> None:
    whole, bounded = functools.cache, functools.lru_cache

    def lru_cache(maxsize: Any = 128, typed: bool = False) -> Any:
        if callable(maxsize):
            return _noting(bounded, maxsize)
        return lambda function: _noting(bounded(maxsize, typed), function)

    functools.__dict__["lru_cache"] = lru_cache
    functools.__dict__["cache"] = lambda function: _noting(whole, function)


_watch_caches()
sys.meta_path.insert(0, _Finder())


@pytest.hookimpl(wrapper=True)
def pytest_fixture_setup(fixturedef: Any) -> Iterator[None]:
    if fixturedef.scope == "function":
        return (yield)
    before, began = bytes(_ran), time.perf_counter()
    _ran[:] = bytes(len(_ran))
    try:
        return (yield)
    finally:
        ran = int.from_bytes(_ran) | _of_kept(set(_taken))
        _kept[fixturedef] = _Kept(ran, time.perf_counter() - began)
        _ran[:] = (int.from_bytes(before) | ran).to_bytes(len(_ran))


_took_s: dict[str, float] = {}


def pytest_runtest_logreport(report: pytest.TestReport) -> None:
    if report.when == "call" and report.passed:
        _took_s[report.nodeid] = report.duration


def pytest_sessionstart() -> None:
    OUT.mkdir(exist_ok=True)
    _part().write_bytes(b"")


@pytest.hookimpl(wrapper=True, tryfirst=True)
def pytest_runtest_protocol(item: pytest.Item) -> Iterator[None]:
    _ran[:] = bytes(len(_ran))
    _taken.clear()
    result = yield
    if item.nodeid in _took_s:
        fixtures = getattr(item, "_fixtureinfo").name2fixturedefs.values()  # noqa: B009
        shared = {each[-1] for each in fixtures if each[-1] in _kept}
        ran = int.from_bytes(_ran) | _of_kept(_taken | shared)
        took_s = _took_s[item.nodeid] + sum(_kept[key].took_s for key in _taken | shared)
        packed = base64.b64encode(zlib.compress(ran.to_bytes(len(_ran)))).decode()
        with _part().open("a", encoding="utf-8") as part:
            part.write(json.dumps([item.nodeid, took_s, packed]) + "\n")
    return result


def _part() -> Path:
    """Each worker has its own; `mutants.py` reads all of them."""
    return OUT / f"ran-{os.environ.get('PYTEST_XDIST_WORKER', 'alone')}.jsonl"
