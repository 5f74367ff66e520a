"""`cardgen check JOB`: every fault of the file, each at its place, and what has no room on tags."""

from __future__ import annotations

from dataclasses import dataclass, replace

from cardgen.cli import messages
from cardgen.cli.paper_options import PaperOptions, paper_request
from cardgen.cli.telling import exit_code, tell
from cardgen.examine import examine
from cardgen.output.room import misfits
from cardgen.problems import in_order


@dataclass(frozen=True, kw_only=True)
class Options(PaperOptions):
    """What the tags will be printed on."""


def refuse(options: Options) -> None:
    """Look at the options alone.

    Raises:
        UserError: at the first that cannot be.
    """
    paper_request(options)


def run(options: Options) -> int:
    on_paper = paper_request(options)
    examined = examine(options.job_file)
    if not examined.has_errors:
        no_room = misfits(examined, on_paper)
        examined = replace(examined, problems=in_order((*examined.problems, *no_room)))
    if options.format == "json":
        print(messages.as_json(examined.problems))
    else:
        tell(examined.problems, options)
        print(f"{options.job_file}: {messages.summary(examined.problems)}")
    return exit_code(examined)
