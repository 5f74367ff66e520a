"""Tell what passes a place uncut from every end there that is in no joint."""

from __future__ import annotations

from collections.abc import Collection, Iterable

from cardgen.asbuilt.joints import union
from cardgen.asbuilt.marks import mark
from cardgen.asbuilt.metal import Metal, toward
from cardgen.asbuilt.model.built_boxes import Capped, Passing
from cardgen.asbuilt.model.built_conductors import in_use
from cardgen.wiring.wiring_parts import Conductor, End


def passing_and_capped(
    metal: Metal, present: Iterable[Conductor], at: str, joined: Collection[End]
) -> tuple[tuple[Passing, ...], tuple[Capped, ...]]:
    """What is in use and passes uncut, and every end that is not among those joined."""
    passing: list[Passing] = []
    capped: list[Capped] = []
    for conductor in present:
        ends = conductor.ends_at(at)
        if len(ends) == 2 and set(ends).isdisjoint(joined) and metal.is_uncut(*ends):
            uses = union(metal, ends)
            if in_use(uses):
                name = conductor.name
                passing.append(Passing(mark=mark(conductor), uses=uses, conductor=name))
            continue
        capped += [_capped(metal, conductor, end) for end in ends if end not in joined]
    return tuple(passing), tuple(capped)


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
