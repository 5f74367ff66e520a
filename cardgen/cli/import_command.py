"""`cardgen import FILE (--out JOB | --into JOB [--in-place])`: a job of a spreadsheet.

A folder in place of JOB is for a list with several sites.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from cardgen.address import new_record_key
from cardgen.cli.import_sites import change_file, new_site_jobs, nothing_written, update_site_jobs
from cardgen.cli.job_files import ENDINGS
from cardgen.cli.shell_words import pasted
from cardgen.cli.telling import CLEAN, ERRORS, say, tell
from cardgen.output.writing import write_new
from cardgen.problems import UserError
from cardgen.reading import read_text
from cardgen.workbook.book_files import Book, read_book
from cardgen.workbook.change_lines import change_lines
from cardgen.workbook.importing import new_job, update_of
from cardgen.workbook.list_job import NewJob
from cardgen.workbook.sheets_in import is_workbook
from cardgen.workbook.site_books import site_books


@dataclass(frozen=True, kw_only=True)
class Options:
    """Attributes:
    file: the spreadsheet.
    out: a new job; or `into`, one that is there, which is changed only `in_place`; a folder is
        for a job of each site.
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
        if options.out.is_dir() or options.out.suffix.lower() not in ENDINGS:
            return new_site_jobs(book, options.out, options)
        _say_if_several_sites(book, options)
        return _new(book, options.out, options)
    assert options.into is not None  # one of the two must be given
    if options.into.is_dir():
        return update_site_jobs(book, options.into, options, in_place=options.in_place)
    _say_if_several_sites(book, options)
    return _into(book, options.into, options)


def _new(book: Book, out: Path, options: Options) -> int:
    made = new_job(book, NewJob(key=new_record_key()))
    tell(made.problems, options)
    if made.text is None:
        return nothing_written(options)
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
        return nothing_written(options)
    if found.not_listed:
        say(f"not in the list, and left as they are: {', '.join(found.not_listed)}")
    if not found.changes:
        print(f"{job_file} says the same already; nothing is changed.")
        return CLEAN
    if options.in_place:
        change_file(job_file, text, found.changes)
    for line in change_lines(found.changes, found.root):
        print(line)
    if options.in_place:
        print(f"{job_file} is changed. Look it over, then: cardgen check {pasted(job_file)}")
    else:
        print("Nothing is written yet: add --in-place.")
    return CLEAN


def _say_if_several_sites(book: Book, options: Options) -> None:
    """All of them would go into one job, where the stations of one meet those of another."""
    many = 0 if is_workbook(book) else len(site_books(book)[0])
    if many > 1 and options.format != "json":  # whose standard error another program reads
        say(f"the list has {many} sites: name a folder, and each site has a job of its own there")
