"""Exchange a set of files in a folder for a new one, so that it cannot be left half done unnoticed.

```
.cardgen-writing/     new files on their way to disk: the folder has the old set
    | one rename: from here on the folder is to have the new set
.cardgen-exchange/    `new/`: all files not yet in their places; `plan.json`: what goes where
    | file by file, then one rename back
.cardgen-writing/     what is left, and taken away
```
Killed at any moment, the next who holds the folder calls `finish`, which does what is left to be
done of the plan, if there is one: it may be killed and begun again itself.  Whoever only reads asks
`is_unfinished`.
"""

from __future__ import annotations

import contextlib
import hashlib
import shutil
from collections.abc import Collection, Iterable, Mapping
from pathlib import Path

from cardgen.files.one import flush, sync_folder
from cardgen.files.sealing import BadSeal, opened, sealed
from cardgen.light_dataclass import dataclass
from cardgen.problems import UserError

WRITING, EXCHANGE = ".cardgen-writing", ".cardgen-exchange"
PLAN, NEW = "plan.json", "new"


@dataclass(frozen=True, slots=True)
class FileChange:
    """One file of the plan.

    Attributes:
        old, new: digests of what is there and of what comes; empty where there is nothing.
    """

    name: str
    old: str
    new: str


def exchange(folder: Path, files: Mapping[str, bytes], gone: Collection[str]) -> None:
    """Put the files into the folder in their order, then take those away that are `gone`.

    The caller holds the folder and has called `finish`; what is there of these names is his to
    replace.  A name may say a subfolder: `VB-1/a.html`.

    Raises:
        OSError: with nothing changed; or, if `is_unfinished` then says so, with some exchanged.
    """
    writing = folder / WRITING
    steps = [
        FileChange(name, digest_of(folder / name), digest(data)) for name, data in files.items()
    ]
    steps += [FileChange(name, digest_of(folder / name), "") for name in gone]
    made: list[Path] = []
    try:
        _stage(writing, files, steps)
        for path in subfolders(folder, files):
            if not path.exists():
                path.mkdir()
                made.append(path)
        writing.rename(folder / EXCHANGE)
    except (OSError, KeyboardInterrupt):
        shutil.rmtree(writing, ignore_errors=True)
        for path in reversed(made):
            with contextlib.suppress(OSError):
                path.rmdir()
        raise
    sync_folder(folder)
    _carry_out(folder, steps)


def is_unfinished(folder: Path) -> bool:
    """Whether its files may be of two sets: an exchange is going on, or was cut short."""
    return (folder / EXCHANGE).exists()


def finish(folder: Path, *, replace: bool = False) -> bool:
    """Bring an exchange that was cut short to its end; whether there was one.  Hold the folder.

    Raises:
        UserError: with nothing changed, if a file was changed by hand since, unless it may be
            replaced; or if one that was to come is gone.
        OSError: if it is still not finished.
    """
    shutil.rmtree(folder / WRITING, ignore_errors=True)
    if not is_unfinished(folder):
        return False
    steps = _plan(folder)
    if not replace:
        _refuse_changed(folder, steps)
    _carry_out(folder, steps)
    return True


def digest(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()


def digest_of(path: Path) -> str:
    """Of what a file holds; empty if there is none."""
    try:
        return digest(path.read_bytes())
    except FileNotFoundError:
        return ""


def _stage(writing: Path, files: Mapping[str, bytes], steps: Iterable[FileChange]) -> None:
    """All that the exchange needs, on disk."""
    if writing.exists():
        shutil.rmtree(writing)
    (writing / NEW).mkdir(parents=True)
    plan = sealed({"steps": [[step.name, step.old, step.new] for step in steps]})
    staged = {PLAN: plan, **{f"{NEW}/{name}": data for name, data in files.items()}}
    for name, data in staged.items():
        path = writing / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(data)
        flush(path)
    _sync(writing, staged)


def subfolders(folder: Path, names: Iterable[str]) -> list[Path]:
    """Each folder inside that one that the names say, outer ones first."""
    inside = {parent for name in names for parent in (folder / name).parents}
    return sorted(each for each in inside if folder in each.parents)


def _carry_out(folder: Path, steps: Collection[FileChange]) -> None:
    """Do what is not done yet; what has been exchanged already has no new file waiting."""
    for step in steps:
        path, waiting = folder / step.name, folder / EXCHANGE / NEW / step.name
        if not step.new:
            if digest_of(path) == step.old:
                path.unlink(missing_ok=True)
        elif waiting.exists():
            path.parent.mkdir(parents=True, exist_ok=True)
            waiting.replace(path)
    _sync(folder, (step.name for step in steps))
    (folder / EXCHANGE).rename(folder / WRITING)
    sync_folder(folder)
    shutil.rmtree(folder / WRITING, ignore_errors=True)


def _plan(folder: Path) -> list[FileChange]:
    try:
        return [
            FileChange(*each) for each in opened((folder / EXCHANGE / PLAN).read_bytes())["steps"]
        ]
    except (FileNotFoundError, BadSeal, KeyError, TypeError) as fault:
        raise UserError(
            f"files are missing in '{folder / EXCHANGE}', so the writing that was cut short cannot "
            "be finished",
            "put the folder back from a copy, or write into a new one",
        ) from fault


def _refuse_changed(folder: Path, steps: Iterable[FileChange]) -> None:
    for step in steps:
        path, there = folder / step.name, digest_of(folder / step.name)
        comes = step.new and digest_of(folder / EXCHANGE / NEW / step.name) == step.new
        if comes and there not in ("", step.old, step.new):
            raise UserError(
                f"'{path}' was changed since a writing into '{folder}' was cut short",
                "move it away, or add --replace; then what was cut short is finished first",
            )
        if step.new and not comes and there == step.old != step.new:
            raise UserError(
                f"what was to come in the place of '{path}' is gone: a writing into '{folder}' was "
                "cut short and cannot be finished",
                "add --replace, or write into a new folder",
            )


def _sync(folder: Path, names: Iterable[str]) -> None:
    for each in sorted({(folder / name).parent for name in names} | {folder}):
        sync_folder(each)
