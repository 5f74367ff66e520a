"""`cardgen export JOB --out FILE`: a workbook, a list of stations, or CSV files."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from cardgen.cli.options import JobOptions
from cardgen.cli.shell_words import pasted
from cardgen.cli.telling import CLEAN, ERRORS, say, tell
from cardgen.output.writing import write_new, write_over
from cardgen.problems import CannotWrite, UserError, cannot_write
from cardgen.reading import read_text
from cardgen.results.workbook_file import workbook
from cardgen.workbook.as_exported import AS_EXPORTED
from cardgen.workbook.book_files import csv_file, csv_files
from cardgen.workbook.exporting import ExportedJob, exported


@dataclass(frozen=True, kw_only=True)
class Options(JobOptions):
    out: Path
    replace: bool


def own_place(out: Path, stem: str) -> Path:
    """Of several jobs: for `parks.xlsx` the file `parks/elm.xlsx`, for `parks` the folder in it."""
    return out.with_suffix("") / f"{stem}{out.suffix}"


def refuse(options: Options) -> None:
    """Look at the options alone.

    Raises:
        UserError: if the name after `--out` is none of a spreadsheet.
    """
    ending = options.out.suffix.lower()
    if ending not in (".xlsx", ".csv", ""):
        raise UserError(
            f"'{ending}' is no ending for a spreadsheet",
            "name a file that ends in .xlsx or .csv, or a folder",
        )


def run(options: Options) -> int:
    refuse(options)
    text, problems = read_text(options.job_file)
    if text is None:
        tell(problems, options)
        return ERRORS
    found = exported(text, str(options.job_file))
    if not found.sheets:
        tell(found.problems, options)
        return ERRORS
    write = write_over if options.replace else write_new
    for path, data in _files(options.out, found):
        _make(path.parent)
        write(path, data)
    if found.without and options.out.suffix.lower() != ".csv":
        left_out = " and ".join(f"'{name}'" for name in found.without)
        say(f"without the sheets {left_out}, which need a job without errors: run 'cardgen check'")
    back = f"cardgen import {pasted(options.out)} --into {pasted(options.job_file)}"
    print(f"{options.out} is written. Change it, then: {back}")
    return CLEAN


def _files(out: Path, found: ExportedJob) -> Iterator[tuple[Path, bytes]]:
    """Each file with what goes into it, by the ending of the name."""
    match out.suffix.lower():
        case ".xlsx":
            yield out, workbook(found.sheets, hidden=(AS_EXPORTED,))
        case ".csv":
            yield out, csv_file(found.stations)
        case _:
            yield from ((out / name, data) for name, data in csv_files(found.sheets))


def _make(folder: Path) -> None:
    """Raises:
    CannotWrite: if it cannot be made, or a file is there.
    """
    if folder.exists() and not folder.is_dir():
        raise CannotWrite(f"'{folder}' is a file, not a folder", "name a folder after --out")
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as fault:
        raise cannot_write(folder, fault) from fault
