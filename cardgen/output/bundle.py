"""Put all that a crew takes along into one file: tags of its boxes as it walks, then its sheets."""

from __future__ import annotations

import re
from collections.abc import Iterator

from cardgen.cards import Card
from cardgen.draw import Bookmark
from cardgen.layout import Page, Sheets
from cardgen.light_dataclass import replace
from cardgen.output.choosing import Chosen
from cardgen.output.documents import Document, PrintedFiles, documents, first_card
from cardgen.output.job_cards import JobCards
from cardgen.output.print_request import Bundle
from cardgen.output.print_settings import BUNDLE, PrintSettings, title
from cardgen.output.selection import KINDS
from cardgen.output.walking_order import Walk
from cardgen.problems import UserError


def bundle_file(crew: str) -> str:
    """`crew-ana-1.pdf`: what the file is called, in letters that every file system has."""
    words = re.findall(r"[a-z0-9]+", crew.lower())
    return f"{BUNDLE}{'-'.join(words).removeprefix(BUNDLE)[:60].strip('-') or '1'}.pdf"


def bundled(
    press: PrintSettings, cards: JobCards, walk: Walk, chosen: Chosen, bundle: Bundle, *, start: int
) -> PrintedFiles:
    """One file; its outline has a mark for each kind of card.

    Raises:
        UserError: if the tags are not on sheets, which one printer takes with the others.
    """
    made = PrintedFiles(press=press)
    pages: list[Page] = []
    marks: list[Bookmark] = []
    count = 0
    for document, mine in _documents(cards, walk, chosen, bundle):
        stock = press.stock(document.kind)
        if stock.is_single:
            raise UserError(
                f"'{stock.name}' is no stock in sheets, and a bundle is one file for one printer",
                "choose a stock in sheets, or print the tags by themselves",
            )
        first, start = first_card(press, document.kind, start)
        things, laid = made.cut_pages(document, mine, first)
        marks.append(Bookmark(title(document.name, press.printable.words).printed, len(pages)))
        count += things
        pages += laid
    made.tell_by_kind()
    made.add(bundle_file(bundle.crew.name), count, Sheets.of(pages), outline=marks)
    return made


def _documents(
    cards: JobCards, walk: Walk, chosen: Chosen, bundle: Bundle
) -> Iterator[tuple[Document, tuple[Card, ...]]]:
    """Of the cards those that are chosen; of the sheets those that have only the crew's boxes."""
    for document in documents(cards.by_kind(chosen.kinds), walk):
        mine = tuple(card for card in document.cards if f"{card.kind} {card.id}" in chosen.keys)
        if mine:
            yield document, mine
    kinds = [kind for word in bundle.sheets for kind in KINDS[word]]
    carried = JobCards(replace(cards.printable, crew=bundle.crew))
    for document in documents(carried.by_kind(kinds), walk):
        yield document, document.cards
