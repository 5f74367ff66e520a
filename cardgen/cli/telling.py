"""What all commands share: exit codes, and telling problems on standard error."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Sequence

from cardgen.cli import messages
from cardgen.examine import Examined
from cardgen.problems import Problem
from cardgen.reading import read_text

CLEAN, ERRORS, MISUSED = 0, 1, 2


def exit_code(examined: Examined) -> int:
    return ERRORS if examined.has_errors else CLEAN


def tell(problems: Sequence[Problem], options: argparse.Namespace) -> None:
    """Problems in the wanted format; a file that cannot be read is shown without its lines."""
    if not problems:
        return
    if options.format == "json":
        text = messages.as_json(problems)
    elif options.format == "short":
        text = messages.as_short(problems)
    else:
        text = messages.as_text(problems, read_text(options.job)[0] or "") + "\n"
    print(text, file=sys.stderr)


def misused(sentence: str, help_: str = "") -> int:
    """Say how the command was used wrongly; the exit code for it."""
    print(f"cardgen: {sentence}", file=sys.stderr)
    if help_:
        print(f"help: {help_}", file=sys.stderr)
    return MISUSED
