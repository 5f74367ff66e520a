"""Every fault that a person can be told of: one object each, in one module per family."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from importlib import import_module
from pkgutil import iter_modules
from typing import Any

from cardgen.faults.fault import Fault

ALL: Mapping[str, Fault]  # by code


def __getattr__(name: str) -> Any:
    """`ALL` is gathered when it is asked for: a run needs the words of few families."""
    if name != "ALL":
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return _gathered()


@cache
def _gathered() -> Mapping[str, Fault]:
    families = [import_module(f"{__name__}.{module.name}") for module in iter_modules(__path__)]
    return {
        fault.code: fault
        for family in families
        for fault in vars(family).values()
        if isinstance(fault, Fault)
    }
