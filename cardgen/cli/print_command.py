"""`cardgen print JOB --out DIR`: tags, flags and legends as PDF, or nothing at all."""

from __future__ import annotations

import argparse
import sys

from cardgen.build.packet import NAME as PACKET
from cardgen.build.printing import DRAWING, make_print, stock_choices
from cardgen.build.writing import CannotWrite, write_set
from cardgen.cli.telling import CLEAN, ERRORS, misused, tell
from cardgen.examine import examine


def run(options: argparse.Namespace) -> int:
    choices = stock_choices()
    if options.stock and options.stock not in choices:
        known = "there are " + ", ".join(choices)
        return misused(f"no stock for tags is called '{options.stock}'", known)
    examined = examine(options.job)
    made, more = make_print(examined, paper=options.paper, tag_stock=options.stock)
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
