"""Jobs for prints: what they say, and quarry as it goes on to a fourth revision."""

from __future__ import annotations

from functools import lru_cache
from typing import Any

from cardgen.cards import Printable, cards_of
from cardgen.examine import examine_text
from cardgen.memory.prints import PrintedRevision, PrintLog
from cardgen.memory.stored_job import StoredJob
from cardgen.output.as_printable import as_printable
from cardgen.output.card_texts import CardText
from cardgen.output.job_cards import JobCards
from cardgen.output.walking_order import Walk
from tests.jobs import edit, sample

HEAD = "revision: 3, date: 2026-05-11}"
# B9 goes over to the spare tan; A14 waters something else; A9 is given up, its conductor free.
FOURTH = (
    (HEAD, "revision: 4, date: 2026-06-01}"),
    ("hot: B-K1 violet", "hot: B-K1 tan"),
    ("{conductor: B-K1 tan, to: VB-8}", "{conductor: B-K1 violet, to: VB-8}"),
    ("area: dock lawn", "area: dock meadow"),
    ("  A9: {area: plaza planters drip, box: VB-4, hot: A-K2 red}\n", ""),
    ("A-K2 white out, A9, ", "A-K2 white out, "),
    ("    - [A-K2 red in, A9]\n", ""),
)


@lru_cache
def quarry(revision: int = 3) -> str:
    """As it is, with nothing but another number, or (from the fourth on) as it goes on."""
    text = sample("quarry")
    for old, new in FOURTH[1:] if revision > 3 else ():
        text = edit(text, old, new)
    return edit(text, HEAD, f"revision: {revision}, date: 2026-06-{revision:02}}}")


@lru_cache(maxsize=50)
def printable(text: str) -> Printable:
    job = as_printable(examine_text(text))
    assert job is not None
    return job


@lru_cache(maxsize=50)
def said_of(text: str) -> dict[str, CardText]:
    return dict(JobCards(printable(text)).texts)


@lru_cache(maxsize=50)
def walk_of(text: str) -> Walk:
    return Walk(printable(text).asbuilt)


def fields_of(text: str) -> dict[str, Any]:
    """What each card holds but for its stamp, from the cards."""
    job = printable(text)
    return {
        f"{card.kind} {card.id}": {n: v for n, v in card.fields.items() if n != "stamp"}
        for cards in cards_of(job).values()
        for card in cards
    }


def printed(*texts: str, keys: set[str] | None = None, earlier: PrintLog | None = None) -> PrintLog:
    """The log after all of a job (or only these cards) was printed, text after text."""
    log = earlier or PrintLog()
    for text in texts:
        now = printable(text).asbuilt
        cards = frozenset(said_of(text) if keys is None else keys & said_of(text).keys())
        print_ = PrintedRevision(
            date=now.date, whole=keys is None, cards=cards, job=StoredJob.of(now)
        )
        log = log.with_print(now.job_code, now.revision, print_)
    return log
