"""`cardgen restore FILE DIR`: put a backup in place; what was there is kept under another name."""

from __future__ import annotations

import time
from dataclasses import dataclass
from pathlib import Path

from cardgen.cli.backup_command import in_words, tell_spoiled
from cardgen.cli.options import ServerOptions
from cardgen.cli.telling import CLEAN
from cardgen.server.backup import restore
from cardgen.server.data_path import data_of


@dataclass(frozen=True, kw_only=True)
class Options(ServerOptions):
    """Attributes:
    file: what `cardgen backup` wrote.
    """

    file: Path


def run(options: Options) -> int:
    path = data_of(options.dir, options.data)
    copied, kept = restore(options.file, path, now_s=int(time.time()))
    print(f"{path}: {in_words(copied)}")
    if kept is not None:
        print(f"what was there is kept as {kept}")
    tell_spoiled(copied.spoiled)
    print("crews must log in again")
    return CLEAN
