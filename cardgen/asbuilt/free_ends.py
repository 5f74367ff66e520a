"""Tell what passes a place uncut from every end there that is in no joint, and what may be both."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator

from cardgen.asbuilt.joints import union
from cardgen.asbuilt.marks import mark
from cardgen.asbuilt.metal import Metal, toward
from cardgen.asbuilt.model.built_boxes import Capped, Passing
from cardgen.asbuilt.model.built_conductors import in_use
from cardgen.wiring.uses import Role, Use
from cardgen.wiring.wiring_parts import Conductor, End


def passing_and_capped(
    metal: Metal, present: Iterable[Conductor], at: str, joined: Collection[End]
) -> tuple[tuple[Passing, ...], tuple[Capped, ...]]:
    """What is in use and passes uncut, and every end that is not among those joined.

    What may be a hot is neither: nobody knows where it is joined.
    """
    passing: list[Passing] = []
    capped: list[Capped] = []
    for conductor in present:
        ends = tuple([end for end in conductor.ends_at(at) if not metal.may_be_hot(end)])
        if len(ends) == 2 and set(ends).isdisjoint(joined) and metal.is_uncut(*ends):
            uses = union(metal, ends)
            if in_use(uses):
                name = conductor.name
                passing.append(Passing(mark=mark(conductor), uses=uses, conductor=name))
            continue
        capped += [_capped(metal, conductor, end) for end in ends if end not in joined]
    return tuple(passing), tuple(capped)


def maybe_hots(
    metal: Metal, present: Iterable[Conductor], at: str, joined: Collection[End]
) -> Iterator[Passing]:
    """The conductors with an end in no joint that may be a hot of which the job does not know."""
    for conductor in present:
        ends = conductor.ends_at(at)
        found = [end for end in ends if metal.may_be_hot(end) and end not in joined]
        if found:
            uses = _once(union(metal, found))
            yield Passing(mark=mark(conductor), uses=uses, conductor=conductor.name)


def _once(uses: tuple[Use, ...]) -> tuple[Use, ...]:
    """What is a hot on one side need not be told to be perhaps the same on the other."""
    known = {use.of for use in uses if use.role is Role.HOT}
    return tuple(use for use in uses if use.role is not Role.MAYBE_HOT or use.of not in known)


def _capped(metal: Metal, conductor: Conductor, end: End) -> Capped:
    stretch = metal.facts.uses.stretch_at(end)
    said = None if stretch.uses else metal.said_of(stretch)
    return Capped(
        mark=mark(conductor),
        toward=toward(conductor, end),
        uses=metal.uses(end),
        stops=len(conductor.ends_at(end.at)) == 1,
        conductor=conductor.name,
        reserved_for=said.reserved_for if said else "",
    )
