"""`cardgen print JOB --out DIR`: tags, flags and sheets as PDF, or nothing at all."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Sequence
from pathlib import Path

from cardgen.cli.telling import (
    CLEAN,
    ERRORS,
    chosen_languages,
    layouts_folder,
    misused,
    no_such,
    tell,
    waiting,
)
from cardgen.examine import Examined, examine
from cardgen.job.quantities import LENGTH
from cardgen.layout.inks import Ink
from cardgen.layout.legibility import FARTHEST, NEAREST
from cardgen.memory.prints import read_log, read_manifest
from cardgen.output.documents import DRAWING_FILE
from cardgen.output.locking import locked
from cardgen.output.packet import NAME as PACKET
from cardgen.output.print_settings import stock_choices
from cardgen.output.printing import Print, make_print
from cardgen.output.requests import PrintRequest
from cardgen.output.selection import KINDS, Selection
from cardgen.output.writing import write_set
from cardgen.problems import Refused
from cardgen.reading.shapes import Misread, nearest
from cardgen.units import Metres


def run(options: argparse.Namespace) -> int:
    folder = layouts_folder(options.layouts)
    if isinstance(folder, str):
        return misused(folder)
    languages = chosen_languages(options.language, folder)
    if isinstance(languages, str):
        return misused(languages)
    choices = stock_choices(folder)
    for name in options.stock:
        if name not in choices:
            return misused(f"no stock is called '{name}'", no_such(name, choices))
    for word in options.only:
        if word not in KINDS:
            way = nearest(word, KINDS) or "there are " + ", ".join(KINDS)
            return misused(f"nothing that is printed is called '{word}'", way)
    if options.manifest and options.since is None:
        return misused("--manifest is for --since", "say which revision: --since REV")
    distance = _distance(options.read_from) if options.read_from else None
    if isinstance(distance, str):
        return misused(f"--read-from: {distance}")
    examined = examine(options.job)
    if examined.has_errors:
        tell(examined.problems, options)
        return _nothing()
    try:
        with locked(options.out, waiting=waiting):
            return _print(examined, folder, languages, distance, options)
    except Refused as fault:
        tell(examined.problems, options)
        return misused(fault.sentence, fault.help)


def _print(
    examined: Examined,
    folder: Path | None,
    languages: Sequence[str],
    distance: Metres | None,
    options: argparse.Namespace,
) -> int:
    """With the folder held: what it keeps is read, added to, and written."""
    wish = _wish(options, distance)
    made, more = make_print(
        examined,
        paper=options.paper,
        stocks=options.stock,
        folder=folder,
        languages=languages,
        results=options.results,
        wish=wish,
    )
    if made is None:
        tell((*examined.problems, *more), options)
        return _nothing()
    kept = [name for name in wish.earlier.files if wish.keeps(name)]
    write_set(options.out, made.files, made.manifest, replace=options.replace, kept=kept)
    tell((*examined.problems, *more), options)
    _report(made, options)
    return CLEAN


def _distance(said: str) -> Metres | str:
    """From how far a tag is read; or what is wrong with that."""
    try:
        metres = LENGTH.parse(said).metres
    except Misread as fault:
        return ": ".join(part for part in (fault.sentence, fault.help) if part)
    if not NEAREST <= metres <= FARTHEST:
        return f"a tag is read from {NEAREST:g} to {FARTHEST:g} m, not from {said}"
    return metres


def _wish(options: argparse.Namespace, distance: Metres | None) -> PrintRequest:
    try:
        base = read_manifest(options.manifest) if options.manifest else None
    except FileNotFoundError as fault:
        raise Refused(
            f"there is no '{options.manifest}'", "name the manifest of a print"
        ) from fault
    return PrintRequest(
        selection=Selection(
            only=tuple(options.only),
            boxes=tuple(options.box),
            stations=tuple(options.station),
            controllers=tuple(options.controller),
        ),
        since=options.since,
        earlier=read_log(options.out),
        base=base,
        start=options.start,
        copies=options.copies,
        ink=Ink(options.ink),
        read_from=distance,
        anew=options.replace,
    )


def _report(made: Print, options: argparse.Namespace) -> None:
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
    print("nothing is printed: mend the errors first", file=sys.stderr)
    return ERRORS


def _count(number: int, word: str) -> str:
    return f"{number} {word}{'' if number == 1 else 's'}"
