"""Choose the scale of each column once for all cards of a print, and set the cards at it.

```
cards of one series -> each column: the largest scale at which all have room
                       (where it flows: of those with the fewest cards, and on these with
                       the fewest broken blocks) -> every card set so
```
A card that has no room even at the smallest scale is refused and decides nothing for the others.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from math import inf

from cardgen.cards.card import Card
from cardgen.layout.columns import (
    ScaledColumn,
    Sheetful,
    all_scales,
    cards_needed,
    divider,
    fill,
)
from cardgen.layout.face import Face, at_scale
from cardgen.layout.items import Item
from cardgen.layout.pieces import Misfit
from cardgen.layout.setting import PrinterHead
from cardgen.layout.widest_digits import WidestDigits
from cardgen.light_dataclass import replace

Scales = tuple[ScaledColumn, ...]  # of one column, from the largest to the smallest


class NarrowerDigits(Exception):
    """Raised where a card has less room than the one with the widest digits that stood for it."""


class FaceSetter:
    """Sets the cards of one print on one face, all of a column at the same scale."""

    def __init__(
        self,
        face: Face,
        press: PrinterHead,
        cards: Iterable[Card],
        widest: WidestDigits | None = None,
    ) -> None:
        """The scales are those that suit all these cards.

        With `widest`, what does not flow is measured once for cards that differ in digits only.
        That is so good as always right; where it is not, `set` raises `NarrowerDigits`.
        """
        self.face = face
        self._columns = [tuple(all_scales(column, press)) for column in face.columns]
        # As they are on further cards.
        self._again = [
            tuple(all_scales(replace(column, frame=column.again), press))
            if column.again
            else scales
            for column, scales in zip(face.columns, self._columns, strict=True)
        ]
        self._counts: dict[tuple[int, int], tuple[int, int] | None] = {}
        by_series: dict[str, dict[int, Card]] = {}
        for card in cards:
            by_series.setdefault(card.series, {})[id(card)] = card  # copies count once
        cards_once = [card for found in by_series.values() for card in found.values()]
        self._stand_ins = {id(card): widest.of(card) for card in cards_once} if widest else {}
        self._by_series = {series: list(found.values()) for series, found in by_series.items()}
        self._scales = {
            series: [self._chosen(scales, found) for scales in self._columns]
            for series, found in self._by_series.items()
        }
        self._rules = tuple(divider(line.frame, press) for line in face.lines)

    def _chosen(self, scales: Scales, cards: Sequence[Card]) -> int:
        if len(scales) == 1:
            return 0
        choose = self._with_fewest_cards if scales[0].column.flows else self._largest
        return choose(scales, cards)

    def _largest(self, scales: Scales, cards: Sequence[Card]) -> int:
        scale, count = 0, len(scales)
        for card in cards:
            able = (n for n in range(scale, count) if self._needed(scales[n], card))
            scale = next(able, scale)
        return scale

    def _with_fewest_cards(self, scales: Scales, cards: Sequence[Card]) -> int:
        *larger, smallest = scales
        able = [card for card in cards if self._needed(smallest, card)]
        fewest = self._all_needed(smallest, able)

        def enough(scaled: ScaledColumn) -> bool:  # smaller letters never take more cards
            return (0, 0) < self._all_needed(scaled, able) <= fewest

        return bisect_left(larger, True, key=enough)

    def _all_needed(self, scaled: ScaledColumn, cards: Sequence[Card]) -> tuple[int, int]:
        """The sums; (0, 0) where one has no room."""
        needed = [self._needed(scaled, card) for card in cards]
        found = [each for each in needed if each is not None]
        if len(found) < len(needed):
            return 0, 0
        return sum(cards for cards, _ in found), sum(broken for _, broken in found)

    def _needed(self, scaled: ScaledColumn, card: Card) -> tuple[int, int] | None:
        """How many cards it takes, and how many blocks break; None where it has no room."""
        stand_in = None if scaled.column.flows else self._stand_ins.get(id(card))
        found = self._measured(scaled, stand_in) if stand_in else None
        return found or self._measured(scaled, card)

    def _measured(self, scaled: ScaledColumn, card: Card) -> tuple[int, int] | None:
        """The same, of cards that are kept longer than this."""
        at = id(scaled), id(card)
        if at not in self._counts:
            try:
                self._counts[at] = cards_needed(scaled, card)
            except Misfit:
                self._counts[at] = None
        return self._counts[at]

    def cost(self) -> tuple[float, tuple[float, ...]]:
        """How many cards all of them take, then how small the letters of what flows are."""
        taken, small = 0.0, []
        for series, cards in self._by_series.items():
            smallest = [scales[-1] for scales in self._columns]
            taken += sum(
                0.0 if all(self._needed(each, card) for each in smallest) else inf for card in cards
            )
            for scales, scale in zip(self._columns, self._scales[series], strict=True):
                column = scales[scale].column
                if column.flows:
                    taken += self._all_needed(scales[scale], cards)[0]
                    small += [-at_scale(block.capitals, scale) for block in column.blocks]
        return taken, tuple(small)

    def has_room(self, card: Card, widest: Card) -> bool:
        """Whether the card can be set, if only at the smallest scales."""
        try:
            self.measure(card, widest)
        except Misfit:
            return False
        return True

    def measure(self, card: Card, widest: Card) -> bool:
        """Whether `widest`, which stands for the card and others, has room, and so they all have.

        Raises:
            Misfit: if the card cannot be set even at the smallest scales.
        """
        short_of = [each for *_, each in self._columns if self._measured(each, widest) is None]
        for smallest in short_of:
            cards_needed(smallest, card)  # its own digits may be narrower
        return not short_of

    def card_count(self, card: Card) -> int:
        """How many cards it takes at the scales that were chosen.

        Raises:
            Misfit: if something has no room; what tells its own parts apart is not looked at.
        """
        numbered = list(enumerate(self._columns))
        flowing = [self._taken(n, s, card) for n, s in numbered if s[0].column.flows]
        for number, scales in numbered:
            if not scales[0].column.flows:
                self._taken(number, scales, card)
        return max(flowing, default=1)

    def _taken(self, number: int, scales: Scales, card: Card) -> int:
        found = self._needed(scales[self._scales[card.series][number]], card)
        if found is None:  # what it lacks is told of the smallest letters
            found = cards_needed(scales[-1], card)
        return found[0]

    def set(self, card: Card, part: Callable[[int, int], str]) -> tuple[Sheetful, ...]:
        """The items of a card, or of each of the cards that it takes.

        Raises:
            Misfit: if something has no room.
            NarrowerDigits: if something has none that others with wider digits have.
        """
        filled = {
            number: self._fill(number, scales, card)
            for number, scales in enumerate(self._columns)
            if scales[0].column.flows
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
        for number, scales in enumerate(self._again if sheet else self._columns):
            column = scales[0].column
            if column.flows:
                yield from flowing[number][sheet] if sheet < len(flowing[number]) else ()
            elif not (column.first and sheet):
                (items,) = self._fill(number, scales, numbered)
                yield from items

    def _fill(self, number: int, scales: Scales, card: Card) -> tuple[Sheetful, ...]:
        try:
            return fill(scales[self._scales[card.series][number]], card)
        except Misfit:
            if self._stand_ins:
                raise NarrowerDigits from None
            return fill(scales[-1], card)


def with_part(card: Card, part: str) -> Card:
    """The card with what tells it from its own continuation."""
    return replace(card, fields={**card.fields, "part": part}) if part else card
