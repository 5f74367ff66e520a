"""One test of many small cases: each is tried, and those that fail are told together."""

from __future__ import annotations

import inspect
from collections.abc import Callable, Iterable
from functools import wraps
from typing import Any

Test = Callable[..., None]


def for_each(names: str | tuple[str, ...], cases: Iterable[Any]) -> Callable[[Test], Test]:
    """`pytest.mark.parametrize` for cases that take less time than a test of their own would.

    Each test costs some milliseconds to collect, hand out and report; fixtures are shared here.
    """
    names, cases = (names,) if isinstance(names, str) else names, list(cases)

    def of(test: Test) -> Test:
        @wraps(test)
        def whole(**fixtures: Any) -> None:
            failed = []
            for case in cases:
                values = (case,) if len(names) == 1 else case
                try:
                    test(**dict(zip(names, values, strict=True)), **fixtures)
                except Exception as fault:  # noqa: BLE001  # told below, with all others
                    fault.add_note(f"with {case!r:.300}")
                    failed.append(fault)
            assert cases, "nothing was tried"
            if failed:
                raise ExceptionGroup(f"{len(failed)} of {len(cases)} cases", failed)

        asked = inspect.signature(test)
        rest = [each for name, each in asked.parameters.items() if name not in names]
        # What pytest looks at to see which fixtures are asked for.
        vars(whole)["__signature__"] = asked.replace(parameters=rest)
        return whole

    return of
