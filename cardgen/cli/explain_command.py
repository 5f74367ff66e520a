"""`cardgen explain [CODE]`: why a problem matters on site, and the way out."""

from __future__ import annotations

import argparse

from cardgen import faults
from cardgen.cli.telling import CLEAN, misused
from cardgen.faults.explain import explain, listed
from cardgen.reading.shapes import nearest


def run(options: argparse.Namespace) -> int:
    text = listed() if options.code is None else explain(options.code)
    if text is None:
        help_ = nearest(options.code, faults.ALL) or "'cardgen explain' lists them all"
        return misused(f"no problem has the code '{options.code}'", help_)
    print(text)
    return CLEAN
