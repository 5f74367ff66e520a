"""Rows that name what the job does not have, or that are of another job or revision."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator

from cardgen.faults.result_faults import (
    READING_NAME_UNKNOWN,
    READING_OF_ANOTHER_JOB,
    READING_OF_ANOTHER_REVISION,
    READING_OF_NO_VALVE,
)
from cardgen.problems import Problem
from cardgen.results.conditions import ALL
from cardgen.results.csv_in import ReadingRow
from cardgen.results.known_names import KnownNames
from cardgen.results.measured import BETWEEN, NONE_RAN, Kind


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
        yield from _unknown_names(row, names)
        if not told and names.revision and row.revision not in ("", str(names.revision)):
            told = True
            yield READING_OF_ANOTHER_REVISION.at(
                row.places["revision"], other=row.revision, revision=names.revision
            )


def _unknown_names(row: ReadingRow, names: KnownNames) -> Iterator[Problem]:
    said = row.measured
    for column, text, known in (
        ("from", said.start, _starts(said.kind, names)),
        ("to", said.to, _ends(said.kind, names)),
        ("box", said.box, names.places),
    ):
        if text and column in row.places and known and text not in known:
            yield READING_NAME_UNKNOWN.at(row.places[column], name=text)
    for sensor in said.under.bypassed:
        if sensor != ALL and sensor not in names.sensors:
            yield READING_NAME_UNKNOWN.at(row.places["conditions"], name=sensor)


def _starts(kind: Kind, names: KnownNames) -> Collection[str]:
    if kind is Kind.COMMON_TO_COMMON:
        return names.controllers
    return {*names.conductors, *names.controllers, *names.valves}


def _ends(kind: Kind, names: KnownNames) -> Collection[str]:
    if kind in (Kind.COMMON_TO_COMMON, Kind.OTHER_COMMON):
        return names.controllers
    if kind in (Kind.HOT_TO_HOT, Kind.WALK_TEST):
        return {*names.valves, *names.stations, NONE_RAN}
    return names.conductors if kind in BETWEEN else ()
