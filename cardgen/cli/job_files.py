"""Find the job files that several names and folders on a command line mean, and where each goes."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from pathlib import Path

from cardgen.problems import UserError

ENDINGS = (".yaml", ".yml")


def job_files_of(named: Sequence[Path]) -> tuple[Path, ...]:
    """Each once: a file as it is named, of a folder the job files in it by name.

    Raises:
        UserError: if a folder has none, or cannot be read.
    """
    found: dict[Path, Path] = {}
    for path in named:
        for job_file in _in_folder(path) if path.is_dir() else (path,):
            found.setdefault(job_file.resolve(), job_file)
    return tuple(found.values())


def _in_folder(folder: Path) -> list[Path]:
    files = job_files_in(folder)
    if not files:
        raise UserError(
            f"there is no job file in '{folder}'", "a job file has a name that ends in .yaml"
        )
    return files


def job_files_in(folder: Path) -> list[Path]:
    """By name; none where there are none.

    Raises:
        UserError: if the folder cannot be read.
    """
    try:
        entries = sorted(folder.iterdir(), key=lambda path: path.name)
    except OSError as fault:
        reason = (fault.strerror or str(fault)).lower()
        raise UserError(f"'{folder}' cannot be read: {reason}", "name the job files") from fault
    jobs = [p for p in entries if p.suffix.lower() in ENDINGS and p.name[0] != "."]
    return [path for path in jobs if path.is_file()]


def own_folder(out: Path, stem: str) -> Path:
    """In `out`, named like the job file."""
    return out / stem


def places_for(
    job_files: Sequence[Path], out: Path, place: Callable[[Path, str], Path] = own_folder
) -> Mapping[Path, Path]:
    """By job file what is made of it: a folder, or a file, of its own.

    Raises:
        UserError: if two would meet, also where a disk takes capitals and small letters for one.
    """
    first: dict[str, Path] = {}
    for job_file in job_files:
        other = first.setdefault(job_file.stem.casefold(), job_file)
        if other is not job_file:
            raise UserError(
                f"'{other}' and '{job_file}' would both be written into "
                f"'{place(out, job_file.stem)}'",
                "give one of them another name, or name one at a time with its own --out",
            )
    return {job_file: place(out, job_file.stem) for job_file in job_files}
