"""Run one command, and turn what it raises into an exit code."""

from __future__ import annotations

import sys
from collections.abc import Collection
from importlib import import_module
from typing import Any

from cardgen.cli.telling import MISUSED, misused, tell_stages
from cardgen.problems import UserError
from cardgen.reading.shapes import nearest

STOPPED = 130  # as shells have it: 128 and the number of the signal, SIGINT (POSIX)


def run(module: str, *, verbose: bool = False, **given: Any) -> int:
    """The exit code of the command of a module, told what was given."""
    if verbose:
        tell_stages()
    try:
        code = _code(module, given, verbose=verbose)
        sys.stdout.flush()
    except UserError as error:
        return misused(error)
    except BrokenPipeError:
        sys.stderr.close()  # whoever read us has gone; nothing more can be said
        return MISUSED
    return code


def _code(module: str, given: dict[str, Any], *, verbose: bool) -> int:
    """One job by itself; several, or a folder of them, each into a folder of its own."""
    named, jobs = given.pop("job_files", None), given.pop("jobs", 1)
    if named is not None and (len(named) > 1 or named[0].is_dir()):
        many = import_module("cardgen.cli.many_jobs")
        code: int = many.run_many(module, named, given, jobs=jobs, verbose=verbose)
    else:
        if named is not None:
            given["job_file"] = named[0]
        command = import_module(module)
        code = command.run(command.Options(**given))
    return code


def stopped() -> int:
    """Say that somebody typed Ctrl+C; the exit code.  Every command writes whole files or none."""
    print("cardgen: stopped; the files that were there before are whole", file=sys.stderr)
    return STOPPED


def no_command(word: str, commands: Collection[str]) -> int:
    """Say what was meant by a first word that is no command; the exit code."""
    way_out = nearest(word, commands) or f"there are {', '.join(commands)}"
    return misused(UserError(f"there is no command '{word}'", way_out))
