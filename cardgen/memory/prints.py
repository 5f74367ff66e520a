"""Keep what every print of a job was made of, revision by revision, in the folder's manifest.

```
values      digest -> a box, a controller, a conductor ... once, however many revisions have it;
            packed, for a large job says much and most of it again and again
revisions   "3" -> its date, whole or a part, the cards printed, the job as built: its digests
cards       card -> the revision of which it was last printed
```
What a card said is not kept: it is made again from the job as built, in the words of today, so that
no wording makes a card stale.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import field
from pathlib import Path
from typing import Any

from cardgen.asbuilt import AsBuilt
from cardgen.files.exchange import is_unfinished
from cardgen.files.sealing import BadSeal, opened
from cardgen.light_dataclass import dataclass, replace
from cardgen.memory.codec import BadStoredValue, OtherVersion, as_text, dumped, loaded
from cardgen.memory.stored_job import StoredJob, packed, unpacked
from cardgen.problems import UserError

MANIFEST = "cardgen-manifest.json"
FORMAT = 2
_OTHER = "use that version, or print everything again into an empty folder"
_AGAIN = "put it back from a copy, or move it away: then it starts over"


class NotOfPrints(UserError):
    """A manifest is that of a job record."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintedRevision:
    """What was printed of one revision.

    Attributes:
        whole: all of the job, in one print.
        cards: their kinds and ids.
        gone: cards that a print told to take down.
        job: what the cards were made of.
    """

    date: str
    whole: bool
    cards: frozenset[str]
    job: StoredJob
    gone: frozenset[str] = frozenset()

    @property
    def asbuilt(self) -> AsBuilt:
        """What the cards were made of.

        Raises:
            UserError: if it was kept by a cardgen that knows more, or is not what was kept.
        """
        try:
            return self.job.asbuilt
        except OtherVersion as fault:
            raise UserError(
                f"what is kept of the print of {self.date} is of another version of cardgen", _OTHER
            ) from fault
        except BadStoredValue as fault:
            raise UserError(
                f"what is kept of the print of {self.date} is damaged", _AGAIN
            ) from fault


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintLog:
    """All prints of one job into one folder; without a job, none.

    Attributes:
        last: by card, the revision of its last print.
        files: by name, the digests of the files that the prints left.
        made_from: what the last print was made from, as a digest; empty if nobody kept it.
        hung: revisions of which a person has said that they hang.
    """

    job_code: str = ""
    revisions: Mapping[int, PrintedRevision] = field(default_factory=dict)
    last: Mapping[str, int] = field(default_factory=dict)
    files: Mapping[str, str] = field(default_factory=dict)
    made_from: str = ""
    hung: frozenset[int] = frozenset()

    def hanging(self, revision: int) -> dict[str, PrintedRevision]:
        """By card, the print of which it hangs when that revision has been printed."""
        found: dict[str, PrintedRevision] = {}
        for number in sorted(number for number in self.revisions if number <= revision):
            printed = self.revisions[number]
            kept = {} if printed.whole else found
            found = {key: of for key, of in kept.items() if key not in printed.gone}
            found |= dict.fromkeys(sorted(printed.cards), printed)
        return found

    def completed_by(self, other: PrintLog) -> PrintLog:
        """With the revisions and cards of the other that this one does not know."""
        if other.job_code != self.job_code and self.job_code:
            return self
        return replace(
            other,
            revisions={**other.revisions, **self.revisions},
            last={**other.last, **self.last},
            hung=other.hung | self.hung,
        )

    def with_print(
        self,
        job_code: str,
        revision: int,
        printed: PrintedRevision,
        *,
        said_otherwise: Collection[str] = (),
    ) -> PrintLog:
        """With a print more; what its revision said of the `said_otherwise` holds no longer."""
        before = self.revisions.get(revision)
        if before is not None:
            held = before.cards - frozenset(said_otherwise)
            cards = printed.cards if printed.whole else held | printed.cards
            gone = (before.gone | printed.gone) - cards
            whole = before.whole or printed.whole
            printed = replace(printed, cards=cards, gone=gone, whole=whole)
        last = {**self.last, **dict.fromkeys(printed.cards, revision)}
        kept = {key: number for key, number in last.items() if key not in printed.gone}
        return PrintLog(
            job_code=job_code,
            revisions={**self.revisions, revision: printed},
            last=dict.fromkeys(printed.cards, revision) if printed.whole else kept,
            hung=self.hung,
        )


