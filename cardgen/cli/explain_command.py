"""`cardgen explain [CODE]`: why a problem matters on site, and the way out."""

from __future__ import annotations

from dataclasses import dataclass

from cardgen import faults
from cardgen.cli.telling import CLEAN
from cardgen.faults.explain import explain, list_of_faults
from cardgen.problems import UserError
from cardgen.reading.shapes import nearest


@dataclass(frozen=True, kw_only=True)
class Options:
    """Attributes:
    code: of a problem; None for the list of all.
    """

    code: str | None


def run(options: Options) -> int:
    if options.code is None:
        print(list_of_faults())
        return CLEAN
    text = explain(options.code)
    if text is None:
        way_out = nearest(options.code, faults.ALL) or "'cardgen explain' lists them all"
        raise UserError(f"no problem has the code '{options.code}'", way_out)
    print(text)
    return CLEAN
