"""`cardgen backup DIR --out FILE`: a copy of what crews have entered, also while a server runs."""

from __future__ import annotations

import argparse

from cardgen.cli.telling import CLEAN, misused
from cardgen.server.backup import BackupCounts, back_up
from cardgen.server.data_faults import DataFault
from cardgen.server.data_path import data_of, refuse_inside


def run(options: argparse.Namespace) -> int:
    try:
        path = data_of(options.dir, options.data)
        refuse_inside(options.dir, options.out)
        if not path.exists():
            return misused(f"there is no '{path}' to copy", "'cardgen serve' makes it")
        copied = back_up(path, options.out, replace=options.replace)
    except DataFault as fault:
        return misused(fault.sentence, fault.help)
    print(f"{options.out}: {in_words(copied)}")
    return CLEAN


def in_words(copied: BackupCounts) -> str:
    """What is in a copy."""
    counts = (
        (copied.entries, "entry", "entries"),
        (copied.photos, "photo", "photos"),
        (copied.crews, "crew", "crews"),
    )
    return ", ".join(f"{number} {one if number == 1 else many}" for number, one, many in counts)
