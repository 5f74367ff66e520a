"""Turn the conductors that a station names into a route: hop by hop from its terminal outward."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from itertools import zip_longest

from cardgen.faults.circuit_faults import HOT_STOPS, HOT_UNCLEAR
from cardgen.problems import Problem
from cardgen.wiring.meeting_legs import Together
from cardgen.wiring.wiring_parts import Conductor, End, Hop, Named, Route

UNCLEAR = HOT_UNCLEAR.code  # told at once: that the circuit is complete does not answer it


def route(
    named: Sequence[Named],
    begin: End,
    boxes: Iterable[str],
    who: str,
    together: Mapping[End, frozenset[str]] | None = None,
) -> Route:
    """The hops along the conductors from `begin` so that every box of `boxes` is passed.

    Two conductors are joined where the file says, or where a written joint puts them together,
    or where the second begins, or else where they first meet.

    Args:
        together: what written joints put together.  With it, what is not clear is asked about.
    """
    way = _Way(begin, set(boxes), who, together)
    fault = way.follow(named)
    return Route(begin=begin, hops=tuple(way.hops), fault=fault)


def known_out(named: Sequence[Named], begin: End, who: str, together: Together) -> Route:
    """What is known of a hot from its terminal outward, before nobody knows how it goes on."""
    way = _KnownOut(begin, set(), who, together)
    fault = way.along(named)
    return Route(begin=begin, hops=tuple(way.hops), fault=fault)


def known_in(
    named: Sequence[Named], leads: Mapping[str, End], who: str, together: Together
) -> Route:
    """What is known of a hot at its valves, inward from the lead that is farthest out.

    Args:
        named: outward, as written.
        leads: of its valves, by box.
    """
    last = named[-1].conductor
    order = {place: at for at, place in enumerate(last.places)}
    farthest = max(leads, key=lambda box: order.get(box, -1))
    way = _KnownIn(leads[farthest], set(leads), who, together)
    inward = [one._replace(begins=one.ends, ends=one.begins) for one in reversed(named)]
    fault = way.along(inward)
    return Route(begin=leads[farthest], hops=tuple(way.hops), fault=fault)


class _Way:
    """A route while it is made."""

    def __init__(
        self, begin: End, goals: set[str], who: str, together: Mapping[End, frozenset[str]] | None
    ) -> None:
        self.goals, self.who, self.together = goals, who, together
        self.hops: list[Hop] = []
        self.here = begin.at

    def follow(self, named: Sequence[Named]) -> Problem | None:
        """What keeps it from passing every box."""
        fault = self.along(named)
        if fault is not None:
            return fault
        left = self._left()
        if not left:
            return None
        return self._stops(named[-1], left)

    def along(self, named: Sequence[Named]) -> Problem | None:
        """What keeps it from following all of them."""
        named = _once(named)
        faults = (self._along(one, after) for one, after in zip_longest(named, named[1:]))
        return next((fault for fault in faults if fault is not None), None)

    def _along(self, one: Named, following: Named | None) -> Problem | None:
        c, here = one.conductor, self.here
        if here not in c.places:
            return HOT_STOPS.at(
                one.span, variant="does not come", conductor=c.name, at=here, hot=self.who
            )
        start = c.places.index(here)
        if one.begins is not None and one.begins != start:
            where = c.places[one.begins]
            return HOT_STOPS.at(
                one.span, variant="not brought", hot=self.who, at=where, conductor=c.name
            )
        end = self._takeover(one, following, start) if following else self._end(one, start)
        if isinstance(end, Problem):
            return end
        if end != start:
            self.hops.append(Hop(c, start, end))
            self.here = c.places[end]
        return None

    def _left(self) -> set[str]:
        """The boxes not yet passed."""
        passed = {h.conductor.places[i] for h in self.hops for i in (h.start, *h.indices)}
        return self.goals - passed - {self.here}

    def _end(self, one: Named, start: int) -> int | Problem:
        """The index at which the last conductor has passed all boxes."""
        c, left = one.conductor, self._left()
        if one.ends is not None:
            return one.ends
        if not left and self.hops and self.together is not None:
            last = self.hops[-1].conductor.name
            far = next(place for place in reversed(c.places) if place != self.here)
            return HOT_UNCLEAR.at(
                one.span,
                variant="arrived",
                hot=self.who,
                at=self.here,
                last=last,
                conductor=c.name,
                far=far,
            )
        if not left:
            return start
        ahead = {c.places.index(box) for box in left if box in c.places}
        if not ahead:
            if start == 0:
                self.hops.append(Hop(c, start, len(c.places) - 1))
                self.here = c.places[-1]
            return self._stops(one, left)
        if min(ahead) < start < max(ahead):
            return HOT_STOPS.at(
                one.span, variant="both ways", hot=self.who, conductor=c.name, at=self.here
            )
        return max(ahead) if max(ahead) > start else min(ahead)

    def _takeover(self, one: Named, following: Named, start: int) -> int | Problem:
        """The index at which the next conductor takes over."""
        c, after = one.conductor, following.conductor
        if one.ends is not None or following.begins is not None:
            return self._takeover_as_said(one, following)
        if self.together is not None:
            made = _put_together(c, after, start, self.together)
            if made is not None:
                return made
            if _beside(c, after, start):
                return HOT_UNCLEAR.at(
                    following.span,
                    following=after.name,
                    conductor=c.name,
                    at=self.here,
                    example=c.places[start + 1 if start + 1 < len(c.places) else start - 1],
                )
        shared = self._meeting(c, after, start)
        if shared is None:
            return HOT_STOPS.at(
                following.span,
                variant="never meet",
                conductor=c.name,
                following=after.name,
                hot=self.who,
            )
        return c.places.index(shared)

    def _meeting(self, c: Conductor, after: Conductor, start: int) -> str | None:
        return meeting(c, after, start)

    def _takeover_as_said(self, one: Named, following: Named) -> int | Problem:
        c, after = one.conductor, following.conductor
        places_named = [c.places[one.ends]] if one.ends is not None else []
        places_named += [after.places[following.begins]] if following.begins is not None else []
        at = places_named[0]
        if at != places_named[-1]:
            return HOT_UNCLEAR.at(
                following.span,
                variant="two boxes",
                conductor=c.name,
                at=at,
                following=after.name,
                other=places_named[-1],
            )
        for conductor in (c, after):
            if at not in conductor.places:
                return HOT_STOPS.at(
                    following.span,
                    variant="does not come",
                    conductor=conductor.name,
                    at=at,
                    hot=self.who,
                )
        if at == self.here:
            return HOT_UNCLEAR.at(
                one.span, variant="at once", conductor=c.name, at=at, following=after.name
            )
        return c.places.index(at)

    def _stops(self, one: Named, left: set[str]) -> Problem:
        """The reason why it ends early; whether it matters is seen when tracing."""
        first = self.hops[0].conductor if self.hops else one.conductor
        return HOT_STOPS.at(
            one.span,
            hot=self.who,
            conductor=first.name,
            at=self.here,
            boxes=" or ".join(f"'{box}'" for box in sorted(left)),
        )


class _KnownOut(_Way):
    """What is known from the terminal outward: of the last conductor one leg, if not said."""

    def _end(self, one: Named, start: int) -> int:
        if one.ends is not None:
            return one.ends
        return start + 1 if start + 1 < len(one.conductor.places) else start - 1


class _KnownIn(_Way):
    """What is known from the valve inward, named from there.

    As every hot it is written outward, so it comes by the side where a run begins.
    """

    def _end(self, one: Named, start: int) -> int:
        if one.ends is not None:
            return one.ends
        places = one.conductor.places
        passed = [places.index(box) for box in self._left() if box in places[:start]]
        return max(min((start, *passed)) - 1, 0) if start else 1

    def _meeting(self, c: Conductor, after: Conductor, start: int) -> str | None:
        return meeting(c, after, start, outer=c)


def _once(named: Sequence[Named]) -> list[Named]:
    """Without those that repeat the one before, which is told by itself."""
    found: list[Named] = []
    for one in named:
        if not found or one._replace(span=found[-1].span) != found[-1]:
            found.append(one)
    return found


def _put_together(
    conductor: Conductor, following: Conductor, start: int, together: Mapping[End, frozenset[str]]
) -> int | None:
    """Where on its way, outward first, a written joint puts `following` behind a conductor."""
    for end in (len(conductor.places) - 1, 0):
        hop = Hop(conductor, start, end)
        for index in hop.indices if end != start else ():
            if following.name in together.get(hop.arrival(index), ()):
                return index
    return None


def _beside(conductor: Conductor, following: Conductor, start: int) -> bool:
    """Whether both leave one place for the next, so that either could take over anywhere."""
    here = conductor.places[start]
    if here not in following.places or following is conductor:
        return False
    if not _neighbors(conductor, here) & _neighbors(following, here):
        return False
    shared = set(conductor.places) & set(following.places) - {here}
    return conductor.cable.id == following.cable.id or len(shared) > 1


def _neighbors(conductor: Conductor, at: str) -> set[str]:
    index = conductor.places.index(at)
    return set(conductor.places[max(0, index - 1) : index + 2]) - {at}


def meeting(
    conductor: Conductor, following: Conductor, start: int, outer: Conductor | None = None
) -> str | None:
    """Where `following` takes over from `conductor`, which is entered at index `start`.

    Args:
        outer: the one that is farther from the terminal, if it is not `following`.
    """
    outer = outer or following
    shared = [p for p in conductor.places if p in following.places]
    shared = [p for p in shared if p != conductor.places[start]]
    if not shared:
        return None
    for preferred in (outer.places[0], outer.places[-1]):
        if preferred in shared:
            return preferred
    return min(shared, key=lambda p: abs(conductor.places.index(p) - start))
