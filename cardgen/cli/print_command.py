"""`cardgen print JOB --out DIR`: tags, flags and sheets as PDF, or nothing at all."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from cardgen.cli.options import JobOptions
from cardgen.cli.progress_line import progress_here
from cardgen.cli.telling import (
    CLEAN,
    ERRORS,
    chosen_languages,
    layouts_folder,
    no_stock,
    say,
    tell,
)
from cardgen.examine import examine
from cardgen.job.quantities import LENGTH
from cardgen.layout.legibility import FARTHEST, NEAREST
from cardgen.memory.prints import read_manifest
from cardgen.output.packet import NAME as PACKET
from cardgen.output.packet_parts import DRAWING_FILE
from cardgen.output.print_request import PrintRequest
from cardgen.output.print_settings import stock_choices
from cardgen.output.printing import Print, print_into
from cardgen.output.selection import KINDS, Selection
from cardgen.printer import Ink
from cardgen.problems import UserError
from cardgen.reading.shapes import BadValue, nearest
from cardgen.units import Meters


@dataclass(frozen=True, kw_only=True)
class Options(JobOptions):
    """As typed; `parser.py` and `selecting.py` say what each means."""

    out: Path
    paper: str
    stock: Sequence[str]
    ink: Ink
    read_from: str | None
    layouts: Path | None
    language: str
    results: Path | None
    replace: bool
    only: Sequence[str]
    box: Sequence[str]
    station: Sequence[str]
    controller: Sequence[str]
    since: int | None
    manifest: Path | None
    start: int
    copies: int


def run(options: Options) -> int:
    folder = layouts_folder(options.layouts)
    languages = chosen_languages(options.language, folder)
    choices = stock_choices(folder) if options.stock else ()
    for name in options.stock:
        if name not in choices:
            raise no_stock(name, choices)
    for word in options.only:
        if word not in KINDS:
            way_out = nearest(word, KINDS) or "there are " + ", ".join(KINDS)
            raise UserError(f"nothing that is printed is called '{word}'", way_out)
    if options.manifest and options.since is None:
        raise UserError("--manifest is for --since", "say which revision: --since REV")
    distance = _distance(options.read_from) if options.read_from else None
    examined = examine(options.job_file)
    if examined.has_errors:
        tell(examined.problems, options)
        return _nothing()
    progress = progress_here()
    try:
        request = _request(options, folder, languages, distance)
        made, more = print_into(examined, options.out, request, say=say, progress=progress)
    except UserError:
        tell(examined.problems, options)
        raise
    finally:
        progress.ends()
    tell((*examined.problems, *more), options)
    if made is None:
        return _nothing()
    _report(made, options)
    return CLEAN


def _distance(typed: str) -> Meters:
    """From how far a tag is read.

    Raises:
        UserError: if that is not a length, or from too near or too far.
    """
    try:
        meters = LENGTH.parse(typed).meters
    except BadValue as bad:
        raise UserError(f"--read-from: {bad.sentence}", bad.help) from bad
    if not NEAREST <= meters <= FARTHEST:
        sentence = f"a tag is read from {NEAREST:g} to {FARTHEST:g} m, not from {typed}"
        raise UserError(f"--read-from: {sentence}")
    return meters


def _request(
    options: Options, folder: Path | None, languages: tuple[str, ...], distance: Meters | None
) -> PrintRequest:
    try:
        base = read_manifest(options.manifest) if options.manifest else None
    except FileNotFoundError as fault:
        raise UserError(
            f"there is no '{options.manifest}'", "name the manifest of a print"
        ) from fault
    return PrintRequest(
        selection=Selection(
            only=tuple(options.only),
            boxes=tuple(options.box),
            stations=tuple(options.station),
            controllers=tuple(options.controller),
        ),
        paper=options.paper,
        stocks=tuple(options.stock),
        layouts=folder,
        languages=languages,
        results=options.results,
        since=options.since,
        base=base,
        start=options.start,
        copies=options.copies,
        ink=options.ink,
        read_from=distance,
        replace=options.replace,
    )


def _report(made: Print, options: Options) -> None:
    if made.changes is not None and not made.changes:
        print(f"nothing has changed since revision {options.since}: nothing is printed")
        return
    if made.stale:
        print(made.stale)
    for name, (things, pages) in made.counts.items():
        file = name.rpartition("/")[2]
        what = {DRAWING_FILE: "home run", PACKET: "document"}.get(file, "card")
        print(f"{options.out / name}: {_count(things, what)} on {_count(pages, 'page')}")
    for name in sorted(made.files.keys() - made.counts.keys()):
        print(options.out / name)
    if made.outdated is not None:
        print(f"What is stale of revision {made.outdated}: --since {made.outdated} lists it.")
    print("Print at 100 % ('actual size') and measure the 50 mm bar before you cut.")


def _nothing() -> int:
    print("Nothing printed. Fix the errors above first.", file=sys.stderr)
    return ERRORS


def _count(number: int, word: str) -> str:
    return f"{number} {word}{'' if number == 1 else 's'}"
