"""`cardgen record JOB --out DIR`: the pages behind the printed codes, or nothing at all."""

from __future__ import annotations

import argparse
import sys

from cardgen.build.recording import publish
from cardgen.build.refused import CannotWrite
from cardgen.checks.facts import listed
from cardgen.cli.telling import CLEAN, ERRORS, misused, tell, waiting
from cardgen.examine import examine


def run(options: argparse.Namespace) -> int:
    examined = examine(options.job)
    try:
        made, more = publish(examined, options.out, replace=options.replace, waiting=waiting)
    except CannotWrite as fault:
        tell(examined.problems, options)
        return misused(fault.sentence, fault.help)
    tell((*examined.problems, *more), options)
    if made is None:
        print("nothing is written: mend the errors first", file=sys.stderr)
        return ERRORS
    pages = sum(name.endswith(".html") for name in made.files)
    noun = "revision" if len(made.published) == 1 else "revisions"
    numbers = listed(str(number) for number in made.published)
    print(f"{made.folder}: {pages} pages, {noun} {numbers}")
    return CLEAN
