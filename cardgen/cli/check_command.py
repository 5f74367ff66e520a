"""`cardgen check JOB`: every fault of the file, each at its place."""

from __future__ import annotations

from dataclasses import dataclass

from cardgen.cli import messages
from cardgen.cli.options import JobOptions
from cardgen.cli.telling import exit_code, tell
from cardgen.examine import examine


@dataclass(frozen=True, kw_only=True)
class Options(JobOptions):
    """Nothing more."""


def run(options: Options) -> int:
    examined = examine(options.job_file)
    if options.format == "json":
        print(messages.as_json(examined.problems))
    else:
        tell(examined.problems, options)
        print(f"{options.job_file}: {messages.summary(examined.problems)}")
    return exit_code(examined)
