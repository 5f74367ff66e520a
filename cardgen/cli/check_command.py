"""`cardgen check JOB`: every fault of the file, each at its place."""

from __future__ import annotations

import argparse

from cardgen.cli import messages
from cardgen.cli.telling import exit_code, tell
from cardgen.examine import examine


def run(options: argparse.Namespace) -> int:
    examined = examine(options.job)
    if options.format == "json":
        print(messages.as_json(examined.problems))
    else:
        tell(examined.problems, options)
        print(f"{options.job}: {messages.summary(examined.problems)}")
    return exit_code(examined)
