"""Keep that the cards of a revision hang, and tell what has changed since."""

from __future__ import annotations

from pathlib import Path

from cardgen.cards import Printable
from cardgen.files.sealing import opened
from cardgen.light_dataclass import dataclass
from cardgen.memory.prints import MANIFEST, PrintLog, read_log
from cardgen.output.hanging import changes_in, texts_hanging_at
from cardgen.output.job_cards import JobCards
from cardgen.output.selection import KINDS, Selection, word_of
from cardgen.output.stale_cards import Changes, compared
from cardgen.output.stale_list import stale_list
from cardgen.output.walking_order import Walk
from cardgen.output.writing import held, write_set
from cardgen.problems import UserError
from cardgen.words import Words


@dataclass(frozen=True, slots=True, kw_only=True)
class HungMark:
    """A revision of a job, and whether what was to be marked was so before."""

    job_code: str
    revision: int
    was_so: bool


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


def since_hung(printable: Printable, log: PrintLog, words: Words) -> SinceHung | None:
    """What the job says otherwise than what hangs; None while nothing is known to hang.

    `printable` is in the usual words, for these compare; `words` are those of the list.
    """
    if not log.hung or log.job_code != printable.asbuilt.job_code:
        return None
    revision = revision_hanging(log)
    hanging = texts_hanging_at(log, revision)
    only = kinds_hanging(log, revision)
    changes = compared(hanging, JobCards(printable).texts).within(Selection(only=only))
    shown = changes_in(words, changes, log, revision, printable)
    told = stale_list(shown, Walk(printable.asbuilt), (), words).strip()
    return SinceHung(revision=revision, only=only, changes=changes, told=told)


def revision_hanging(log: PrintLog) -> int:
    """The last that hangs.

    Raises:
        UserError: if nobody has said of any that it hangs.
    """
    if not log.hung:
        if not log.job_code:
            raise UserError("there is no print yet of which anything could hang", "print it first")
        raise UserError(
            f"nothing of the print of {log.job_code} is marked as hanging",
            "say so when it hangs, with 'cardgen hang' and the folder of the print, or name the "
            "revision after --since",
        )
    return max(log.hung)


def kinds_hanging(log: PrintLog, revision: int) -> tuple[str, ...]:
    """Of what hangs when that revision has been printed, the words of `KINDS`."""
    words = {word_of(key) for key in log.hanging(revision)}
    return tuple(word for word in KINDS if word in words)


def mark_hung(folder: Path, revision: int | None, *, hangs: bool) -> HungMark:
    """Write it into the manifest of the prints there; every file stays as it is.

    Args:
        revision: None for the newest that was printed there.

    Raises:
        UserError: if that revision was never printed there, or the folder cannot be written.
    """
    if not (folder / MANIFEST).is_file():
        raise _never(folder, revision)
    with held(folder, replace=False):
        log = read_log(folder)
        marked = max(log.revisions, default=None) if revision is None else revision
        if marked is None or marked not in log.revisions:
            raise _never(folder, revision)
        hung = log.hung | {marked} if hangs else log.hung - {marked}
        if hung != log.hung:
            manifest = {**opened((folder / MANIFEST).read_bytes()), "hung": sorted(hung)}
            write_set(folder, {}, manifest, replace=False, kept=tuple(log.files))
    return HungMark(job_code=log.job_code, revision=marked, was_so=hung == log.hung)


def _never(folder: Path, revision: int | None) -> UserError:
    what = "nothing" if revision is None else f"revision {revision}"
    never = "was printed" if revision is None else "was never printed"
    return UserError(f"{what} {never} into '{folder}'", "print it first")
