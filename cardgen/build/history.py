"""Keep what every print of a job said, revision by revision, in the folder's manifest.

```
said        digest -> what one card says, once however many revisions say it
revisions   "3" -> its date, by which cardgen, whole or a part; card -> digest
cards       card -> the revision of which it was last printed
```
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from dataclasses import asdict, dataclass, field, replace
from pathlib import Path
from typing import Any

from cardgen.build.refused import Refused
from cardgen.build.said import Said
from cardgen.build.seal import Broken, opened
from cardgen.build.writing import MANIFEST

FORMAT = 2  # the first kept digests only
_AGAIN = "put it back from a copy, or move it away: then it begins anew"


@dataclass(frozen=True, slots=True, kw_only=True)
class Printed:
    """What was printed of one revision.

    Attributes:
        cardgen: the version that printed it, for another may word the same otherwise.
        whole: all of the job, in one print.
        gone: cards that a print told to take down.
    """

    date: str
    cardgen: str
    whole: bool
    cards: Mapping[str, Said]
    gone: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True, kw_only=True)
class History:
    """All prints of one job into one folder; without a job, none.

    Attributes:
        last: by card, the revision of its last print.
        files: names of the files that the prints left.
        has_older: whether there were prints by a cardgen that did not keep what they said.
    """

    job: str = ""
    revisions: Mapping[int, Printed] = field(default_factory=dict)
    last: Mapping[str, int] = field(default_factory=dict)
    files: tuple[str, ...] = ()
    has_older: bool = False

    def standing(self, revision: int) -> dict[str, Said]:
        """What hangs when that revision has been printed: each card as it was last before."""
        found: dict[str, Said] = {}
        for number in sorted(number for number in self.revisions if number <= revision):
            printed = self.revisions[number]
            kept = {} if printed.whole else found
            found = {key: said for key, said in kept.items() if key not in printed.gone}
            found |= printed.cards
        return found

    def filled_from(self, other: History) -> History:
        """With the revisions and cards of the other that this one does not know."""
        if other.job != self.job and self.job:
            return self
        return replace(
            other,
            revisions={**other.revisions, **self.revisions},
            last={**other.last, **self.last},
        )

    def contradicted(self, revision: int, cardgen: str, now: Mapping[str, Said]) -> list[str]:
        """Cards that this very revision said otherwise; another cardgen's words are not judged."""
        printed = self.revisions.get(revision)
        if printed is None or printed.cardgen != cardgen:
            return []
        new = [
            key
            for key in now
            if key in printed.gone or (printed.whole and key not in printed.cards)
        ]
        changed = [
            key
            for key, said in printed.cards.items()
            if key not in now or now[key].words != said.words
        ]
        return [*changed, *new]

    def with_print(
        self, job: str, revision: int, printed: Printed, *, dropped: Collection[str] = ()
    ) -> History:
        """With a print more; what its revision said of the `dropped` holds no longer."""
        before = self.revisions.get(revision)
        if before is not None:
            held = {key: said for key, said in before.cards.items() if key not in dropped}
            cards = dict(printed.cards) if printed.whole else {**held, **printed.cards}
            gone = (before.gone | printed.gone) - cards.keys()
            whole = before.whole or printed.whole
            cardgen = printed.cardgen if printed.whole else before.cardgen
            printed = replace(printed, cards=cards, gone=gone, whole=whole, cardgen=cardgen)
        last = {**self.last, **dict.fromkeys(printed.cards, revision)}
        kept = {key: number for key, number in last.items() if key not in printed.gone}
        return History(
            job=job,
            revisions={**self.revisions, revision: printed},
            last=dict.fromkeys(printed.cards, revision) if printed.whole else kept,
        )


def manifest_of(history: History, revision: int, key: str) -> dict[str, Any]:
    """What is written of it, besides the files; `key` is that of the job's record."""
    said = {s.digest: asdict(s) for p in history.revisions.values() for s in p.cards.values()}
    revisions = {
        str(number): {
            "date": printed.date,
            "cardgen": printed.cardgen,
            "whole": printed.whole,
            "cards": {key: s.digest for key, s in printed.cards.items()},
            "gone": sorted(printed.gone),
        }
        for number, printed in history.revisions.items()
    }
    return {
        "format": FORMAT,
        "job": history.job,
        "key": key,
        "revision": revision,
        "date": history.revisions[revision].date,
        "cards": dict(history.last),
        "revisions": revisions,
        "said": said,
    }


def read_history(folder: Path) -> History:
    """That of the prints in a folder; an empty one if there are none.

    Raises:
        Refused: if there is one that cannot be relied on; it must not be written over.
    """
    try:
        return read_manifest(folder / MANIFEST)
    except FileNotFoundError:
        return History()


def read_manifest(path: Path) -> History:
    """What a manifest keeps.

    Raises:
        FileNotFoundError: if there is none.
        Refused: if it cannot be read, is damaged, or of a newer cardgen.
    """
    try:
        data = path.read_bytes()
    except (FileNotFoundError, NotADirectoryError) as fault:
        raise FileNotFoundError from fault
    except OSError as fault:
        reason = (fault.strerror or str(fault)).lower()
        raise Refused(
            f"'{path}' cannot be read: {reason}", "name the manifest of a print"
        ) from fault
    try:
        return _history(opened(data), path)
    except (Broken, KeyError, TypeError, ValueError, AttributeError) as fault:
        raise Refused(f"'{path}' is damaged or was changed by hand", _AGAIN) from fault


def _history(found: Mapping[str, Any], path: Path) -> History:
    if "format" not in found:
        if "cards" not in found:
            raise Refused(
                f"'{path}' is that of a job record", "prints lie in a folder of their own"
            )
        return History(job=found["job"], files=tuple(found["files"]), has_older=True)
    if found["format"] != FORMAT:
        raise Refused(f"'{path}' is of a newer cardgen", "use that, or print into another folder")
    said = {digest: _said(value) for digest, value in found["said"].items()}
    revisions = {
        int(number): Printed(
            date=value["date"],
            cardgen=value["cardgen"],
            whole=value["whole"],
            cards={key: said[digest] for key, digest in value["cards"].items()},
            gone=frozenset(value["gone"]),
        )
        for number, value in found["revisions"].items()
    }
    files = tuple(found["files"])
    return History(job=found["job"], revisions=revisions, last=found["cards"], files=files)


def _said(value: Mapping[str, Any]) -> Said:
    words = {
        name: said if isinstance(said, str) else tuple(said)
        for name, said in value["words"].items()
    }
    lists: Iterable[str] = ("names", "controllers")
    return Said(**{**value, **{name: tuple(value[name]) for name in lists}, "words": words})
