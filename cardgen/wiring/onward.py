"""Carry routes on through written joints where a station does not name all of its conductors."""

from __future__ import annotations

from collections import deque
from collections.abc import Container, Iterable, Iterator, Mapping
from dataclasses import replace

from cardgen.wiring.model import OUT, Conductor, End, Hop, Joint, Load, Route
from cardgen.wiring.usual import merged

Ways = Mapping[End, tuple[End, ...]]


def carry_on(
    loads: dict[str, Load],
    joints: Iterable[Joint],
    conductors: Mapping[str, Conductor],
    pigtails: Container[str],
) -> None:
    """Replace each load whose hot or return stops short, if joints as built take it farther."""
    joint_of = {end: ends for ends in _linked(joints, pigtails) for end in ends}
    boxes: dict[str, list[str]] = {}
    for load in loads.values():
        boxes.setdefault(load.owner.id, []).append(load.box)
    for name, load in loads.items():
        hot, back = load.hot, load.back
        if hot is not None and hot.fault is not None:
            hot = _carried(hot, boxes[load.owner.id], joint_of, conductors) or hot
        if back is not None and back.fault is not None:
            back = _carried(back, [load.box], joint_of, conductors) or back
        if hot is not load.hot or back is not load.back:
            loads[name] = replace(load, hot=hot, back=back)


def _linked(joints: Iterable[Joint], pigtails: Container[str]) -> list[tuple[End, ...]]:
    """The ends of each joint; of those that a pigtail links, all together."""
    return merged(
        tuple(
            e._replace(side="") if e.of in pigtails else e for e in joint.ends if e.of != joint.at
        )
        for joint in joints
    )


def _carried(
    way: Route, boxes: list[str], joint_of: Ways, conductors: Mapping[str, Conductor]
) -> Route | None:
    """The shortest way on, in hops, that passes every box; None if no joint takes it there."""
    if not way.hops:
        return None
    *before, last = way.hops
    seen: set[str] = set()
    queue: deque[tuple[Hop, ...]] = deque([(last,)])
    while queue:
        *passed, hop = queue.popleft()
        if hop.conductor.name in seen:
            continue
        seen.add(hop.conductor.name)
        hops = (*before, *passed)
        goal = _index_of_last(hop, boxes, hops)
        if goal is not None:
            return Route(begin=way.begin, hops=(*hops, hop._replace(end=goal)))
        for here, onward in _onward(hop, joint_of, conductors):
            queue.append((*passed, hop._replace(end=here), onward))
    return None


def _index_of_last(hop: Hop, boxes: list[str], hops: tuple[Hop, ...]) -> int | None:
    """Where along the hop the last of the boxes is passed, if all are passed by then."""
    passed = {h.conductor.places[i] for h in hops for i in (h.start, *h.indices)}
    for index in hop.indices:
        passed.add(hop.conductor.places[index])
        if passed.issuperset(boxes):
            return index
    return None


def _onward(
    hop: Hop, joint_of: Ways, conductors: Mapping[str, Conductor]
) -> Iterator[tuple[int, Hop]]:
    """Each conductor that a written joint puts behind this one, with the index where it does."""
    for index in hop.indices:
        for end in joint_of.get(hop.arrival(index), ()):
            following = conductors.get(end.of)
            if following is None or following is hop.conductor:
                continue
            start = following.places.index(end.at)
            yield index, Hop(following, start, len(following.places) - 1 if end.side == OUT else 0)
