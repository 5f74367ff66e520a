"""`cardgen record JOB --out DIR`: the pages behind the printed codes, or nothing at all."""

from __future__ import annotations

import sys
from dataclasses import dataclass
from pathlib import Path

from cardgen.cli.options import JobOptions
from cardgen.cli.telling import (
    CLEAN,
    ERRORS,
    known_languages,
    layouts_folder,
    say,
    tell,
)
from cardgen.english_lists import english_list
from cardgen.examine import examine
from cardgen.output.recording import RecordFiles, RecordRequest, publish
from cardgen.problems import UserError


@dataclass(frozen=True, kw_only=True)
class Options(JobOptions):
    """Attributes:
    out: folder that the web host serves.
    layouts: folder of words of your own.
    language: as typed, `en,es`; None for those that the record has.
    results: CSV file of what crews measured.
    """

    out: Path
    layouts: Path | None
    language: str | None
    results: Path | None
    forget_results: bool
    replace: bool


def refuse(options: Options) -> None:
    """Look at the options alone.

    Raises:
        UserError: at the first that cannot be.
    """
    _request(options)


def _request(options: Options) -> RecordRequest:
    layouts = layouts_folder(options.layouts)
    asked = options.language
    return RecordRequest(
        languages=() if asked is None else known_languages(asked, layouts),
        layouts=layouts,
        results=options.results,
        forget_results=options.forget_results,
        replace=options.replace,
    )


def run(options: Options) -> int:
    request = _request(options)
    examined = examine(options.job_file)
    try:
        made, more = publish(examined, options.out, request, say=say)
    except UserError:
        tell(examined.problems, options)
        raise
    tell((*examined.problems, *more), options)
    if made is None:
        print("Nothing written. Fix the errors above first.", file=sys.stderr)
        return ERRORS
    print(f"{made.folder}: {_summary(made)}")
    return CLEAN


def _summary(made: RecordFiles) -> str:
    """`42 pages in en and es, revisions 1 to 3, 12 readings`."""
    pages = sum(name.endswith(".html") for name in made.files)
    numbers = [str(revision.revision) for revision in made.history.revisions]
    noun = "revision" if len(numbers) == 1 else "revisions"
    counted = (
        f"{pages} pages in {english_list(made.history.languages)}, {noun} {english_list(numbers)}"
    )
    results = len(made.history.results)
    return f"{counted}, {results} readings" if results else counted
