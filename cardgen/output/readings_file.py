"""Turn a CSV file of readings into those of one job, or into what is wrong with it."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from cardgen.problems import Problem, UserError, in_order
from cardgen.results import (
    KnownNames,
    Measured,
    oldest_first,
    read_results,
    unknown_rows,
    value_text,
)


def readings_in(
    path: Path, names: KnownNames, key: str
) -> tuple[tuple[Measured, ...], tuple[Problem, ...]]:
    """Every value that is sound, in the order of the file.

    Args:
        names: those that the job has, or had.
        key: of the job's record.

    Raises:
        UserError: if the file cannot be read.
    """
    try:
        data = path.read_bytes()
    except OSError as fault:
        sentence = f"'{path}' cannot be read: {(fault.strerror or str(fault)).lower()}"
        raise UserError(
            sentence, "name the CSV file or spreadsheet of readings after --results"
        ) from fault
    rows, problems = read_results(data, str(path))
    faults = in_order((*problems, *unknown_rows(rows, names, key)))
    return tuple(row.measured for row in rows), faults


def newest_of(measured: Iterable[Measured]) -> dict[str, dict[str, str]]:
    """As `Printable.measured` wants them: by valve and kind the newest, with the newest date."""
    found: dict[str, dict[str, str]] = {}
    for each in oldest_first(measured):
        if not each.valve or each.start:
            continue  # of a conductor: no row of the sheet is for it
        read = found.setdefault(each.valve, {})
        read |= {each.kind: value_text(each.value), "when": each.when[: len("2026-03-14")]}
    return found
