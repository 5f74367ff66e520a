"""`cardgen restore FILE DIR`: put a backup in place; what was there is kept under another name."""

from __future__ import annotations

import argparse
import time

from cardgen.cli.backup_command import in_words
from cardgen.cli.telling import CLEAN, misused
from cardgen.server.backup import restore
from cardgen.server.data_faults import DataFault
from cardgen.server.data_path import data_of


def run(options: argparse.Namespace) -> int:
    try:
        path = data_of(options.dir, options.data)
        copied, kept = restore(options.file, path, now=int(time.time()))
    except DataFault as fault:
        return misused(fault.sentence, fault.help)
    print(f"{path}: {in_words(copied)}")
    if kept is not None:
        print(f"what was there is kept as {kept}")
    print("crews must log in again")
    return CLEAN
