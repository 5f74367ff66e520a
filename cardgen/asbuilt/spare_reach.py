"""Turn the free stretches into spares: how far each reaches, and what it must read in a loop."""

from __future__ import annotations

from collections.abc import Iterator

from cardgen.asbuilt.marks import mark
from cardgen.asbuilt.metal import Metal
from cardgen.asbuilt.model.built_conductors import Band, BuiltSpare
from cardgen.electrics.loops import Commons
from cardgen.facts import Facts
from cardgen.wiring.uses import Stretch


def spares(facts: Facts, metal: Metal) -> Iterator[BuiltSpare]:
    """Spares cable by cable, then what is dead."""
    commons = Commons(facts.uses, facts.network)
    for stretch in sorted(metal.free, key=metal.is_dead):
        yield _spare(facts, metal, commons, stretch)


def _spare(facts: Facts, metal: Metal, commons: Commons, stretch: Stretch) -> BuiltSpare:
    said = metal.said_of(stretch)
    loop = commons.tied(stretch)
    return BuiltSpare(
        id=metal.name_of(stretch),
        mark=mark(stretch.conductor),
        first=stretch.first,
        last=stretch.last,
        passes=False,
        reserved_for=said.reserved_for if said else "",
        loop=Band(expected=loop[0], low=loop[1], high=loop[2]) if loop else None,
        joined=tuple(_joined(facts, stretch)),
        conductor=stretch.conductor.name,
        through=stretch.places[1:-1],
        promised=said.to.value if said and said.to else "",
        listed=said is not None,
        dead=metal.is_dead(stretch),
    )


def _joined(facts: Facts, stretch: Stretch) -> Iterator[str]:
    """Where it is in a joint."""
    for place in stretch.places:
        ends = stretch.conductor.ends_at(place)
        mine = [end for end in ends if facts.uses.stretch_at(end) is stretch]
        if any(len(facts.joint_of[end].ends) > 1 for end in mine if end in facts.joint_of):
            yield place
