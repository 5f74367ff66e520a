"""`cardgen print JOB --out DIR`: tags, flags and sheets as PDF, or nothing at all."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from cardgen.cards import Printable
from cardgen.cli.paper_options import PaperOptions, paper_request
from cardgen.cli.progress_line import progress_here
from cardgen.cli.selecting import HANGING
from cardgen.cli.telling import (
    CLEAN,
    ERRORS,
    say,
    tell,
)
from cardgen.examine import examine
from cardgen.memory.prints import PrintLog, read_log, read_manifest
from cardgen.output.as_printable import as_printable
from cardgen.output.crew_request import (
    CREW_SHEETS,
    CREW_TAGS,
    USUAL_OF_CREW,
    crew_request,
    lacks_survey,
)
from cardgen.output.current_print import from_file, is_current
from cardgen.output.hung_marks import kinds_hanging, revision_hanging
from cardgen.output.packet import NAME as PACKET
from cardgen.output.packet_parts import DRAWING_FILE
from cardgen.output.print_request import PrintRequest
from cardgen.output.printing import Print, print_into
from cardgen.output.selection import KINDS, Selection
from cardgen.printer import Ink
from cardgen.problems import Problem, UserError
from cardgen.reading.shapes import nearest


@dataclass(frozen=True, kw_only=True)
class Options(PaperOptions):
    """As typed; `parser.py` and `selecting.py` say what each means."""

    out: Path
    ink: Ink
    results: Path | None
    replace: bool
    without_misfits: bool
    only: Sequence[str]
    box: Sequence[str]
    station: Sequence[str]
    controller: Sequence[str]
    crew: str | None
    since: int | str | None
    manifest: Path | None
    start: int
    copies: int


def refuse(options: Options) -> None:
    """Look at the options alone.

    Raises:
        UserError: at the first that cannot be.
    """
    paper_request(options)
    for word in options.only:
        if word not in KINDS:
            way_out = nearest(word, KINDS) or "there are " + ", ".join(KINDS)
            raise UserError(f"nothing that is printed is called '{word}'", way_out)
    if options.manifest and options.since is None:
        raise UserError("--manifest is for --since", "say which revision: --since REV")
    if options.crew is not None:
        _refuse_for_crew(options)


def _refuse_for_crew(options: Options) -> None:
    if options.station or options.since is not None:
        wrong = "--station" if options.station else "--since"
        raise UserError(f"{wrong} is not for --crew", "name its boxes: --box or --controller")
    if options.box and options.controller:
        raise UserError(
            "a crew gets boxes that are named, or all of a controller", "leave out one of the two"
        )
    known = (*CREW_TAGS, *CREW_SHEETS)
    if strange := next((word for word in options.only if word not in known), None):
        raise UserError(
            f"'{strange}' is nothing for a crew's boxes alone", "there are " + ", ".join(known)
        )


def is_done(options: Options) -> bool:
    """Whether the folder has this very print already."""
    return options.crew is None and is_current(options.out, _request(options))


def run(options: Options) -> int:
    refuse(options)
    request = _request(options)
    printable, problems = _as_built(options.job_file, for_survey=request.is_survey)
    if printable is None:
        tell(problems, options)
        return _nothing()
    progress = progress_here()
    try:
        if options.crew is not None:
            request = _for_crew(request, printable, options)
        made, more = print_into(printable, options.out, request, say=say, progress=progress)
    except UserError:
        tell(problems, options)
        raise
    finally:
        progress.ends()
    tell((*problems, *more), options)
    if made is None:
        return _nothing()
    _report(made, request, options)
    if lacks_survey(printable, request):
        print("No survey list: the job has nothing to find out in these boxes.")
    return CLEAN


def _as_built(job_file: Path, *, for_survey: bool) -> tuple[Printable | None, tuple[Problem, ...]]:
    """The job, if it has no errors; all else that was found out about it is let go here."""
    examined = examine(job_file)
    return as_printable(examined, for_survey=for_survey), examined.problems


def _request(options: Options) -> PrintRequest:
    base = _base(options)
    only, since = tuple(options.only), options.since
    if since == HANGING:
        log = base or read_log(options.out)
        since = revision_hanging(log)
        only = only or kinds_hanging(log, since)  # nothing else is new
    asked = replace(
        paper_request(options),
        selection=Selection(
            only=() if set(only) == set(KINDS) else only,
            boxes=tuple(options.box),
            stations=tuple(options.station),
            controllers=tuple(options.controller),
        ),
        results=options.results,
        since=None if since is None else int(since),
        base=base,
        start=options.start,
        copies=options.copies,
        ink=options.ink,
        replace=options.replace,
        without_misfits=options.without_misfits,
    )
    return from_file(options.job_file, asked)


def _base(options: Options) -> PrintLog | None:
    try:
        return read_manifest(options.manifest) if options.manifest else None
    except FileNotFoundError as fault:
        raise UserError(
            f"there is no '{options.manifest}'", "name the manifest of a print"
        ) from fault


def _for_crew(request: PrintRequest, printable: Printable, options: Options) -> PrintRequest:
    """Of the whole job where no box and no controller is named, as for any other print."""
    known = printable.asbuilt
    only = tuple(options.only) or USUAL_OF_CREW
    is_all = not (options.box or options.controller)
    return crew_request(
        replace(request, selection=Selection(only=only)),
        known,
        crew=options.crew or "",
        boxes=known.box if is_all else options.box,
        controllers=options.controller,
        sheets=only,
    )


def _report(made: Print, request: PrintRequest, options: Options) -> None:
    if made.changes is not None and not made.changes:
        print(f"nothing has changed since revision {request.since}: nothing is printed")
        return
    if made.stale:
        print(made.stale)
    for name, (things, pages) in made.counts.items():
        file = name.rpartition("/")[2]
        what = {DRAWING_FILE: "home run", PACKET: "document"}.get(file, "card")
        print(f"{options.out / name}: {_count(things, what)} on {_count(pages, 'page')}")
    for name in sorted(made.files.keys() - made.counts.keys()):
        print(options.out / name)
    if made.left_out:
        print(f"Not printed, for there is no room: {', '.join(made.left_out)}.")
    if made.outdated is not None:
        print(f"What is stale of revision {made.outdated}: --since {made.outdated} lists it.")
    print("Print at 100 % ('actual size') and measure the 50 mm bar before you cut.")


def _nothing() -> int:
    print("Nothing printed. Fix the errors above first.", file=sys.stderr)
    return ERRORS


def _count(number: int, word: str) -> str:
    return f"{number} {word}{'' if number == 1 else 's'}"
