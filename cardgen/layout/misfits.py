"""Tell of the cards that have no room: what is wrong with many in the same way is told once."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from cardgen.cards.model import Card
from cardgen.layout.pieces import TOO_LONG, Misfit
from cardgen.problems import Problem, Verdict
from cardgen.units import Metres, plain
from cardgen.words import english


@dataclass(frozen=True, slots=True, kw_only=True)
class Refusal:
    """A card that has no room on its stock.

    Attributes:
        others: names of stocks that have.
    """

    card: Card
    misfit: Misfit
    others: tuple[str, ...]


@dataclass(slots=True)
class _MisfitGroup:
    """Refusals with the same part too long, and the stocks that have room for all of them."""

    members: list[Refusal]
    others: tuple[str, ...]

    def takes(self, other: Refusal) -> bool:
        one, two = self.members[0], other
        same = one.card.kind == two.card.kind and one.misfit.code == two.misfit.code
        part = one.misfit.part and one.misfit.part == two.misfit.part
        return bool(same and part and (self._shared(two) or not (self.others or two.others)))

    def add(self, other: Refusal) -> None:
        self.members.append(other)
        self.others = self._shared(other)

    def _shared(self, other: Refusal) -> tuple[str, ...]:
        return tuple(name for name in self.others if name in other.others)


def problems_of(
    refusals: Sequence[Refusal], stock: str, read_from: Metres | None
) -> Iterator[Problem]:
    """One for all cards with the same part too long and the same way out, at the first of them."""
    groups: list[_MisfitGroup] = []
    for each in sorted(refusals, key=lambda each: each.card.span):
        group = next((group for group in groups if group.takes(each)), None)
        if group is None:
            groups.append(_MisfitGroup([each], each.others))
        else:
            group.add(each)
    for group in groups:
        first = group.members[0]
        yield Problem(
            code=first.misfit.code,
            verdict=Verdict.ERROR,
            span=first.card.span,
            sentence=_sentence(first, stock) + _likewise(group.members),
            help="; ".join(_ways(group, read_from)),
        )


def _sentence(refusal: Refusal, stock: str) -> str:
    card, misfit = refusal.card, refusal.misfit
    where = f"the {card.kind} '{card.id}'"
    if misfit.text == card.id:
        return f"{where} {misfit.reason}"
    of = f" of '{stock}'" if misfit.code == TOO_LONG else ""
    return f"'{misfit.text}' on {where} {misfit.reason}{of}"


def _likewise(members: Sequence[Refusal]) -> str:
    """`; likewise 3 more, by up to 8.2 mm on 'A3': A2 to A4`; copies of a card are one."""
    first = members[0]
    others = list(dict.fromkeys(m.card.id for m in members if m.card.id != first.card.id))
    if not others:
        return ""
    worst = max(members, key=lambda each: each.misfit.over)
    amount = f"{worst.misfit.over:.1f} mm"
    more = amount != f"{first.misfit.over:.1f} mm"
    most = f", by up to {amount} on '{worst.card.id}'" if more else ""
    return f"; likewise {len(others)} more{most}: {english().listed(others)}"


def _ways(group: _MisfitGroup, read_from: Metres | None) -> Iterator[str]:
    misfit = group.members[0].misfit
    if misfit.help:
        yield misfit.help
    if group.others:
        yield "it fits on " + ", ".join(f"'{name}'" for name in group.others)
    elif misfit.code == TOO_LONG:
        yield "shorten it; no stock that is known has room for it"
    if read_from and misfit.code == TOO_LONG:
        yield f"or it is read from nearer than {plain(read_from)} m"
