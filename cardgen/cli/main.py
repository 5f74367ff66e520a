"""Turn a command line into one command, and its result into an exit code.

Exit 0: done, the job has no errors.  1: errors in the job.  2: used wrongly, or nothing could be
written.  Results go to standard output, problems to standard error.
"""

from __future__ import annotations

import sys
from collections.abc import Sequence
from importlib import import_module

from cardgen.cli.parser import parser_of_all
from cardgen.problems import UserError

MISUSED = 2

# Each command is a module with `Options`, what it is told, and `run(options)`, its exit code. It is
# imported when it is needed, so that `--help` waits for none of them.
COMMANDS = {
    "new": "cardgen.cli.new_command",
    "check": "cardgen.cli.check_command",
    "trace": "cardgen.cli.trace_command",
    "allot": "cardgen.cli.allot_command",
    "print": "cardgen.cli.print_command",
    "stock": "cardgen.cli.stock_command",
    "record": "cardgen.cli.record_command",
    "serve": "cardgen.cli.serve_command",
    "pin": "cardgen.cli.pin_command",
    "backup": "cardgen.cli.backup_command",
    "restore": "cardgen.cli.restore_command",
    "explain": "cardgen.cli.explain_command",
    "manual": "cardgen.cli.manual_command",
}


def main(argv: Sequence[str]) -> int:
    """Run one command; the exit code."""
    try:
        return _run(argv)
    except UserError as error:
        print(f"cardgen: {error.sentence}", file=sys.stderr)
        if error.help:
            print(f"help: {error.help}", file=sys.stderr)
        return MISUSED


def _run(argv: Sequence[str]) -> int:
    """The exit code of the command.

    Raises:
        UserError: if it was used wrongly, or nothing could be written.
    """
    if argv and not argv[0].startswith("-") and argv[0] not in COMMANDS:
        raise _no_command(argv[0])
    given = vars(parser_of_all().parse_args(argv))
    command = import_module(COMMANDS[given.pop("command")])
    if given.pop("verbose", False):
        import_module("cardgen.cli.telling").tell_stages()
    try:
        code: int = command.run(command.Options(**given))
        sys.stdout.flush()
    except BrokenPipeError:
        sys.stderr.close()  # whoever read us has gone; nothing more can be said
        return MISUSED
    return code


def _no_command(word: str) -> UserError:
    nearest = import_module("cardgen.reading.shapes").nearest
    way_out = nearest(word, COMMANDS) or f"there are {', '.join(COMMANDS)}"
    return UserError(f"there is no command '{word}'", way_out)
