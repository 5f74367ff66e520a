"""`cardgen diagnose JOB READINGS [--out FILE.pdf]`: what readings point to, and what is next."""

from __future__ import annotations

import sys
from dataclasses import dataclass, replace
from pathlib import Path

from cardgen.cli import diagnoses
from cardgen.cli.paper_options import SheetOptions, sheet_request
from cardgen.cli.progress_line import told_after
from cardgen.cli.telling import CLEAN, ERRORS, tell
from cardgen.examine import examine
from cardgen.output.diagnosing import diagnosed_job, sheet_pages
from cardgen.output.writing import write_new, write_over
from cardgen.printer import Ink
from cardgen.problems import Problem, Verdict, has_errors

LONG = 1.0  # s; what takes longer is told


@dataclass(frozen=True, kw_only=True)
class Options(SheetOptions):
    """Attributes:
    readings: file of what a crew measured.
    out: the fault sheet; None for none.
    replace: whether it may take the place of a file.
    """

    readings: Path
    out: Path | None
    ink: Ink
    replace: bool


def run(options: Options) -> int:
    request = replace(sheet_request(options), ink=options.ink)
    examined = examine(options.job_file)
    with told_after(LONG, "comparing readings with the wiring"):
        made, problems = diagnosed_job(examined, options.readings, request)
    tell([*_errors(examined.problems), *problems], options)
    if made is None:
        return _nothing(options)
    written = ""
    if options.out is not None:
        data, pages, problems = sheet_pages(made, request)
        tell(problems, options)
        if has_errors(problems):
            return _nothing(options)
        (write_over if options.replace else write_new)(options.out, data)
        written = f"\n{options.out}: fault sheet on {pages} page{'' if pages == 1 else 's'}"
    if options.format == "json":
        print(diagnoses.as_json(made))
    else:
        print(diagnoses.as_text(made))
        if written:
            print(written)
    return CLEAN


def _errors(problems: tuple[Problem, ...]) -> list[Problem]:
    """What `check` says besides is no news here."""
    return [problem for problem in problems if problem.verdict is Verdict.ERROR]


def _nothing(options: Options) -> int:
    if options.format != "json":  # whose standard error another program reads
        print("Nothing diagnosed. Fix the errors above first.", file=sys.stderr)
    return ERRORS
