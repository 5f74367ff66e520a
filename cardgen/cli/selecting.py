"""The options that say which jobs are done, and of a print which cards, how many, since when."""

from __future__ import annotations

import argparse
from collections.abc import Callable
from pathlib import Path

CHOICES = (
    ("--only", "KIND", "valve-tags, box-tags, wire-flags, door-legend, ... see the manual"),
    ("--box", "BOX", "what belongs in it; or at a controller"),
    ("--station", "STATION", "its tags and flags; also a master valve, relay or single valve"),
    ("--controller", "CONTROLLER", "everything of it"),
)
HANGING = "hanging"
MOST_CARDS, MOST_COPIES, LAST_REVISION = 1000, 99, 10**6
MOST_PROCESSES = 61  # Windows waits for no more at once (the Python library reference)


def add_job_files(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "job_files",
        metavar="JOB",
        type=Path,
        nargs="+",
        help="the job file; of several, or of a folder, each gets its own folder in DIR",
    )
    parser.add_argument(
        "--jobs",
        metavar="N",
        type=number(1, MOST_PROCESSES),
        default=1,
        help="of several jobs, N at once",
    )


def add_selection_options(parser: argparse.ArgumentParser) -> None:
    group = parser.add_argument_group(
        "only what is needed",
        "repeat an option for more of the same; different ones narrow each other",
    )
    for option, what, help_ in CHOICES:
        group.add_argument(option, metavar=what, action="append", default=[], help=help_)
    group.add_argument(
        "--crew",
        metavar="NAME",
        help="one PDF of what a crew takes along to the boxes: tags, then sheets to fill in",
    )
    group.add_argument(
        "--since",
        metavar="REV",
        type=_revision,
        help="what changed since that print, and which tags are stale; "
        f"'{HANGING}': since what is marked by 'cardgen hang'",
    )
    group.add_argument(
        "--manifest", metavar="FILE", type=Path, help="of the print of REV, if it is not in DIR"
    )
    group.add_argument(
        "--start",
        metavar="N",
        type=number(1, MOST_CARDS),
        default=1,
        help="first free card of a part-used sheet, for the first file of tags or flags",
    )
    group.add_argument(
        "--copies",
        metavar="N",
        type=number(1, MOST_COPIES),
        default=1,
        help="of all that is printed",
    )


def _revision(text: str) -> int | str:
    """The number of one, or that which hangs."""
    if text.lower() == HANGING:
        return HANGING
    try:
        return number(0, LAST_REVISION)(text)
    except argparse.ArgumentTypeError as fault:
        raise argparse.ArgumentTypeError(f"{fault}, and not '{HANGING}'") from fault


def number(least: int, most: int) -> Callable[[str], int]:
    """A whole number in that range."""

    def read(text: str) -> int:
        if text.isascii() and text.isdecimal() and least <= int(text[:9]) <= most:
            return int(text)
        raise argparse.ArgumentTypeError(f"'{text}' is not a number from {least} to {most}")

    return read
