"""Lead routes through written joints where a station does not name the conductors they take."""

from __future__ import annotations

from collections import deque
from collections.abc import Container, Iterable, Iterator, Mapping

from cardgen.light_dataclass import replace
from cardgen.wiring.usual import merged
from cardgen.wiring.wiring_parts import OUT, Conductor, End, Hop, Joint, Load, Route

Ways = Mapping[End, tuple[End, ...]]


def carry_on(
    loads: dict[str, Load],
    joints: Iterable[Joint],
    conductors: Mapping[str, Conductor],
    pigtails: Container[str],
) -> None:
    """Replace each load whose hot or return stops short, or leaves what it names in a joint."""
    joint_of = {end: ends for ends in _linked(joints, pigtails) for end in ends}
    boxes: dict[str, list[str]] = {}
    for load in loads.values():
        boxes.setdefault(load.owner.id, []).append(load.box)
    for name, load in loads.items():
        hot = load.hot and _as_joined(load.hot, boxes[load.owner.id], joint_of, conductors)
        back = load.back and _as_joined(load.back, [load.box], joint_of, conductors)
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


def _as_joined(
    way: Route, boxes: list[str], joint_of: Ways, conductors: Mapping[str, Conductor]
) -> Route:
    """The way that the joints make of it; as it is written where they do not bring it there."""
    left = [n for n, hop in enumerate(way.hops) if _first_cut(hop, joint_of) != hop.end]
    if way.fault is not None and way.hops:
        left.append(len(way.hops) - 1)
    for number in left:
        found = _carried(way, number, boxes, joint_of, conductors)
        if found is not None:
            return found
    return way


def _first_cut(hop: Hop, joint_of: Ways) -> int:
    """The index at which a written joint ends its metal, or else its own end."""
    for index in hop.indices[:-1]:
        one, two = map(joint_of.get, hop.conductor.ends[index])
        if one is not two:  # neither in a joint: it passes uncut
            return index
    return hop.end


def _carried(
    way: Route, number: int, boxes: list[str], joint_of: Ways, conductors: Mapping[str, Conductor]
) -> Route | None:
    """From a hop on the shortest way, in hops, that passes every box; None if there is none."""
    before = way.hops[:number]
    seen: set[End] = set()
    queue: deque[tuple[Hop, ...]] = deque([(way.hops[number],)])
    while queue:
        *passed, hop = queue.popleft()
        if hop.departure in seen:
            continue
        seen.add(hop.departure)
        hop = hop._replace(end=_first_cut(hop, joint_of))
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
