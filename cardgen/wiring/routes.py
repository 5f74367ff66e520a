"""Turn the conductors that a station names into a route: hop by hop from its terminal outward."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from cardgen.problems import Place, Problem, Verdict
from cardgen.wiring.model import Conductor, End, Hop, Route


def route(
    conductors: Sequence[tuple[Conductor, Place]], begin: End, boxes: Iterable[str], who: str
) -> Route:
    """The hops along `conductors` from `begin` so that every box of `boxes` is passed.

    Two conductors are joined where the second begins, or else where they first meet.
    """
    goals = set(boxes)
    hops: list[Hop] = []
    here = begin.at
    for number, (conductor, place) in enumerate(conductors):
        if here not in conductor.places:
            return _stopped(begin, hops, place, f"{conductor.name} does not come to '{here}'", who)
        start = conductor.places.index(here)
        if number + 1 < len(conductors):
            following = conductors[number + 1][0]
            shared = meeting(conductor, following, start)
            if shared is None:
                sentence = f"{conductor.name} and {following.name} never come to one box"
                return _stopped(begin, hops, conductors[number + 1][1], sentence, who)
            end = conductor.places.index(shared)
        else:
            ahead = {conductor.places.index(b) for b in goals if b in conductor.places} - {start}
            if not ahead and goals <= {here}:
                break
            if not ahead:
                last = conductor.places[-1] if start == 0 else here
                sentence = f"{who} leaves on {conductors[0][0].name} and stops in '{last}'"
                if start == 0:
                    hops.append(Hop(conductor, start, len(conductor.places) - 1))
                return _stopped(begin, hops, place, sentence, who, _goal(goals))
            if min(ahead) < start < max(ahead):
                sentence = f"{who} goes both ways on {conductor.name} from '{here}'"
                return _stopped(begin, hops, place, sentence, who)
            end = max(ahead) if max(ahead) > start else min(ahead)
        hops.append(Hop(conductor, start, end))
        here = conductor.places[end]
    missed = goals - {h.conductor.places[i] for h in hops for i in (h.start, *h.indices)}
    if missed:
        last_place = conductors[-1][1]
        sentence = f"{who} leaves on {conductors[0][0].name} and stops in '{here}'"
        return _stopped(begin, hops, last_place, sentence, who, _goal(missed))
    return Route(begin=begin, hops=tuple(hops))


def _goal(missed: set[str]) -> str:
    return "nothing carries it to " + " or ".join(f"'{box}'" for box in sorted(missed))


def meeting(conductor: Conductor, following: Conductor, start: int) -> str | None:
    """Where `following` takes over from `conductor`, which is entered at index `start`."""
    shared = [p for p in conductor.places if p in following.places]
    shared = [p for p in shared if p != conductor.places[start]]
    if not shared:
        return None
    for preferred in (following.places[0], following.places[-1]):
        if preferred in shared:
            return preferred
    return min(shared, key=lambda p: abs(conductor.places.index(p) - start))


def _stopped(
    begin: End, hops: list[Hop], place: Place, sentence: str, who: str, way: str = ""
) -> Route:
    """A route that ends early, with the reason; whether it matters is seen when tracing."""
    fault = Problem(
        code="hot-stops",
        verdict=Verdict.ERROR,
        place=place,
        sentence=f"{sentence}; {way}" if way else sentence,
        help=f"name all conductors of {who} from the controller outward, "
        "or write out the joints of the box where it goes on",
    )
    return Route(begin=begin, hops=tuple(hops), fault=fault)
