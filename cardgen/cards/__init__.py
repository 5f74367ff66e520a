"""Stage 6: turn a checked job into cards: what each one says, in words, numbers and colors."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from cardgen.cards.box_tags import box_tags
from cardgen.cards.card import Card, CardKind
from cardgen.cards.closing import closings
from cardgen.cards.flags import flags
from cardgen.cards.legend import legends
from cardgen.cards.materials_sheet import materials_sheets
from cardgen.cards.plain_words import localized
from cardgen.cards.printable import CrewBoxes, Printable
from cardgen.cards.readings_sheet import test_sheets
from cardgen.cards.schedules import schedules
from cardgen.cards.spare_list import spare_lists
from cardgen.cards.splice_cards import splice_cards
from cardgen.cards.survey import surveys
from cardgen.cards.valve_tags import valve_tags

# What makes the cards of each kind.
MAKERS = {
    CardKind.VALVE_TAG: valve_tags,
    CardKind.BOX_TAG: box_tags,
    CardKind.FLAG: flags,
    CardKind.LEGEND: legends,
    CardKind.SPLICE_CARD: splice_cards,
    CardKind.TEST_SHEET: test_sheets,
    CardKind.SPARE_LIST: spare_lists,
    CardKind.MATERIALS: materials_sheets,
    CardKind.SURVEY: surveys,
    CardKind.SCHEDULE: schedules,
    CardKind.CLOSING: closings,
}


def cards_of(
    printable: Printable, kinds: Iterable[CardKind] = tuple(MAKERS)
) -> dict[CardKind, tuple[Card, ...]]:
    """The cards of a job by kind, each kind in the order of the file."""
    return {kind: tuple(made_cards(printable, kind)) for kind in kinds}


def made_cards(printable: Printable, kind: CardKind) -> Iterator[Card]:
    """Those of one kind, each as it is asked for."""
    return (localized(card, printable.words) for card in MAKERS[kind](printable))


__all__ = ["MAKERS", "Card", "CardKind", "CrewBoxes", "Printable", "cards_of", "made_cards"]
