"""Turn the fields of a form into an entry, or into what is wrong with them, in words of a crew."""

from __future__ import annotations

import json
import re
from collections.abc import Mapping, Sequence

from cardgen.reading.nodes import short
from cardgen.results import Kind, Measured, value_of
from cardgen.results.csv_in import is_id
from cardgen.results.reading_date import is_when
from cardgen.server.bad_field import BadField
from cardgen.server.entries import CrewEntry, StoredEntry, by_measuring, counting
from cardgen.server.job_context import is_place
from cardgen.server.jobs import ServedJob
from cardgen.server.moments import is_ahead, measured_moment
from cardgen.server.reading_fields import ReadingFields, reading_from
from cardgen.server.store import Store
from cardgen.trade.private_text import private
from cardgen.words import Words

DIFFERENCE = "difference"  # what is otherwise on site than the tag says
NOTES_MOST = 600  # letters
BY_MOST = 40
# Control characters, which no form of a browser sends and no CSV file may hold.
_UNTYPED = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x84\x86-\x9f\ufffe\uffff\ud800-\udfff]")


def entry_from(
    fields: Mapping[str, str],
    job: ServedJob,
    words: Words,
    crew: str,
    *,
    photo: bool,
    now_s: int,
) -> CrewEntry:
    """The entry that these fields say.

    Args:
        words: of the form.
        now_s: seconds since 1970, after which nothing that was written on paper can be.

    Raises:
        BadField: at the first field that cannot be taken.
    """
    kind = fields.get("kind", "")
    is_difference = kind == DIFFERENCE
    said = (
        ReadingFields(box=_place(fields, job))
        if is_difference
        else reading_from(fields, job, words)
    )
    notes = text_of(fields.get("notes", ""))
    if is_difference and not notes and not photo:
        raise BadField("nothing said")
    id_, day = fields.get("id", "").lower(), fields.get("day", "")
    when = day or fields.get("when", "")
    if not is_id(id_) or (when and not is_when(when)):
        raise BadField("form")
    if day and is_ahead(day, now_s):
        raise BadField("day")
    by = fields.get("by", "")
    if len(by) > BY_MOST or not by.isprintable():
        raise BadField("form")
    return CrewEntry(
        id=id_,
        record_key=job.now.key,
        box=said.box,
        valve=said.valve,
        kind=kind,
        value=said.value,
        notes=notes,
        crew=crew,
        said_at=when,
        more=more(
            by if by != crew else "", start=said.start, to=said.to, conditions=said.conditions
        ),
    )


def _place(fields: Mapping[str, str], job: ServedJob) -> str:
    box = fields.get("box", "")
    if not any(is_place(revision, box) for revision in job.revisions):
        raise BadField("place")
    return box


def text_of(typed: str) -> str:
    """What a person wrote, as it is kept.

    Raises:
        BadField: if it is too long, or what nobody should keep.
    """
    notes = typed.replace("\r\n", "\n").strip()
    if len(notes) > NOTES_MOST:
        raise BadField("notes long", most=str(NOTES_MOST))
    if _UNTYPED.search(notes):
        raise BadField("form")
    found = private(notes)
    if found:
        raise BadField("private", words=short(found.words))
    return notes


def more(by: str, **further: str) -> str:
    """JSON of who measured, where another crew has sent it, and of what some kinds say besides."""
    return json.dumps({name: text for name, text in {"by": by, **further}.items() if text})


# ---- entries as measured values ------------------------------------------------------------


def measured_of(entry: StoredEntry) -> Measured:
    """A reading as `cardgen.results` knows it."""
    value = value_of(entry.value)
    assert value is not None  # it was looked at before it was stored
    return Measured(
        id=entry.id,
        when=when(entry),
        record_key=entry.record_key,
        box=entry.box,
        valve=entry.valve,
        kind=Kind(entry.kind),
        value=value,
        by=by(entry),
        notes=entry.notes,
        withdrawn=withdrawn(entry),
        **_further(entry),
    )


def _further(entry: StoredEntry) -> dict[str, str]:
    """What some kinds say besides, where they came from a table."""
    said = json.loads(entry.more)
    return {name: str(said[name]) for name in ("start", "to", "conditions") if name in said}


def readings_that_count(store: Store, record_key: str) -> tuple[Measured, ...]:
    """All that were not withdrawn, oldest first by when they were measured."""
    return tuple(measured_of(entry) for entry in counting(store, record_key) if is_reading(entry))


def newest(store: Store, record_key: str, valves: Sequence[str] = ()) -> tuple[StoredEntry, ...]:
    """Of all readings at these valves, or at each, the last *measured* of one thing, oldest first.

    What was withdrawn does not count; of one moment the last that came in does.
    """
    readings = filter(is_reading, counting(store, record_key, valves))
    return by_measuring({measured_of(entry).subject: entry for entry in readings}.values())


def is_reading(entry: CrewEntry) -> bool:
    return entry.kind in set(Kind)


def when(entry: StoredEntry) -> str:
    """When it was measured, without seconds; a clock that is ahead is not believed."""
    return measured_moment(entry.said_at, entry.received_at)


def withdrawn(entry: StoredEntry) -> str:
    """Who has withdrawn it, and why; empty while it counts."""
    ending = entry.ending
    return f"{ending.who}: {ending.why}" if ending else ""


def by(entry: CrewEntry) -> str:
    """Who measured: whoever sent it, unless it says another name."""
    said = json.loads(entry.more).get("by")
    return str(said) if said else entry.crew
