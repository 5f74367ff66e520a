"""`cardgen backup DIR --out FILE`: a copy of what crews have entered, also while a server runs."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from cardgen.cli.options import ServerOptions
from cardgen.cli.telling import CLEAN
from cardgen.problems import UserError
from cardgen.server.backup import BackupCounts, back_up
from cardgen.server.data_path import data_of, refuse_inside


@dataclass(frozen=True, kw_only=True)
class Options(ServerOptions):
    out: Path
    replace: bool


def run(options: Options) -> int:
    path = data_of(options.dir, options.data)
    refuse_inside(options.dir, options.out)
    if not path.exists():
        raise UserError(f"there is no '{path}' to copy", "'cardgen serve' makes it")
    copied = back_up(path, options.out, replace=options.replace)
    print(f"{options.out}: {in_words(copied)}")
    tell_spoiled(copied.spoiled)
    return CLEAN


def tell_spoiled(ids: Sequence[str]) -> None:
    """Entries that another program has changed; they are kept, for nobody knows what they were."""
    if not ids:
        return
    many = f"{len(ids)} entries are" if len(ids) > 1 else "1 entry is"
    print(f"cardgen: {many} not what was stored: {', '.join(ids)}", file=sys.stderr)
    print("way out: compare with an older backup; withdraw what is wrong", file=sys.stderr)


def in_words(copied: BackupCounts) -> str:
    """What is in a copy."""
    counts = (
        (copied.entries, "entry", "entries"),
        (copied.photos, "photo", "photos"),
        (copied.crews, "crew", "crews"),
    )
    return ", ".join(f"{number} {one if number == 1 else many}" for number, one, many in counts)
