"""Keep what every published revision said, as one file of JSON."""

from __future__ import annotations

import json
from collections.abc import Iterable
from dataclasses import dataclass, fields, replace
from typing import Any

from cardgen.asbuilt import AsBuilt
from cardgen.memory.codec import TooOld, Unfit, dumped, loaded
from cardgen.memory.format_2 import upgraded
from cardgen.results import Kind, Measured, oldest_first, value_of, value_text

FORMAT = 3
# What is kept of a value beside it: the valve says the box, the folder the job.
_OF_RESULT = ("id", "when", "valve", "kind")


@dataclass(frozen=True, slots=True, kw_only=True)
class RevisionLog:
    """All that was published of a job.

    Attributes:
        revisions: oldest first.
        languages: of the pages, by their tags; the first lies at the printed addresses.
        results: what crews measured, oldest first, without who it was and what they noted: the
            folder of a record is open to whoever has its address.
    """

    revisions: tuple[AsBuilt, ...] = ()
    languages: tuple[str, ...] = ()
    results: tuple[Measured, ...] = ()

    def with_revision(self, new: AsBuilt) -> RevisionLog:
        """The same with a revision more, in the place of one with its number."""
        others = [r for r in self.revisions if r.revision != new.revision]
        return replace(self, revisions=tuple(sorted((*others, new), key=lambda r: r.revision)))

    def with_results(self, new: Iterable[Measured]) -> RevisionLog:
        """The same with values more; one with the id of an earlier one corrects that one."""
        found = {each.id: each for each in self.results}
        found |= {each.id: replace(each, job="", box="", by="", notes="") for each in new}
        return replace(self, results=oldest_first(found.values()))


def to_json(history: RevisionLog) -> bytes:
    """The same bytes whatever order the revisions were published in."""
    said = {
        "format": FORMAT,
        "languages": list(history.languages),
        "results": [_result_as_json(each) for each in history.results],
        "revisions": [dumped(r) for r in history.revisions],
    }
    return (json.dumps(said, ensure_ascii=False, sort_keys=True, indent=0) + "\n").encode()


def from_json(data: bytes) -> RevisionLog:
    """What `to_json` wrote, now or in its second format.

    Raises:
        TooOld: if it is of the first format.
        Unfit: if it is anything else.
    """
    try:
        said = json.loads(data)
    except (ValueError, RecursionError) as fault:
        raise Unfit("no JSON") from fault
    if not isinstance(said, dict) or not isinstance(said.get("revisions"), list):
        raise Unfit("no revisions")
    if said.get("format") == 1:
        raise TooOld("the first format")
    if said.get("format") == 2:
        said |= {"format": FORMAT, "revisions": [upgraded(each) for each in said["revisions"]]}
    if said.pop("format", None) != FORMAT or set(said) != {f.name for f in fields(RevisionLog)}:
        raise Unfit("another format")
    results = said.pop("results")
    if not isinstance(results, list):
        raise Unfit("no results")
    history: RevisionLog = loaded(RevisionLog, said)
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
