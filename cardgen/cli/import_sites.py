"""`cardgen import FILE (--out FOLDER | --into FOLDER [--in-place])`: a list with several sites."""

from __future__ import annotations

import sys
from collections.abc import Mapping, Sequence
from pathlib import Path

from cardgen.address import new_record_key
from cardgen.cli.job_files import job_files_in, job_files_of
from cardgen.cli.shell_words import pasted
from cardgen.cli.telling import CLEAN, ERRORS, ReportOptions, tell
from cardgen.editing import Change, edited
from cardgen.output.writing import replace_file, write_new
from cardgen.problems import CannotWrite, cannot_write, has_errors, in_order
from cardgen.reading.files import UTF8_MARK
from cardgen.workbook.book_files import Book
from cardgen.workbook.change_lines import change_lines
from cardgen.workbook.importing import ImportedJob, JobUpdate, update_of
from cardgen.workbook.new_sites import new_sites
from cardgen.workbook.site_books import SiteBook
from cardgen.workbook.site_import import sites_and_jobs
from cardgen.workbook.site_jobs import SiteJob, file_names, job_of_site


def new_site_jobs(book: Book, folder: Path, options: ReportOptions) -> int:
    """A job file for each site that has none in the folder yet.

    Raises:
        UserError: if something is in the way of it.
    """
    if folder.exists() and not folder.is_dir():
        raise CannotWrite(f"'{folder}' is a file, not a folder", "name a folder after --out")
    there_now = job_files_in(folder) if folder.is_dir() else ()
    sites, jobs, problems = sites_and_jobs(book, there_now)
    found = new_sites(sites, jobs, new_record_key)
    made, there = found.made, found.there
    told = in_order([*problems, *found.problems])
    tell(told, options)
    if has_errors(told):
        return nothing_written(options)
    _write_all(folder, made)
    for site, job in there.items():
        print(f"{job.path} is there already and stays as it is: {site}")
    if made:
        print(f"{_jobs(len(made))} written. The list does not say everything:")
        print(f"what is open has a remark in each file. Then: cardgen check {pasted(folder)}")
    else:
        print("Each site has its job already; nothing is written. To change them: --into.")
    return CLEAN


def update_site_jobs(book: Book, folder: Path, options: ReportOptions, *, in_place: bool) -> int:
    """What the list changes in the job of each site.

    Raises:
        UserError: if something is in the way of it.
    """
    sites, jobs, problems = sites_and_jobs(book, job_files_of([folder]))
    there = job_of_site(sites, jobs)
    updates = {
        site.site: update_of(site.book, there[site.site].text, str(there[site.site].path))
        for site in sites
        if site.site in there
    }
    told = in_order([*problems, *(p for update in updates.values() for p in update.problems)])
    tell(told, options)
    if has_errors(told):
        return nothing_written(options)
    _print_what_has_no_counterpart(sites, jobs, there, updates)
    changed = {site: update for site, update in updates.items() if update.changes}
    for site, update in changed.items():
        _change(there[site], update, in_place=in_place)
    if not changed:
        print(f"{_jobs(len(updates), 'say')} the same already; nothing is changed.")
    elif in_place:
        print(
            f"{_jobs(len(changed))} changed. Look over each, then: cardgen check {pasted(folder)}"
        )
    else:
        print("Nothing is written yet: add --in-place.")
    return CLEAN


def nothing_written(options: ReportOptions) -> int:
    """Say so; the exit code."""
    if options.format != "json":  # whose standard error another program reads
        print("Nothing is written. Fix the errors above first.", file=sys.stderr)
    return ERRORS


def change_file(job_file: Path, text: str, changes: Sequence[Change]) -> None:
    """Change a file that still has this text; a byte-order mark at its start is kept."""
    with job_file.open("rb") as stream:
        mark = UTF8_MARK if stream.read(len(UTF8_MARK)) == UTF8_MARK else b""
    changed = edited(text, changes)
    replace_file(job_file, mark + changed.encode(), expected=mark + text.encode())


def _write_all(folder: Path, made: Sequence[tuple[SiteBook, ImportedJob]]) -> None:
    try:
        folder.mkdir(parents=True, exist_ok=True)
        taken = [path.name for path in folder.iterdir()]
    except OSError as fault:
        raise cannot_write(folder, fault) from fault
    names = file_names([site.site for site, _ in made], taken)
    for (site, job), name in zip(made, names, strict=True):
        assert job.text is not None  # there are no errors
        write_new(folder / name, job.text.encode())
        print(f"{folder / name}: {site.site}, {_stations(job.stations)}")


def _print_what_has_no_counterpart(
    sites: Sequence[SiteBook],
    jobs: Sequence[SiteJob],
    there: Mapping[str, SiteJob],
    updates: Mapping[str, JobUpdate],
) -> None:
    for site in sites:
        if site.site not in there:
            print(f"no job has the site '{site.site}' yet: import the list with --out to make one")
    listed = {job.path for job in there.values()}
    for job in jobs:
        if job.path not in listed:
            print(f"{job.path} is not in the list, and left as it is: {job.site}")
    for name, update in updates.items():
        if update.not_listed:
            stations = ", ".join(update.not_listed)
            print(f"{there[name].path}: not in the list, and left as they are: {stations}")


def _change(job: SiteJob, update: JobUpdate, *, in_place: bool) -> None:
    assert update.changes is not None and update.root is not None  # there are no errors
    if in_place:
        change_file(job.path, job.text, update.changes)
    print(f"{job.path}:")
    for line in change_lines(update.changes, update.root):
        print(f"  {line}")


def _jobs(many: int, verb: str = "") -> str:
    if many == 1:
        return f"1 job {f'{verb}s' if verb else 'is'}"
    return f"{many} jobs {verb or 'are'}"


def _stations(many: int) -> str:
    return "1 station" if many == 1 else f"{many} stations"
