"""Keep what every published revision said, as one file of JSON."""

from __future__ import annotations

import json
from collections.abc import Iterable

from cardgen.asbuilt import AsBuilt
from cardgen.light_dataclass import dataclass, replace
from cardgen.memory.codec import BadStoredValue, dumped, loaded
from cardgen.results import Kind, Measured, oldest_first, value_of, value_text
from cardgen.results.measured import AT_A_BOX

FORMAT = 1


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
        """The same with a revision more, in the place of one with its number.

        Only the newest keeps its network: readings are compared with the wiring of today.
        """
        others = [r for r in self.revisions if r.revision != new.revision]
        *before, last = sorted((*others, new), key=lambda r: r.revision)
        return replace(self, revisions=(*(replace(r, network=None) for r in before), last))

    def with_results(self, new: Iterable[Measured]) -> RevisionLog:
        """The same with values more; one with the id of an earlier one corrects that one.

        What was withdrawn is no longer there.
        """
        found = {each.id: each for each in self.results}
        found |= {each.id: _public(each) for each in new}
        return replace(self, results=oldest_first(found.values()))


def _public(measured: Measured) -> Measured:
    """Without who measured it; the box only where it says more than the valve does."""
    box = measured.box if measured.kind in AT_A_BOX else ""
    return replace(measured, record_key="", box=box, by="", notes="")


def to_json(history: RevisionLog) -> bytes:
    """The same bytes whatever order the revisions were published in."""
    kept = _RevisionFile(
        format=FORMAT,
        languages=history.languages,
        results=tuple(map(_kept, history.results)),
        revisions=history.revisions,
    )
    text = json.dumps(dumped(kept), ensure_ascii=False, sort_keys=True, indent=0)
    return f"{text}\n".encode()


def from_json(data: bytes) -> RevisionLog:
    """What `to_json` wrote.

    Raises:
        OtherVersion: if another cardgen wrote it.
        BadStoredValue: if nothing did.
    """
    try:
        content = json.loads(data)
    except (ValueError, RecursionError) as fault:
        raise BadStoredValue("no JSON") from fault
    kept: _RevisionFile = loaded(_RevisionFile, content, form=FORMAT)
    results = tuple(map(_measured, kept.results))
    return RevisionLog(revisions=kept.revisions, languages=kept.languages, results=results)


# ---- the file ------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class _Result:
    """What is published of a value; the valve says the box, the folder the job.

    Attributes:
        value: as in a CSV file, since JSON has no number for OL.
    """

    id: str
    when: str
    valve: str
    kind: Kind
    value: str
    box: str = ""
    start: str = ""
    to: str = ""
    conditions: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class _RevisionFile:
    format: int
    languages: tuple[str, ...]
    results: tuple[_Result, ...]
    revisions: tuple[AsBuilt, ...]


def _kept(measured: Measured) -> _Result:
    return _Result(
        id=measured.id,
        when=measured.when,
        valve=measured.valve,
        kind=measured.kind,
        value=value_text(measured.value),
        box=measured.box,
        start=measured.start,
        to=measured.to,
        conditions=measured.conditions,
    )


def _measured(kept: _Result) -> Measured:
    value = value_of(kept.value)
    if value is None:
        raise BadStoredValue("no value")
    return Measured(
        id=kept.id,
        when=kept.when,
        valve=kept.valve,
        kind=kept.kind,
        value=value,
        record_key="",
        box=kept.box,
        start=kept.start,
        to=kept.to,
        conditions=kept.conditions,
    )
