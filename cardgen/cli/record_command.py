"""`cardgen record JOB --out DIR`: the pages behind the printed codes, or nothing at all."""

from __future__ import annotations

import argparse
import sys

from cardgen.build.recording import make_record
from cardgen.build.writing import CannotWrite, write_set
from cardgen.checks.facts import listed
from cardgen.cli.telling import CLEAN, ERRORS, misused, tell
from cardgen.examine import examine


def run(options: argparse.Namespace) -> int:
    examined = examine(options.job)
    try:
        made, more = make_record(examined, options.out, replace=options.replace)
        tell((*examined.problems, *more), options)
        if made is None:
            print("nothing is written: mend the errors first", file=sys.stderr)
            return ERRORS
        write_set(made.folder, made.files, made.manifest, replace=options.replace)
    except CannotWrite as fault:
        return misused(fault.sentence, fault.help)
    pages = sum(name.endswith(".html") for name in made.files)
    noun = "revision" if len(made.published) == 1 else "revisions"
    numbers = listed(str(number) for number in made.published)
    print(f"{made.folder}: {pages} pages, {noun} {numbers}")
    return CLEAN
