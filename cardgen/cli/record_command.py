"""`cardgen record JOB --out DIR`: the pages behind the printed codes, or nothing at all."""

from __future__ import annotations

import argparse
import sys

from cardgen.cli.telling import (
    CLEAN,
    ERRORS,
    known_languages,
    layouts_folder,
    misused,
    tell,
    waiting,
)
from cardgen.examine import examine
from cardgen.lists import listed
from cardgen.output.recording import RecordFiles, RecordRequest, publish
from cardgen.problems import Refused


def run(options: argparse.Namespace) -> int:
    layouts = layouts_folder(options.layouts)
    if isinstance(layouts, str):
        return misused(layouts)
    said = options.language
    languages = () if said is None else known_languages(said, layouts)
    if isinstance(languages, str):
        return misused(languages)
    wanted = RecordRequest(
        languages=languages,
        layouts=layouts,
        results=options.results,
        forget_results=options.forget_results,
        replace=options.replace,
    )
    examined = examine(options.job)
    try:
        made, more = publish(examined, options.out, wanted, waiting=waiting)
    except Refused as fault:
        tell(examined.problems, options)
        return misused(fault.sentence, fault.help)
    tell((*examined.problems, *more), options)
    if made is None:
        print("nothing is written: mend the errors first", file=sys.stderr)
        return ERRORS
    print(f"{made.folder}: {_summary(made)}")
    return CLEAN


def _summary(made: RecordFiles) -> str:
    """`42 pages in en and es, revisions 1 to 3, 12 readings`."""
    pages = sum(name.endswith(".html") for name in made.files)
    numbers = [str(revision.revision) for revision in made.history.revisions]
    noun = "revision" if len(numbers) == 1 else "revisions"
    said = f"{pages} pages in {listed(made.history.languages)}, {noun} {listed(numbers)}"
    results = len(made.history.results)
    return f"{said}, {results} readings" if results else said
