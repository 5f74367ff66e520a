"""What a print queue of the desk tells its page."""

from __future__ import annotations

import time
from collections.abc import Callable
from typing import Any

from tests.desk.clients import DeskClient

PATIENCE_S = 60.0  # a busy machine is no fault


def until(desk: DeskClient, is_so: Callable[[dict[str, Any]], bool]) -> dict[str, Any]:
    """What the page is told, as soon as it is so."""
    end = time.monotonic() + PATIENCE_S
    while not is_so(told := desk.get("/queue/state").json()):
        assert time.monotonic() < end, told
        time.sleep(0.05)
    found: dict[str, Any] = told
    return found


def is_over(told: dict[str, Any]) -> bool:
    return not told["running"]


def states(told: dict[str, Any]) -> list[str]:
    return [job["state"] for job in told["jobs"]]


def reasons_in(desk: DeskClient, language: str) -> str:
    """Why jobs were not printed, as a page in that language has it; nothing in another."""
    told = desk.get("/queue/state", **{"Accept-Language": language}).json()
    reasons = [reason for job in told["jobs"] for reason in job["told"]]
    assert {reason["lang"] for reason in reasons} <= {language}, reasons
    return "\n".join(f"{each['sentence']}; {each['help']}; {each['others']}" for each in reasons)
