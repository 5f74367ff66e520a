"""Tell what is missing where a part of the program needs more than all of it: an extra."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from cardgen.problems import UserError
from cardgen.results.xlsx_cells import INSTALL


@contextmanager
def needed_by(part: str) -> Iterator[None]:
    """Around its imports.

    Raises:
        UserError: if one of another's is not installed.
    """
    try:
        yield
    except ModuleNotFoundError as fault:
        if (fault.name or "cardgen").startswith("cardgen"):
            raise
        raise UserError(f"{part} needs '{fault.name}', which is not installed", INSTALL) from fault
