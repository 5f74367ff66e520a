"""Keep that the cards of a revision hang, and tell what has changed since."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from cardgen.cards import Printable
from cardgen.files.sealing import opened
from cardgen.memory.prints import MANIFEST, PrintLog, read_log
from cardgen.output.hanging import texts_hanging_at
from cardgen.output.job_cards import JobCards
from cardgen.output.selection import KINDS, WORD_OF, Selection
from cardgen.output.stale_cards import Changes, compared, stale_list
from cardgen.output.walking_order import Walk
from cardgen.output.writing import held, write_set
from cardgen.problems import UserError


@dataclass(frozen=True, slots=True, kw_only=True)
class SinceHung:
    """Attributes:
    revision: the last that hangs.
    only: the kinds of which something hangs, as words of `KINDS`; nothing else is new.
    told: what to take down, replace and put up, as `--since` lists it.
    """

    revision: int
    only: tuple[str, ...]
    changes: Changes
    told: str


def since_hung(printable: Printable, log: PrintLog) -> SinceHung | None:
    """What the job says otherwise than what hangs; None while nothing is known to hang."""
    if not log.hung or log.job_code != printable.asbuilt.job_code:
        return None
    revision = max(log.hung)
    hanging = texts_hanging_at(log, revision)
    words = {WORD_OF[said.kind] for said in hanging.values()}
    only = tuple(word for word in KINDS if word in words)
    changes = compared(hanging, JobCards(printable).texts).within(Selection(only=only))
    told = stale_list(changes, Walk(printable.asbuilt), ()).strip()
    return SinceHung(revision=revision, only=only, changes=changes, told=told)


def mark_hung(folder: Path, revision: int, *, hangs: bool) -> None:
    """Write it into the manifest of the prints there; every file stays as it is.

    Raises:
        UserError: if that revision was never printed there, or the folder cannot be written.
    """
    if not (folder / MANIFEST).is_file():
        raise _never(revision)
    with held(folder, replace=False):
        log = read_log(folder)
        if revision not in log.revisions:
            raise _never(revision)
        hung = log.hung | {revision} if hangs else log.hung - {revision}
        manifest = {**opened((folder / MANIFEST).read_bytes()), "hung": sorted(hung)}
        write_set(folder, {}, manifest, replace=False, kept=tuple(log.files))


def _never(revision: int) -> UserError:
    return UserError(f"revision {revision} was never printed there", "print it first")
