"""`cardgen print JOB --out DIR`: tags, flags and legends as PDF, or nothing at all."""

from __future__ import annotations

import argparse
import sys

from cardgen.build.packet import NAME as PACKET
from cardgen.build.printing import DRAWING, make_print, stock_choices
from cardgen.build.refused import CannotWrite
from cardgen.build.writing import write_set
from cardgen.cli.telling import CLEAN, ERRORS, layouts_folder, misused, no_such, tell
from cardgen.examine import examine


def run(options: argparse.Namespace) -> int:
    folder = layouts_folder(options.layouts)
    if isinstance(folder, str):
        return misused(folder)
    choices = stock_choices(folder)
    for name in options.stock:
        if name not in choices:
            return misused(f"no stock is called '{name}'", no_such(name, choices))
    examined = examine(options.job)
    made, more = make_print(examined, paper=options.paper, stocks=options.stock, folder=folder)
    tell((*examined.problems, *more), options)
    if made is None:
        print("nothing is printed: mend the errors first", file=sys.stderr)
        return ERRORS
    try:
        write_set(options.out, made.files, made.manifest, replace=options.replace)
    except CannotWrite as fault:
        return misused(fault.sentence, fault.help)
    for name, (things, pages) in made.counts.items():
        what = {DRAWING: "home run", PACKET: "document"}.get(name, "card")
        print(f"{options.out / name}: {_count(things, what)} on {_count(pages, 'page')}")
    for name in sorted(made.files.keys() - made.counts.keys()):
        print(options.out / name)
    print("Print at 100 % ('actual size') and measure the 50 mm bar before you cut.")
    return CLEAN


def _count(number: int, word: str) -> str:
    return f"{number} {word}{'' if number == 1 else 's'}"
