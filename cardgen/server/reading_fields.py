"""Turn the fields of a form into a reading: where, between what and what, the value, under what."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from cardgen.results import Kind, KnownNames, Measured, value_text
from cardgen.results.measured import NONE_RAN, OL_TEXT
from cardgen.results.reading_ends import (
    columns_of,
    needed_columns,
    needs_valve,
    unknown_names,
    which_ran,
)
from cardgen.results.reading_value import NotAValue, value_read
from cardgen.server.bad_field import BadField
from cardgen.server.entry_conditions import conditions_text
from cardgen.server.job_context import is_place, last_valve
from cardgen.server.jobs import ServedJob
from cardgen.server.shared_terminals import AT_TERMINAL, coils_of
from cardgen.words import Words

# What a value is not, by the name of the text for a crew where that is another than a table's.
_WRONG_VALUE = {"": "value", "never OL": "not ol", "other unit": "unit"}
# By column the name of its field.
FIELD_OF = {"from": "from", "to": "to", "box": "in_box"}


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadingFields:
    """What is kept of them, as `cardgen.server.entries` has it."""

    box: str
    valve: str = ""
    value: str = ""
    start: str = ""
    to: str = ""
    conditions: str = ""


def reading_from(fields: Mapping[str, str], job: ServedJob, words: Words) -> ReadingFields:
    """Fields that its kind does not have are passed over: a plain form sends them all.

    Raises:
        BadField: at the first field that cannot be taken.
    """
    if fields.get("kind", "") not in set(Kind):
        raise BadField("kind")
    kind = Kind(fields["kind"])
    value = _value(fields, kind)
    ends = {c: fields.get(FIELD_OF[c], "") for c in columns_of(kind)}
    if not all(ends[column] for column in needed_columns(kind)):
        raise BadField("ends")
    start, to = ends.get("from", ""), ends.get("to", "")
    valve = _valve(fields, job, kind) if needs_valve(kind, start) else ""
    if to and to in (start, valve, fields.get("valve")) and kind is not Kind.WALK_TEST:
        raise BadField("ends")
    found = ReadingFields(
        box=ends.get("box", "") or _box(fields, job, valve),
        valve=valve,
        value=value_text(value),
        start=start,
        to=which_ran(to, valve, value) if kind is Kind.WALK_TEST else to,
        conditions=conditions_text(fields, words),
    )
    _refuse_unknown_names(found, kind, value, job)
    return found


def _value(fields: Mapping[str, str], kind: Kind) -> float:
    """In the unit of its kind; which valve ran says whether one did."""
    text = OL_TEXT if fields.get("ol") else fields.get("value", "").strip()
    if kind is Kind.WALK_TEST and not text:
        return float(fields.get("to") != NONE_RAN)
    try:
        return value_read(text, kind)
    except NotAValue as fault:
        name = _WRONG_VALUE.get(fault.variant, fault.variant)
        raise BadField(name if text else "no value", **fault.values) from fault


def _valve(fields: Mapping[str, str], job: ServedJob, kind: str) -> str:
    """A terminal with several coils stands for its first."""
    name = fields.get("valve", "")
    coils = next(filter(None, (coils_of(r, name) for r in reversed(job.revisions))), ())
    if coils and kind not in AT_TERMINAL:
        raise BadField("coil", coils=", ".join(coil.id for coil in coils))
    valve = coils[0].id if coils else name
    if last_valve(job, valve) is None:
        raise BadField("valve")
    return valve


def _box(fields: Mapping[str, str], job: ServedJob, valve: str) -> str:
    """Of a valve; of a conductor where one stands."""
    known = last_valve(job, valve)
    if known is not None:
        return known.box
    place = fields.get("place", "")
    return place if any(is_place(revision, place) for revision in job.revisions) else ""


def _refuse_unknown_names(said: ReadingFields, kind: Kind, value: float, job: ServedJob) -> None:
    """As a table of readings is refused for them."""
    measured = Measured(
        id="",
        when="",
        record_key=job.now.key,
        box=said.box,
        valve=said.valve,
        kind=kind,
        value=value,
        start=said.start,
        to=said.to,
        conditions=said.conditions,
    )
    for _, name in unknown_names(measured, KnownNames.of(job.revisions)):
        raise BadField("name", thing=name)
