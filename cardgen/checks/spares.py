"""Count the free conductors that get from a controller to a box, and check that they suffice.

A spare must be of use: free from a controller's door to the box, over splices if need be.  One
free conductor serves every box that it passes, so only those of one box are counted together:

    A ===[3 free]=== SB-1 ===[2 free]=== VB-1        VB-1 has 2 spares, SB-1 has 3
                      `=====[5 free]=== VB-2        VB-2 has 3: what the home run has
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping

from cardgen.english_lists import english_list
from cardgen.facts import Facts
from cardgen.faults.conductor_faults import SPARES_TOO_FEW
from cardgen.problems import Problem
from cardgen.wiring.greatest_flow import Arcs, add_arc, one_more
from cardgen.wiring.uses import Stretch

_Node = tuple[str, tuple[str, ...]]  # a place, or the way into or out of like conductors


def reaching(free: Iterable[Stretch], controllers: Iterable[str], box: str, most: int) -> int:
    """How many ways of free stretches lead from controllers to a box, each used once."""
    return ways_through(Counter(s.places for s in free), controllers, box, most)


def ways_through(
    free: Mapping[tuple[str, ...], int], controllers: Iterable[str], box: str, most: int
) -> int:
    """The same for so many conductors that pass each row of places.

    It is the greatest flow through conductors of capacity one; counting stops at `most`.
    """
    arcs: Arcs = {}
    for places, count in sorted(free.items()):
        add_arc(arcs, ("in", places), ("out", places), count)
        for place in places:
            add_arc(arcs, ("at", (place,)), ("in", places), most)
            add_arc(arcs, ("out", places), ("at", (place,)), most)
    source: _Node = ("from", ())
    for controller in controllers:
        add_arc(arcs, source, ("at", (controller,)), most)
    found = 0
    while found < most and one_more(arcs, source, ("at", (box,))):
        found += 1
    return found


def spares_too_few(facts: Facts) -> Iterator[Problem]:
    """Fewer free conductors reach a box than the job asks for."""
    unread = facts.job.reported - {*facts.job.stations, *facts.job.boxes, *facts.job.controllers}
    if unread or facts.wiring.reported & facts.job.cables.keys():
        return  # what cannot be read may be free; a cable that cannot is in no list
    for box in facts.job.boxes.values():
        if box.spares is None:
            continue
        asked = box.spares.value
        free = (*facts.free, *facts.maybe_hots)  # of these nobody knows how many are
        there = reaching(free, facts.job.controllers, box.id, asked)
        if there >= asked:
            continue
        left = _left(facts, box.id)
        yield SPARES_TOO_FEW.at(
            box.spares.span,
            variant="" if left else "no cable",
            box=box.id,
            spares=f"{asked} spare{'' if asked == 1 else 's'}",
            have={0: "none reaches it", 1: "one reaches it"}.get(there, f"{there} reach it"),
            left=left,
        )


def _left(facts: Facts, box: str) -> str:
    """What is free in the cables that come to a box; empty if none comes."""
    coming = [
        cable.id for cable in facts.job.cables.values() if any(s.at == box for s in cable.run)
    ]
    # What is dead beyond its valve is no room for a spare from the controller.
    there = [s for s in facts.free if s.start == 0 and box in s.places]
    left = Counter(s.conductor.cable.id for s in there)
    return english_list(f"{cable} has {left[cable] or 'none'} free there" for cable in coming)
