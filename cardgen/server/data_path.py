"""Say where the data of a record lie: beside its folder, where no web host publishes them."""

from __future__ import annotations

import os
from pathlib import Path

from cardgen.record import HISTORY
from cardgen.server.data_faults import DataFault


def data_of(record: Path, named: Path | None) -> Path:
    """The data file of a record: named, or `web.sqlite` beside `web`.

    Raises:
        DataFault: if that folder is no record, or the file would be published with it.
    """
    if not record.is_dir():
        raise DataFault("other", f"there is no folder '{record}'", "'cardgen record' writes it")
    if (record / HISTORY).exists():
        raise DataFault(
            "other",
            f"'{record}' is the folder of one job, whose name belongs to its address",
            "name the folder that 'cardgen record' was given after --out",
        )
    if not any(HISTORY in files for _, _, files in os.walk(record)):
        raise DataFault(
            "other", f"'{record}' is not a job record", "'cardgen record JOB --out DIR' writes it"
        )
    folder = record.absolute()
    path = named or folder.with_name(f"{folder.name}.sqlite")
    refuse_inside(record, path)
    if path.is_dir():
        raise DataFault("other", f"'{path}' is a folder, not a file", "name a file after --data")
    return path


def refuse_inside(record: Path, path: Path) -> None:
    """What crews enter must not lie where it would be published.

    Raises:
        DataFault: if it would.
    """
    if Path(os.path.realpath(path)).is_relative_to(os.path.realpath(record)):
        raise DataFault(
            "other",
            f"'{path}' is in '{record}', which is published",
            "name a file outside of that folder",
        )
