"""`cardgen import FILE (--out JOB | --into JOB [--in-place])`: a job of a spreadsheet."""

from __future__ import annotations

import sys
from dataclasses import dataclass
from pathlib import Path

from cardgen.address import new_record_key
from cardgen.cli.shell_words import pasted
from cardgen.cli.telling import CLEAN, ERRORS, say, tell
from cardgen.editing import edited
from cardgen.output.writing import replace_file, write_new
from cardgen.problems import UserError
from cardgen.reading import read_text
from cardgen.reading.files import UTF8_MARK
from cardgen.workbook.book_files import Book, read_book
from cardgen.workbook.change_lines import change_lines
from cardgen.workbook.importing import new_job, update_of


@dataclass(frozen=True, kw_only=True)
class Options:
    """Attributes:
    file: the spreadsheet.
    out: a new job; or `into`, one that is there, which is changed only `in_place`.
    """

    file: Path
    out: Path | None
    into: Path | None
    in_place: bool
    format: str


def run(options: Options) -> int:
    if options.in_place and options.into is None:
        raise UserError("--in-place has nothing to change", "name the job after --into")
    book, problems = read_book(options.file)
    if book is None:
        tell(problems, options)
        return ERRORS
    if options.out is not None:
        return _new(book, options.out, options)
    assert options.into is not None  # one of the two must be given
    return _into(book, options.into, options)


def _new(book: Book, out: Path, options: Options) -> int:
    made = new_job(book, new_record_key())
    tell(made.problems, options)
    if made.text is None:
        return _nothing(options)
    write_new(out, made.text.encode())
    if made.stations:
        many = "station" if made.stations == 1 else "stations"
        print(f"{out} is written, with {made.stations} {many}. The list does not say everything:")
        print(f"what is open has a remark in the file. Then: cardgen check {pasted(out)}")
    else:
        print(f"{out} is written. Look it over, then: cardgen check {pasted(out)}")
    return CLEAN


def _into(book: Book, job_file: Path, options: Options) -> int:
    text, unread = read_text(job_file)
    if text is None:
        tell(unread, options)
        return ERRORS
    found = update_of(book, text, str(job_file))
    tell(found.problems, options)
    if found.changes is None or found.root is None:
        return _nothing(options)
    if found.not_listed:
        say(f"not in the list, and left as they are: {', '.join(found.not_listed)}")
    if not found.changes:
        print(f"{job_file} says the same already; nothing is changed.")
        return CLEAN
    changed = edited(text, found.changes)
    if options.in_place:
        mark = _mark(job_file)
        replace_file(job_file, mark + changed.encode(), expected=mark + text.encode())
    for line in change_lines(found.changes, found.root):
        print(line)
    if options.in_place:
        print(f"{job_file} is changed. Look it over, then: cardgen check {pasted(job_file)}")
    else:
        print("Nothing is written yet: add --in-place.")
    return CLEAN


def _mark(job_file: Path) -> bytes:
    """A byte-order mark at the start of the file is kept."""
    with job_file.open("rb") as stream:
        return UTF8_MARK if stream.read(len(UTF8_MARK)) == UTF8_MARK else b""


def _nothing(options: Options) -> int:
    if options.format != "json":  # whose standard error another program reads
        print("Nothing is written. Correct the cells above first.", file=sys.stderr)
    return ERRORS
