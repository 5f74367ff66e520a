"""What a card says stands on it: every label, word, figure and color of the fields of its face.

Read from the letters of the pages, without blanks, hyphens and signs between, which line ends move.
"""

from __future__ import annotations

import re
import sys
import unicodedata
from collections.abc import Iterator
from dataclasses import fields, is_dataclass, replace

import pytest

from cardgen.asbuilt import ConductorMark
from cardgen.cards import CardKind
from cardgen.cards.card import Card, Code, Noted, OnFlag, Splice, Table
from cardgen.layout import Page, Stamp, lay_out
from cardgen.layout.face import Face, FaceBlock, Show
from cardgen.layout.items import TextLine
from tests.layout.samples import layouts_in, sample_cards, words_of

# A small and a large stock for what hangs at wires, a sheet for the rest.
STOCKS = ("id-1-letter", "a7-letter", "flag-letter", "half-letter", "legend-letter", "sheet-letter")
MOST = 8  # of a kind
# What several rows or leads share is said once there.
GATHERED = (CardKind.BOX_TAG, CardKind.SPLICE_CARD)
LANGUAGES = [("en",), ("es",), ("en", "es")]


def letters(words: str) -> str:
    return re.sub(r"[\W_]", "", unicodedata.normalize("NFC", words)).casefold()


def told(page: Page) -> str:
    return letters(" ".join(item.text for item in page.items if isinstance(item, TextLine)))


def all_words(value: object) -> Iterator[str]:
    """Everything that a field says, in what it says it."""
    if isinstance(value, ConductorMark):
        flag = value.flag.bare if isinstance(value.flag, OnFlag) else value.flag
        yield from all_words((value.word, value.code, value.cable, value.band, flag))
    elif isinstance(value, Noted):
        yield from all_words((value.head, value.note))
    elif isinstance(value, str):
        yield from value.split("\u00a0/ ")  # each language by itself
    elif isinstance(value, Splice) and value.straight and value.connector and value.counts:
        yield from all_words(replace(value, counts=""))  # its wires say of which gauge they are
    elif isinstance(value, Code):
        yield value.text
    elif isinstance(value, tuple):
        for part in value:
            yield from all_words(part)
    elif is_dataclass(value):
        for field in fields(value):
            yield from all_words(getattr(value, field.name))


def said(card: Card, block: FaceBlock) -> Iterator[str]:
    value = card.fields.get(block.field)
    if not value or block.show is Show.SYMBOL:
        return
    label = card.fields.get(block.label, block.title) if block.label else block.title
    yield from all_words(label)
    yield from all_words(value.rows if isinstance(value, Table) else value)


def missing(card: Card, face: Face, pages: tuple[Page, ...]) -> list[str]:
    """What is not there as often as it is said, by itself or in other words."""
    most = 1 if card.kind in GATHERED else sys.maxsize
    on_paper = " ".join(map(told, pages))
    blocks = (block for column in face.columns for block in column.blocks)
    words = [words for block in blocks for words in said(card, block)]
    together = " ".join(map(letters, words))
    return [
        each
        for each in dict.fromkeys(words)
        if (found := letters(each)) and on_paper.count(found) < min(most, together.count(found))
    ]


def has_no_room_for(card: Card, words: str) -> bool:
    """In two languages a box tag has the colors in words alone."""
    return card.kind is CardKind.BOX_TAG and len(words) == 2 and words.isupper()


@pytest.mark.parametrize("languages", LANGUAGES, ids="-".join)
@pytest.mark.parametrize("name", ["larkspur", "sandpiper", "quarry"])
def test_every_word_of_a_card_is_on_it(name: str, languages: tuple[str, ...]) -> None:
    layouts = layouts_in(*languages)
    stamp = Stamp(job_code="J", revision="rev 1", site="A site", words=words_of(*languages))
    printed: set[CardKind] = set()
    lacking = []
    for kind, cards in sample_cards(name, *languages).items():
        for stock in map(layouts.stocks.__getitem__, STOCKS):
            face = layouts.face(kind, stock.format)
            for card in cards[:MOST] if face else ():
                pages, problems = lay_out([card], layouts=layouts, stock=stock, stamp=stamp)
                if face is None or problems:
                    continue
                printed.add(kind)
                lacking += [
                    f"{kind} {card.id} on {stock.name}: {words}"
                    for words in missing(card, face, pages)
                    if len(languages) == 1 or not has_no_room_for(card, words)
                ]
    assert not lacking
    assert printed == {kind for kind, cards in sample_cards(name, *languages).items() if cards}
