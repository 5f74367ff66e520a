"""Keep what every published revision said, and find what changed for a box since one of them."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, fields, replace
from typing import Any

from cardgen.memory.codec import Unfit, dumped, loaded
from cardgen.record.format_1 import upgraded
from cardgen.record.model import Band, Box, Revision, Spare, Valve
from cardgen.results import Kind, Measured, oldest_first, value_of, value_text

FORMAT = 2
# What a crew need not be told: it follows from what it is told, or is the same in other words.
_QUIET = {"id", "box", "hot_way", "back_way", "beside", "ring", "coil"}


# What stands on no tag.
_BESIDE = {
    *("joints", "passing", "capped", "neighbours", "ties", "coordinates", "size"),
    *("notes", "volts", "milliamperes"),
}
# What is kept of a value beside it: the valve says the box, the folder the job.
_OF_RESULT = ("id", "when", "valve", "kind")


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """One thing that is otherwise than it was.

    Attributes:
        what: the field of a box or of a valve, or `gone`, `new`, `came`, `left`.
        valve: whose; empty where it is the box itself.
        before, after: the values; for a valve that moved, the boxes.
    """

    what: str
    valve: str = ""
    before: object = None
    after: object = None

    @property
    def is_on_tags(self) -> bool:
        return self.what not in _BESIDE


@dataclass(frozen=True, slots=True, kw_only=True)
class History:
    """All that was published of a job.

    Attributes:
        revisions: oldest first.
        languages: of the pages, by their tags; the first lies at the printed addresses.
        results: what crews measured, oldest first, without who it was and what they noted: the
            folder of a record is open to whoever has its address.
    """

    revisions: tuple[Revision, ...] = ()
    languages: tuple[str, ...] = ()
    results: tuple[Measured, ...] = ()

    def with_revision(self, new: Revision) -> History:
        """The same with a revision more, in the place of one with its number."""
        others = [r for r in self.revisions if r.revision != new.revision]
        return replace(self, revisions=tuple(sorted((*others, new), key=lambda r: r.revision)))

    def with_results(self, new: Iterable[Measured]) -> History:
        """The same with values more; one with the id of an earlier one corrects that one."""
        found = {each.id: each for each in self.results}
        found |= {each.id: replace(each, job="", box="", by="", notes="") for each in new}
        return replace(self, results=oldest_first(found.values()))


def to_json(history: History) -> bytes:
    """The same bytes whatever order the revisions were published in."""
    said = {
        "format": FORMAT,
        "languages": list(history.languages),
        "results": [_result_as_json(each) for each in history.results],
        "revisions": [dumped(r) for r in history.revisions],
    }
    return (json.dumps(said, ensure_ascii=False, sort_keys=True, indent=0) + "\n").encode()


def from_json(data: bytes) -> History:
    """What `to_json` wrote, now or in its first format.

    Raises:
        Unfit: if it is anything else.
    """
    try:
        said = json.loads(data)
    except (ValueError, RecursionError) as fault:
        raise Unfit("no JSON") from fault
    if not isinstance(said, dict) or not isinstance(said.get("revisions"), list):
        raise Unfit("no revisions")
    if said.get("format") == 1:
        revisions = [upgraded(each) for each in said["revisions"]]
        said = {"format": FORMAT, "revisions": revisions, "languages": ["en"], "results": []}
    if said.pop("format", None) != FORMAT or set(said) != {f.name for f in fields(History)}:
        raise Unfit("another format")
    results = said.pop("results")
    if not isinstance(results, list):
        raise Unfit("no results")
    history: History = loaded(History, said)
    return replace(history, results=tuple(_result_of(each) for each in results))


def _result_as_json(measured: Measured) -> dict[str, str]:
    """The value as in a CSV file: JSON has no number for OL."""
    kept = {name: str(getattr(measured, name)) for name in _OF_RESULT}
    return {**kept, "value": value_text(measured.value)}


def _result_of(said: Any) -> Measured:
    is_whole = isinstance(said, dict) and set(said) == {*_OF_RESULT, "value"}
    if not is_whole or not all(isinstance(each, str) for each in said.values()):
        raise Unfit("no result")
    value = value_of(said["value"])
    if value is None or said["kind"] not in set(Kind):
        raise Unfit("no result")
    return Measured(**{**said, "kind": Kind(said["kind"]), "value": value, "job": "", "box": ""})


def changes(box: str, then: Revision, now: Revision) -> tuple[Change, ...]:
    """What of the box is otherwise now than it was then."""
    before, after = then.box.get(box), now.box.get(box)
    if before is None and after is None:
        return ()
    if before is None:
        return (Change(what="new"),)
    moved = tuple(_moved(before, now))
    if after is None:
        return (Change(what="gone"), *moved)
    stayed = {valve.id: valve for valve in before.valves}
    own = (c for v in after.valves if v.id in stayed for c in _of_valve(stayed[v.id], v))
    return (
        *_of_water(then, now),
        *moved,
        *_came(after, then, before),
        *own,
        *_of_box(before, after),
    )


def _of_water(then: Revision, now: Revision) -> Iterator[Change]:
    """It stands on every tag."""
    if then.water != now.water:
        yield Change(what="water", before=then.water, after=now.water)


def _moved(before: Box, now: Revision) -> Iterator[Change]:
    """Valves that were here and are not: in another box, or nowhere."""
    for valve in before.valves:
        found = now.valve.get(valve.id)
        if found is None or found.box != before.id:
            where = found.box if found else ""
            yield Change(what="left", valve=valve.id, before=before.id, after=where)


def _came(after: Box, then: Revision, before: Box) -> Iterator[Change]:
    here = {valve.id for valve in before.valves}
    for valve in after.valves:
        if valve.id not in here:
            found = then.valve.get(valve.id)
            where = found.box if found else ""
            yield Change(what="came", valve=valve.id, before=where, after=after.id)


def _of_valve(before: Valve, after: Valve) -> Iterator[Change]:
    for field in fields(Valve):
        old, new = getattr(before, field.name), getattr(after, field.name)
        if field.name not in _QUIET and not alike(old, new):
            yield Change(what=field.name, valve=after.id, before=old, after=new)


def _of_box(before: Box, after: Box) -> Iterator[Change]:
    before = replace(before, spares=_bare(before.spares))
    after = replace(after, spares=_bare(after.spares))
    for field in fields(Box):
        old, new = getattr(before, field.name), getattr(after, field.name)
        if field.name not in ("id", "valves", "buried") and old != new:
            yield Change(what=field.name, before=old, after=new)


def alike(one: object, other: object) -> bool:
    """Figures that a meter cannot tell apart are no change."""
    if isinstance(one, tuple) and isinstance(other, tuple) and len(one) == len(other):
        return all(map(alike, one, other))
    if isinstance(one, float) and isinstance(other, float):
        return round(one, 1) == round(other, 1)
    if isinstance(one, Band) and isinstance(other, Band):
        return round(one.expected, 1) == round(other.expected, 1)
    return one == other


def same(one: Revision, other: Revision) -> bool:
    """They say the same of every box, controller and spare; dates and log may differ."""
    return _plain(one) == _plain(other)


def _plain(revision: Revision) -> Revision:
    boxes = tuple(replace(box, spares=_bare(box.spares)) for box in revision.boxes)
    spares = _bare(revision.spares)
    return replace(revision, date="", changes=(), boxes=boxes, spares=spares)


def _bare(spares: tuple[Spare, ...]) -> tuple[Spare, ...]:
    """Without what follows from the rest and was not kept in the first format."""
    return tuple(replace(spare, loop=None, joined=()) for spare in spares)
