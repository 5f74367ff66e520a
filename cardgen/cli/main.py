"""Turn a command line into one command, and its result into an exit code.

Exit 0: done, the job has no errors.  1: errors in the job.  2: used wrongly, or nothing could be
written.  130: stopped by Ctrl+C.  Results go to standard output, problems to standard error.
"""

from __future__ import annotations

from collections.abc import Sequence
from importlib import import_module
from types import ModuleType

from cardgen.cli.parser import parser_of_all

# Each command is a module with `Options`, what it is told, and `run(options)`, its exit code. It is
# imported when it is needed, so that `--help` waits for none of them.
COMMANDS = {
    "new": "cardgen.cli.new_command",
    "check": "cardgen.cli.check_command",
    "trace": "cardgen.cli.trace_command",
    "allot": "cardgen.cli.allot_command",
    "export": "cardgen.cli.export_command",
    "import": "cardgen.cli.import_command",
    "print": "cardgen.cli.print_command",
    "hang": "cardgen.cli.hang_command",
    "diagnose": "cardgen.cli.diagnose_command",
    "stock": "cardgen.cli.stock_command",
    "record": "cardgen.cli.record_command",
    "desk": "cardgen.cli.desk_command",
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
    except KeyboardInterrupt:
        code: int = _running().stopped()
        return code


def _run(argv: Sequence[str]) -> int:
    code: int
    if argv and not argv[0].startswith("-") and argv[0] not in COMMANDS:
        code = _running().no_command(argv[0], COMMANDS)
        return code
    given = vars(parser_of_all().parse_args(argv))
    code = _running().run(COMMANDS[given.pop("command")], **given)
    return code


def _running() -> ModuleType:
    return import_module("cardgen.cli.exit_code")
