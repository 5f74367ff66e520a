"""Invented boxes with many valves on one cable: a common, two spares, areas as in the samples."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from functools import cache

from cardgen.cards import Card, CardKind, cards_of
from cardgen.examine import examine_text
from cardgen.layout import Page, Stamp, lay_out
from cardgen.output.as_printable import as_printable
from tests.layout.samples import layouts_in, sample_cards, words_of

# What a cable of 16 conductors may have, and 12 areas of 11 to 19 letters, on average 15.
HOTS = ("red", "blue", "green", "yellow", "orange", "brown", "black", "pink", "gray", "violet")
MORE = ("gold", "turquoise")
AREAS = (
    *("entry lawn N", "entry lawn S", "entry beds drip", "parking island 1", "walk lawn W"),
    *("walk beds W drip", "plaza planters drip", "plaza lawn", "north slope upper"),
    *("slope shrubs 1", "rear lawn 2", "rear beds drip"),
)


def job_of(valves: int) -> str:
    hots = (*HOTS, *MORE)[:valves]
    rows = "\n".join(
        f"  A{n}: {{area: {area}, box: VB-1, hot: A-K1 {color}}}"
        for n, (color, area) in enumerate(zip(hots, AREAS, strict=False), 1)
    )
    return f"""\
job: {{code: FULL-1, site: A Full Box, revision: 1, date: 2026-03-14}}
record: {{address: https://jobs.example.com, key: 7Q2F9KX4M3T8}}
coils: {{usual: {{supply: 24 V AC, resistance: 30 ohm, inrush: 0.40 A, holding: 0.23 A}}}}
controllers:
  A: {{place: garage, supply: 24 V AC, stations: 16, coil: usual, common: A-K1 white}}
cables:
  A-K1:
    gauge: 18 AWG
    colors: [white, tan, light-blue, {", ".join(hots)}]
    run: [A, 100 ft, VB-1]
boxes:
  VB-1: {{place: under the old oak}}
stations:
{rows}
spares:
  SP-1: {{conductor: A-K1 tan, to: VB-1}}
  SP-2: {{conductor: A-K1 light-blue, to: VB-1}}
"""


@cache
def tags_of(valves: int, *languages: str) -> tuple[Card, ...]:
    found = examine_text(job_of(valves))
    job = as_printable(found, words_of(*languages))
    assert job is not None, found.problems
    return tuple(cards_of(job, (CardKind.BOX_TAG,))[CardKind.BOX_TAG])


@cache
def tags_printed(valves: int, stock: str, *languages: str) -> tuple[Page, ...]:
    """Made once for all tests that look at them."""
    return printed(tags_of(valves, *languages), stock, *languages)


@cache
def sample_tags_printed(name: str, stock: str, *languages: str) -> tuple[Page, ...]:
    """Those of a sample job, made once."""
    return printed(sample_cards(name, *languages)[CardKind.BOX_TAG], stock, *languages)


def printed(cards: Sequence[Card], stock: str, *languages: str) -> tuple[Page, ...]:
    layouts = layouts_in(*languages)
    stamp = Stamp(
        job_code="FULL-1", revision="rev 1", site="A Full Box", words=words_of(*languages)
    )
    pages, problems = lay_out(cards, layouts=layouts, stock=layouts.stocks[stock], stamp=stamp)
    assert problems == ()
    return pages


def cards_per_box(pages: Sequence[Page]) -> Counter[str]:
    return Counter(card for page in pages for card in page.cards)
