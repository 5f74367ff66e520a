"""Rows that name what the job does not have, or that are of another job or revision."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from cardgen.faults.result_faults import (
    READING_NAME_UNKNOWN,
    READING_OF_ANOTHER_JOB,
    READING_OF_ANOTHER_REVISION,
    READING_OF_NO_VALVE,
)
from cardgen.problems import Problem
from cardgen.results.csv_in import ReadingRow
from cardgen.results.known_names import KnownNames
from cardgen.results.reading_ends import unknown_names


def unknown_rows(rows: Iterable[ReadingRow], names: KnownNames, key: str = "") -> Iterator[Problem]:
    """What is wrong with them, each at its cell; another revision is told once."""
    told = False
    for row in rows:
        said = row.measured
        if key and said.record_key and said.record_key != key:
            yield READING_OF_ANOTHER_JOB.at(row.places["job"], other=said.record_key, job=key)
            continue
        if said.valve and said.valve not in names.valves:
            yield READING_OF_NO_VALVE.at(row.places["valve"], valve=said.valve)
        for column, name in unknown_names(said, names):
            if column in row.places:
                yield READING_NAME_UNKNOWN.at(row.places[column], name=name)
        if not told and names.revision and row.revision not in ("", str(names.revision)):
            told = True
            yield READING_OF_ANOTHER_REVISION.at(
                row.places["revision"], other=row.revision, revision=names.revision
            )
