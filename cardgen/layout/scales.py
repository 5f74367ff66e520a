"""Choose the scale of each column once for all cards of a print, and set the cards at it.

```
cards of one series -> each column: the largest scale at which all have room
                       (where it flows: of those with the fewest cards) -> every card set so
```
A card that has no room even at the smallest scale is refused and decides nothing for the others.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import replace

from cardgen.cards.card import Card
from cardgen.layout.columns import Sheetful, cards_needed, divider, fill
from cardgen.layout.face import Column, Face
from cardgen.layout.items import Item
from cardgen.layout.pieces import Misfit
from cardgen.layout.setting import PrinterHead


class FaceSetter:
    """Sets the cards of one print on one face, all of a column at the same scale."""

    def __init__(self, face: Face, press: PrinterHead, cards: Iterable[Card]) -> None:
        """The scales are those that suit all these cards."""
        self.face, self._press = face, press
        by_series: dict[str, dict[int, Card]] = {}
        for card in cards:
            by_series.setdefault(card.series, {})[id(card)] = card  # copies count once
        self._scales = {
            series: [self._chosen(column, list(found.values())) for column in face.columns]
            for series, found in by_series.items()
        }
        self._rules = tuple(divider(line.frame, press) for line in face.lines)

    def _chosen(self, column: Column, cards: Sequence[Card]) -> int:
        choose = self._with_fewest_cards if column.flows else self._largest
        return choose(column, cards) if column.scales > 1 else 0

    def _largest(self, column: Column, cards: Sequence[Card]) -> int:
        scale, count = 0, column.scales
        for card in cards:
            able = (n for n in range(scale, count) if self._needed(column, card, n))
            scale = next(able, scale)
        return scale

    def _with_fewest_cards(self, column: Column, cards: Sequence[Card]) -> int:
        last = column.scales - 1
        able = [card for card in cards if self._needed(column, card, last)]
        fewest = 0
        for scale in range(last):
            counts = [self._needed(column, card, scale) for card in able]
            fewest = fewest or sum(self._needed(column, card, last) for card in able)
            if all(counts) and sum(counts) <= fewest:
                return scale
        return last

    def _needed(self, column: Column, card: Card, scale: int) -> int:
        """How many cards it takes; 0 where it has no room."""
        try:
            return cards_needed(column, card, self._press, scale)
        except Misfit:
            return 0

    def has_room(self, card: Card) -> bool:
        """Whether the card can be set, if only at the smallest scales."""
        columns = self.face.columns
        return all(self._needed(column, card, column.scales - 1) for column in columns)

    def set(self, card: Card, part: Callable[[int, int], str]) -> tuple[Sheetful, ...]:
        """The items of a card, or of each of the cards that it takes.

        Raises:
            Misfit: if something has no room.
        """
        filled = {
            number: self._fill(number, column, card)
            for number, column in enumerate(self.face.columns)
            if column.flows
        }
        count = max((len(sheets) for sheets in filled.values()), default=1)
        return tuple(
            (*self._sheet(card, part, sheet, count, filled), *self._rules) for sheet in range(count)
        )

    def _sheet(
        self,
        card: Card,
        part: Callable[[int, int], str],
        sheet: int,
        count: int,
        flowing: Mapping[int, tuple[Sheetful, ...]],
    ) -> Iterator[Item]:
        numbered = with_part(card, part(sheet + 1, count)) if count > 1 else card
        for number, column in enumerate(self.face.columns):
            if column.flows:
                yield from flowing[number][sheet] if sheet < len(flowing[number]) else ()
            elif not (column.first and sheet):
                at = replace(column, frame=column.frame_on(sheet)) if sheet else column
                (items,) = self._fill(number, at, numbered)
                yield from items

    def _fill(self, number: int, column: Column, card: Card) -> tuple[Sheetful, ...]:
        try:
            return fill(column, card, self._press, self._scales[card.series][number])
        except Misfit:  # what it lacks is told of the smallest letters
            return fill(column, card, self._press, column.scales - 1)


def with_part(card: Card, part: str) -> Card:
    """The card with what tells it from its own continuation."""
    return replace(card, fields={**card.fields, "part": part}) if part else card
