"""Tell of the cards that have no room: what is wrong with many in the same way is told once."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from cardgen.cards.card import Card, CardKind
from cardgen.english_lists import natural
from cardgen.faults.paper_faults import TEXT_TOO_LONG
from cardgen.layout.pieces import Misfit
from cardgen.light_dataclass import dataclass, replace
from cardgen.problems import Problem
from cardgen.units import Meters, plain
from cardgen.words import english

# What is cut out, and can be printed elsewhere.
LEFT_OUT = (CardKind.VALVE_TAG, CardKind.BOX_TAG, CardKind.FLAG, CardKind.SPLICE_CARD)


@dataclass(frozen=True, slots=True, kw_only=True)
class NoRoom:
    """A card that has no room on its stock.

    Attributes:
        others: names of stocks that have.
    """

    card: Card
    misfit: Misfit
    others: tuple[str, ...]


@dataclass(slots=True)
class _MisfitGroup:
    """Cards with the same part too long, and the stocks that have room for all of them."""

    members: list[NoRoom]
    others: tuple[str, ...]

    def takes(self, other: NoRoom) -> bool:
        one, two = self.members[0], other
        same = one.card.kind == two.card.kind and one.misfit.fault is two.misfit.fault
        part = one.misfit.part and one.misfit.part == two.misfit.part
        return bool(same and part and (self._shared(two) or not (self.others or two.others)))

    def add(self, other: NoRoom) -> None:
        self.members.append(other)
        self.others = self._shared(other)

    def _shared(self, other: NoRoom) -> tuple[str, ...]:
        return tuple(name for name in self.others if name in other.others)


def problems_of(
    without_room: Sequence[NoRoom], stock: str, read_from: Meters | None
) -> Iterator[Problem]:
    """One for all cards with the same part too long and the same way out, at the first of them."""
    groups: list[_MisfitGroup] = []
    in_file = sorted(without_room, key=lambda each: (each.card.span, natural(each.card.id)))
    for each in in_file:  # of one place, as two flags are, the same first whatever the order
        group = next((group for group in groups if group.takes(each)), None)
        if group is None:
            groups.append(_MisfitGroup([each], each.others))
        else:
            group.add(each)
    for group in groups:
        problem = _problem(group.members[0])
        yield replace(
            problem,
            sentence=problem.sentence + _on(group, stock) + _others(group.members),
            help="; ".join((*filter(None, [problem.help]), *_ways(group, read_from))),
        )


def _problem(one: NoRoom) -> Problem:
    card, misfit = one.card, one.misfit
    where = f"the {card.kind} '{card.id}'"
    what = where if misfit.text == card.id else f"'{misfit.text}' on {where}"
    return misfit.fault.at(
        card.span,
        variant=misfit.variant,
        what=what,
        card=where,
        over=misfit.over,
        **misfit.values,
    )


def _on(group: _MisfitGroup, stock: str) -> str:
    return f" on '{stock}'" if group.members[0].misfit.fault is TEXT_TOO_LONG else ""


def _others(members: Sequence[NoRoom]) -> str:
    """`; 3 more have the same problem (worst: 'A3', 8.2 mm): A2 to A4`; copies count as one."""
    first = members[0]
    others = list(dict.fromkeys(m.card.id for m in members if m.card.id != first.card.id))
    if not others:
        return ""
    worst = max(members, key=lambda each: each.misfit.over)
    amount = f"{worst.misfit.over:.1f} mm"
    is_worse = amount != f"{first.misfit.over:.1f} mm"
    most = f" (worst: '{worst.card.id}', {amount})" if is_worse else ""
    verb = "has" if len(others) == 1 else "have"
    listed = english().list_of(others).printed
    return f"; {len(others):,} more {verb} the same problem{most}: {listed}"


def _ways(group: _MisfitGroup, read_from: Meters | None) -> Iterator[str]:
    is_too_long = group.members[0].misfit.fault is TEXT_TOO_LONG
    if group.others:
        yield "it fits on " + ", ".join(f"'{name}'" for name in group.others)
    elif is_too_long:
        yield "shorten it; no stock that is known has room for it"
    if is_too_long and group.members[0].card.kind in LEFT_OUT:
        yield "'--without-misfits' prints the rest"
    if read_from and is_too_long:
        yield f"or read it from nearer than {plain(read_from)} m"
