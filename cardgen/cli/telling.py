"""What all commands share: exit codes, and telling problems on standard error."""

from __future__ import annotations

import logging
import os
import sys
from collections.abc import Sequence
from itertools import groupby
from pathlib import Path
from typing import Protocol

from cardgen.cli import messages
from cardgen.examine import Examined
from cardgen.problems import Problem, UserError
from cardgen.reading import read_text
from cardgen.reading.shapes import nearest
from cardgen.stages import LOGGER
from cardgen.words import languages

CLEAN, ERRORS, MISUSED = 0, 1, 2
MOST_LANGUAGES = 2  # on one card


class ReportOptions(Protocol):
    """Options of a command that shows problems."""

    @property
    def format(self) -> str: ...


def tell_stages() -> None:
    """Each stage on standard error as it begins."""
    LOGGER.addHandler(logging.StreamHandler(sys.stderr))
    LOGGER.setLevel(logging.INFO)


def exit_code(examined: Examined) -> int:
    return ERRORS if examined.has_errors else CLEAN


def tell(problems: Sequence[Problem], options: ReportOptions) -> None:
    """Problems in the wanted format; a file that cannot be read is shown without its lines.

    What the job says is known is left out, but for other programs.
    """
    if options.format != "json":
        problems = [problem for problem in problems if not problem.known]
    if not problems:
        return
    if options.format == "json":
        text = messages.as_json(problems)
    elif options.format == "short":
        text = messages.as_short(problems)
    else:
        parts = groupby(problems, key=lambda problem: problem.span.file)
        text = (
            "\n\n".join(messages.as_text(list(some), _source(file)) for file, some in parts) + "\n"
        )
    print(text, file=sys.stderr)


def _source(file: str) -> str:
    return read_text(Path(file))[0] or ""


def layouts_folder(named: Path | None) -> Path | None:
    """The folder of a user's own layouts, named or in $CARDGEN_LAYOUTS.

    Raises:
        UserError: if it is no such folder.
    """
    folder = named or Path(os.environ.get("CARDGEN_LAYOUTS", ""))
    if folder == Path():
        return None
    if not any((folder / name).is_dir() for name in ("stock", "faces", "words")):
        raise UserError(f"'{folder}' has no folder 'stock', 'faces' or 'words' in it")
    return folder


def chosen_languages(typed: str, folder: Path | None) -> tuple[str, ...]:
    """The languages of a card.

    Raises:
        UserError: if they are not known, or more than two.
    """
    found = known_languages(typed, folder)
    if len(found) > MOST_LANGUAGES:
        raise UserError(f"a card has room for two languages, not for {len(found)}")
    return found


def known_languages(typed: str, folder: Path | None) -> tuple[str, ...]:
    """The languages of `en,es`, each once.

    Raises:
        UserError: at the first that is not known.
    """
    found = tuple(dict.fromkeys(part.strip() for part in typed.split(",")))
    known = languages(folder)
    strange = next((name for name in found if name not in known), None)
    if strange is not None:
        raise UserError(f"no language is called '{strange}'", f"there are {', '.join(known)}")
    return found


def no_stock(name: str, known: Sequence[str]) -> UserError:
    """The way out is what begins like it, or what is spelt like it."""
    alike = [one for one in known if one.startswith(name)]
    way_out = nearest(name, known) or "'cardgen stock' lists them all"
    return UserError(
        f"no stock is called '{name}'", "there are " + ", ".join(alike) if alike else way_out
    )


def say(sentence: str) -> None:
    """Say what is being done that nobody asked for, or why nothing seems to happen."""
    print(f"cardgen: {sentence}", file=sys.stderr)


def misused(error: UserError) -> int:
    """Say how a command was used wrongly, or why nothing could be written; the exit code."""
    print(f"cardgen: {error.sentence}", file=sys.stderr)
    if error.help:
        print(f"way out: {error.help}", file=sys.stderr)
    return MISUSED
