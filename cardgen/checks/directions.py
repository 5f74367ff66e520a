"""Check that runs are written from the controller outward, where the file leaves no doubt."""

from __future__ import annotations

from collections import defaultdict, deque
from collections.abc import Iterable, Iterator, Mapping

from cardgen.facts import Facts
from cardgen.faults.conductor_faults import RUN_TOWARD_CONTROLLER
from cardgen.job.job_parts import Cable
from cardgen.problems import Problem

CablesAt = Mapping[str, list[Cable]]


def runs_toward_the_controller(facts: Facts) -> Iterator[Problem]:
    """A run whose last place a controller feeds, and whose first place only by way of this run."""
    if facts.job.unread:
        return  # a cable that could not be read may be the one that feeds it
    cables_at: dict[str, list[Cable]] = defaultdict(list)
    for cable in facts.job.cables.values():
        for stop in cable.run:
            cables_at[stop.at].append(cable)
    controllers = facts.job.controllers.values()
    starts = {c.id for c in controllers} | {c.box.value for c in controllers if c.box}
    fed = _fed_outward(starts, cables_at)
    for cable in facts.job.cables.values():
        first, last = cable.run[0].at, cable.run[-1].at
        if first in fed or cable.id in facts.wiring.reported:
            continue
        reached = _reached(starts, cables_at, without=cable)
        if last in reached and first not in reached:
            yield RUN_TOWARD_CONTROLLER.at(
                cable.run[0].span, cable=cable.id, first=first, last=last, run=_turned(cable)
            )


def _fed_outward(starts: Iterable[str], cables_at: CablesAt) -> set[str]:
    """Places that are reached along the runs as they are written."""
    fed, waiting = set(starts), deque(starts)
    while waiting:
        place = waiting.popleft()
        for cable in cables_at.get(place, ()):
            places = [stop.at for stop in cable.run]
            onward = [at for at in places[places.index(place) + 1 :] if at not in fed]
            fed.update(onward)
            waiting.extend(onward)
    return fed


def _reached(starts: Iterable[str], cables_at: CablesAt, *, without: Cable) -> set[str]:
    """Places that are reached either way along all other runs."""
    reached, waiting, gone = set(starts), deque(starts), {without.id}
    while waiting:
        for cable in cables_at.get(waiting.popleft(), ()):
            if cable.id in gone:
                continue
            gone.add(cable.id)
            new = [stop.at for stop in cable.run if stop.at not in reached]
            reached.update(new)
            waiting.extend(new)
    return reached


def _turned(cable: Cable) -> str:
    """`[A, 85 ft, VB-1, 60 ft, VB-2]`: the same run from its other end."""
    parts: list[str] = []
    for stop in reversed(cable.run):
        parts.append(stop.at)
        if stop.leg is not None:
            parts.append(str(stop.leg.value))
    return f"[{', '.join(parts)}]"
