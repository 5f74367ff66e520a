"""Find what hangs: of what was printed once each card as it said last, from the job of that day."""

from __future__ import annotations

from collections.abc import Mapping

from cardgen.asbuilt import AsBuilt, nowhere
from cardgen.cards import Printable
from cardgen.light_dataclass import replace
from cardgen.memory.prints import PrintLog
from cardgen.output.card_texts import CardText
from cardgen.output.job_cards import JobCards
from cardgen.output.stale_cards import Changes
from cardgen.words import Words, english


def texts_of_print(asbuilt: AsBuilt, words: Words | None = None) -> Mapping[str, CardText]:
    """All that was said of a job as it was built then; in the usual words, or in others."""
    return JobCards(Printable(asbuilt=asbuilt, spans=nowhere(), words=words or english())).texts


def texts_hanging_at(
    log: PrintLog, revision: int, words: Words | None = None
) -> dict[str, CardText]:
    """What hangs when that revision has been printed: each card as it was last before."""
    made: dict[int, Mapping[str, CardText]] = {}
    found: dict[str, CardText] = {}
    for key, printed in log.hanging(revision).items():
        number = id(printed)
        if number not in made:
            made[number] = texts_of_print(printed.asbuilt, words)
        if key in made[number]:
            found[key] = made[number][key]
    return found


def changes_in(
    words: Words, changes: Changes, log: PrintLog, revision: int, printable: Printable
) -> Changes:
    """The same changes since what hung at that revision, as the cards say them in these words."""
    if words == printable.words:
        return changes
    now = JobCards(replace(printable, words=words)).texts
    return changes.said_by(texts_hanging_at(log, revision, words), now)


def cards_said_otherwise(log: PrintLog, asbuilt: AsBuilt, now: Mapping[str, CardText]) -> list[str]:
    """Cards of which this very revision said something else; `now` is what it says today."""
    printed = log.revisions.get(asbuilt.revision)
    if printed is None:
        return []
    then = now if printed.asbuilt == asbuilt else texts_of_print(printed.asbuilt)
    changed = [
        key
        for key, said in then.items()
        if key in printed.cards and (key not in now or now[key].words != said.words)
    ]
    new = [
        key for key in now if key in printed.gone or (printed.whole and key not in printed.cards)
    ]
    return [*changed, *new]
