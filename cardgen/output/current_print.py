"""Tell whether a folder has the very print that is asked for, so that it need not be made again."""

from __future__ import annotations

import hashlib
from pathlib import Path

from cardgen import __version__
from cardgen.files.exchange import digest_of
from cardgen.light_dataclass import replace
from cardgen.memory.prints import PrintLog, read_log
from cardgen.output.print_request import PrintRequest
from cardgen.problems import UserError


def made_from(job_file: Path, request: PrintRequest) -> str:
    """A digest of all that decides what is printed; empty if some of it cannot be read.

    The program's version, the bytes of the job, of the readings and of the user's own layouts, and
    what was asked for.
    """
    asked = replace(
        request, earlier=PrintLog(), base=None, layouts=None, results=None, replace=False
    )
    whole = hashlib.sha256(f"{__version__}\n{asked!r}\n".encode())
    files = [job_file, *([request.results] if request.results else [])]
    if request.layouts is not None:
        files += sorted(path for path in request.layouts.rglob("*") if path.is_file())
    try:
        for path in files:
            whole.update(f"{path.name}\n{digest_of(path)}\n".encode())
    except OSError:
        return ""
    return whole.hexdigest()


def from_file(job_file: Path, request: PrintRequest) -> PrintRequest:
    """The request with what it is made from, to be asked before the file is read."""
    return replace(request, made_from=made_from(job_file, request))


def is_current(folder: Path, request: PrintRequest) -> bool:
    """Whether the last print into the folder was this one, and its files are as it left them."""
    try:
        log = read_log(folder)
        is_it = bool(request.made_from) and log.made_from == request.made_from
        return is_it and all(digest_of(folder / name) == of for name, of in log.files.items())
    except (OSError, UserError):
        return False
