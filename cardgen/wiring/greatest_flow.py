"""Count ways that share nothing: the greatest flow through arcs with so much room each."""

from __future__ import annotations

from collections import deque
from collections.abc import Hashable

Arcs = dict[Hashable, dict[Hashable, int]]  # by node what can still go to which other


def add_arc(arcs: Arcs, one: Hashable, two: Hashable, room: int) -> None:
    arcs.setdefault(one, {})[two] = room
    arcs.setdefault(two, {}).setdefault(one, 0)


def one_more(arcs: Arcs, source: Hashable, goal: Hashable) -> bool:
    """Send one along the shortest way that has room; what was sent may be turned back."""
    came: dict[Hashable, Hashable] = {}
    queue = deque([source])
    while queue and goal not in came:
        here = queue.popleft()
        for there, room in arcs.get(here, {}).items():
            if room > 0 and there not in came and there != source:
                came[there] = here
                queue.append(there)
    if goal not in came:
        return False
    here = goal
    while here != source:
        before = came[here]
        arcs[before][here] -= 1
        arcs[here][before] += 1
        here = before
    return True
