"""`cardgen allot JOB [--out FILE | --in-place]`: conductors for the stations that name none."""

from __future__ import annotations

import sys
from dataclasses import dataclass
from pathlib import Path

from cardgen.allot import Allotment, allot
from cardgen.cli import allotments
from cardgen.cli.options import JobOptions
from cardgen.cli.shell_words import pasted
from cardgen.cli.telling import CLEAN, ERRORS, tell
from cardgen.output.writing import replace_file, write_new
from cardgen.reading import read_text
from cardgen.reading.files import UTF8_MARK


@dataclass(frozen=True, kw_only=True)
class Options(JobOptions):
    """Attributes:
    out: a new file for the job with its conductors; or `in_place`, over the old one.
    """

    out: Path | None
    in_place: bool


def run(options: Options) -> int:
    text, problems = read_text(options.job_file)
    if text is None:
        tell(problems, options)
        return ERRORS
    found = allot(text, str(options.job_file))
    if found.text is None:
        _show(found, options)
        tell(found.problems, options)
        if options.format != "json":  # whose standard error another program reads
            print("No wires assigned. Fix the errors above first.", file=sys.stderr)
        return ERRORS
    message = _write(found, text, options)  # first, so that a closed pipe does not prevent it
    _show(found, options)
    if options.format != "json":
        print(message)
    return CLEAN


def _show(found: Allotment, options: Options) -> None:
    if options.format == "json":
        print(allotments.as_json(found))
    elif found.legs:
        print(allotments.as_text(found))


def _write(found: Allotment, old: str, options: Options) -> str:
    """Write the new job where it is wanted; a sentence that says where it is."""
    assert found.text is not None
    if not found.ways and not options.out:
        return "Every station has its hot already; nothing is changed."
    if options.out:
        write_new(options.out, _bytes(found.text, options))
        return f"{options.out} is written. Look it over, then: cardgen check {pasted(options.out)}"
    if options.in_place:
        name = options.job_file
        replace_file(name, _bytes(found.text, options), expected=_bytes(old, options))
        return f"{name} is changed. Look it over, then: cardgen check {pasted(name)}"
    return "Nothing is written yet: add --in-place, or --out FILE for a new file."


def _bytes(text: str, options: Options) -> bytes:
    """As it lay in the file: a byte-order mark at its start is kept."""
    with options.job_file.open("rb") as stream:
        mark = UTF8_MARK if stream.read(len(UTF8_MARK)) == UTF8_MARK else b""
    return mark + text.encode()
