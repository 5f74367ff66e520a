"""`cardgen hang DIR`: say that what was printed there hangs now, as the desk's button does."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from cardgen.cli.telling import CLEAN, misused
from cardgen.memory.prints import MANIFEST, NotOfPrints, read_log
from cardgen.output.hung_marks import HungMark, mark_hung
from cardgen.problems import UserError


@dataclass(frozen=True, kw_only=True)
class Options:
    """Attributes:
    folders: of prints, or folders that have such in them.
    revision: None for the newest that was printed.
    take_back: it does not hang.
    """

    folders: Sequence[Path]
    revision: int | None
    take_back: bool


def run(options: Options) -> int:
    """One folder that cannot be marked stops no other; the worst exit code of all."""
    folders = [found for named in options.folders for found in _prints_in(named)]
    codes = [_mark(folder, options) for folder in dict.fromkeys(folders)]
    return max(codes)


def _mark(folder: Path, options: Options) -> int:
    try:
        mark = mark_hung(folder, options.revision, hangs=not options.take_back)
    except UserError as error:
        return misused(error)
    print(f"{folder}: revision {mark.revision} of {mark.job_code} {_said(mark, options)}")
    return CLEAN


def _said(mark: HungMark, options: Options) -> str:
    if options.take_back:
        return "was not marked as hanging" if mark.was_so else "does not hang any more"
    return "was marked as hanging already" if mark.was_so else "hangs now"


def _prints_in(named: Path) -> list[Path]:
    """The folder itself, or the print folders in it, by name.

    Raises:
        UserError: if nothing was printed there.
    """
    if (named / MANIFEST).is_file():
        return [named]
    try:
        inside = sorted(path for path in named.iterdir() if (path / MANIFEST).is_file())
    except OSError as fault:
        reason = (fault.strerror or str(fault)).lower()
        raise UserError(f"'{named}' cannot be read: {reason}", _WAY_OUT) from fault
    found = [path for path in inside if _has_prints(path)]
    if not found:
        raise UserError(f"nothing was printed into '{named}'", _WAY_OUT)
    return found


_WAY_OUT = "name the folder after --out of 'cardgen print', or one with such folders in it"


def _has_prints(folder: Path) -> bool:
    """A job record is none; a manifest that cannot be relied on is told when it is marked."""
    try:
        read_log(folder)
    except NotOfPrints:
        return False
    except UserError:
        return True
    return True
