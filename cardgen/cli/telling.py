"""What all commands share: exit codes, and telling problems on standard error."""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Sequence
from itertools import groupby
from pathlib import Path

from cardgen.cli import messages
from cardgen.examine import Examined
from cardgen.problems import Problem
from cardgen.reading import read_text
from cardgen.reading.shapes import nearest
from cardgen.words import languages

CLEAN, ERRORS, MISUSED = 0, 1, 2
MOST_LANGUAGES = 2  # on one card


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
        parts = groupby(problems, key=lambda problem: problem.span.file)
        text = "\n\n".join(messages.as_text(some, _source(file)) for file, some in parts) + "\n"
    print(text, file=sys.stderr)


def _source(file: str) -> str:
    return read_text(Path(file))[0] or ""


def layouts_folder(named: Path | None) -> Path | str | None:
    """The folder of one's own layouts, named or in $CARDGEN_LAYOUTS; or what is wrong."""
    folder = named or Path(os.environ.get("CARDGEN_LAYOUTS", ""))
    if folder == Path():
        return None
    if not any((folder / name).is_dir() for name in ("stock", "faces", "words")):
        return f"'{folder}' has no folder 'stock', 'faces' or 'words' in it"
    return folder


def chosen_languages(said: str, folder: Path | None) -> tuple[str, ...] | str:
    """The languages of a card, two at the most; or what is wrong."""
    found = known_languages(said, folder)
    if not isinstance(found, str) and len(found) > MOST_LANGUAGES:
        return f"a card has room for two languages, not for {len(found)}"
    return found


def known_languages(said: str, folder: Path | None) -> tuple[str, ...] | str:
    """The languages of `en,es`, each once; or what is wrong."""
    found = tuple(dict.fromkeys(part.strip() for part in said.split(",")))
    known = languages(folder)
    strange = next((name for name in found if name not in known), None)
    if strange is not None:
        return f"no language is called '{strange}': there are {', '.join(known)}"
    return found


def misused(sentence: str, help_: str = "") -> int:
    """Say how the command was used wrongly; the exit code for it."""
    print(f"cardgen: {sentence}", file=sys.stderr)
    if help_:
        print(f"help: {help_}", file=sys.stderr)
    return MISUSED


def no_such(name: str, known: Sequence[str]) -> str:
    """The way out for a stock that is not there: what begins like it, or what is spelt like it."""
    alike = [one for one in known if one.startswith(name)]
    if alike:
        return "there are " + ", ".join(alike)
    return nearest(name, known) or "'cardgen stock' lists them all"


def waiting(folder: Path) -> None:
    """Say why nothing seems to happen."""
    print(f"cardgen: another cardgen is writing into '{folder}': waiting", file=sys.stderr)