# ---- the manifest --------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class _Kept:
    """One revision of a `PrintLog`; of the job as built, large parts by their digests."""

    date: str
    whole: bool
    cards: frozenset[str]
    gone: frozenset[str]
    asbuilt: Mapping[str, Any]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Manifest:
    """Attributes:
    revision, date: of the last print.
    cards: the `last` of the log.
    values: the large parts by their digests, packed.
    files: by name the digest of what was written; it comes with the writing.
    made_from: what the last print was made from, as a digest.
    hung: revisions of which a person has said that they hang.
    """

    format: int
    job_code: str
    key: str
    revision: int
    date: str
    cards: Mapping[str, int]
    revisions: Mapping[int, _Kept]
    values: str
    files: Mapping[str, str] = field(default_factory=dict)
    made_from: str = ""
    hung: frozenset[int] = frozenset()


def manifest_of(log: PrintLog, revision: int, made_from: str = "") -> dict[str, Any]:
    """What is written of it, besides the files."""
    now = log.revisions[revision]
    values: dict[str, str] = {}
    for printed in log.revisions.values():
        values |= {of: printed.job.parts[of] for of in printed.job.digests}
    manifest: dict[str, Any] = dumped(
        _Manifest(
            format=FORMAT,
            job_code=log.job_code,
            key=now.job.frame["key"],
            revision=revision,
            date=now.date,
            cards=log.last,
            revisions={number: _kept(printed) for number, printed in log.revisions.items()},
            values=packed(values),
            made_from=made_from,
            hung=log.hung,
        )
    )
    return manifest


def _kept(printed: PrintedRevision) -> _Kept:
    return _Kept(
        date=printed.date,
        whole=printed.whole,
        cards=printed.cards,
        gone=printed.gone,
        asbuilt=printed.job.frame,
    )


def read_log(folder: Path) -> PrintLog:
    """That of the prints in a folder; an empty one if there are none.

    Raises:
        UserError: if there is one that cannot be relied on; it must not be written over.
    """
    try:
        return read_manifest(folder / MANIFEST)
    except FileNotFoundError:
        return PrintLog()


def read_manifest(path: Path) -> PrintLog:
    """What a manifest keeps.

    Raises:
        FileNotFoundError: if there is none.
        UserError: if it cannot be read, is damaged, of another cardgen, or just being exchanged.
    """
    if is_unfinished(path.parent):
        raise UserError(
            f"a print into '{path.parent}' is not finished, so '{path.name}' may not be of its "
            "files",
            "print into that folder again: what was cut short is finished first",
        )
    try:
        data = path.read_bytes()
    except (FileNotFoundError, NotADirectoryError) as fault:
        raise FileNotFoundError from fault
    except OSError as fault:
        reason = (fault.strerror or str(fault)).lower()
        raise UserError(
            f"'{path}' cannot be read: {reason}", "name the manifest of a print"
        ) from fault
    try:
        return _log(opened(data), path)
    except OtherVersion as fault:
        raise UserError(
            f"'{path}' was written by another version of cardgen",
            _OTHER,
        ) from fault
    except (BadSeal, BadStoredValue) as fault:
        raise UserError(f"'{path}' is damaged or was changed by hand", _AGAIN) from fault


def _log(found: Mapping[str, Any], path: Path) -> PrintLog:
    if "format" not in found:
        raise NotOfPrints(
            f"'{path}' is that of a job record", "prints lie in a folder of their own"
        )
    if found["format"] == 1:  # before the values were packed
        texts = {of: as_text(value) for of, value in found.get("values", {}).items()}
        found = {**found, "format": FORMAT, "values": packed(texts)}
    manifest: _Manifest = loaded(_Manifest, found, form=FORMAT)
    values = unpacked(manifest.values)
    revisions = {
        number: PrintedRevision(
            date=kept.date,
            whole=kept.whole,
            cards=kept.cards,
            gone=kept.gone,
            job=StoredJob(frame=kept.asbuilt, parts=values).checked(),
        )
        for number, kept in manifest.revisions.items()
    }
    return PrintLog(
        job_code=manifest.job_code,
        revisions=revisions,
        last=manifest.cards,
        files=manifest.files,
        made_from=manifest.made_from,
        hung=manifest.hung,
    )
