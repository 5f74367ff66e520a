"""Run one command, and turn what it raises into an exit code."""

from __future__ import annotations

import sys
from collections.abc import Collection
from importlib import import_module
from typing import Any

from cardgen.cli.telling import tell_stages
from cardgen.problems import UserError
from cardgen.reading.shapes import nearest

MISUSED = 2
STOPPED = 130  # as shells have it: 128 and the number of the signal, SIGINT (POSIX)


def run(module: str, *, verbose: bool = False, **given: Any) -> int:
    """The exit code of the command of a module, told what was given."""
    command = import_module(module)
    if verbose:
        tell_stages()
    try:
        code: int = command.run(command.Options(**given))
        sys.stdout.flush()
    except UserError as error:
        return misused(error)
    except BrokenPipeError:
        sys.stderr.close()  # whoever read us has gone; nothing more can be said
        return MISUSED
    return code


def stopped() -> int:
    """Say that somebody typed Ctrl+C; the exit code.  Every command writes whole files or none."""
    print("cardgen: stopped; the files that were there before are whole", file=sys.stderr)
    return STOPPED


def no_command(word: str, commands: Collection[str]) -> int:
    """Say what was meant by a first word that is no command; the exit code."""
    way_out = nearest(word, commands) or f"there are {', '.join(commands)}"
    return misused(UserError(f"there is no command '{word}'", way_out))


def misused(error: UserError) -> int:
    """Say how a command was used wrongly, or why nothing could be written; the exit code."""
    print(f"cardgen: {error.sentence}", file=sys.stderr)
    if error.help:
        print(f"way out: {error.help}", file=sys.stderr)
    return MISUSED
