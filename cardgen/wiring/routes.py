"""Turn the conductors that a station names into a route: hop by hop from its terminal outward."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from itertools import zip_longest

from cardgen.problems import Problem, Verdict
from cardgen.wiring.model import Conductor, End, Hop, Named, Route

UNCLEAR = "hot-unclear"  # told at once: that the circuit is complete does not answer it


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
    fault = way.go(named)
    return Route(begin=begin, hops=tuple(way.hops), fault=fault)


class _Way:
    """A route while it is made."""

    def __init__(
        self, begin: End, goals: set[str], who: str, together: Mapping[End, frozenset[str]] | None
    ) -> None:
        self.goals, self.who, self.together = goals, who, together
        self.hops: list[Hop] = []
        self.here = begin.at

    def go(self, named: Sequence[Named]) -> Problem | None:
        """What keeps it from passing every box."""
        named = _once(named)
        for one, following in zip_longest(named, named[1:]):
            fault = self._along(one, following)
            if fault is not None:
                return fault
        left = self._left()
        if not left:
            return None
        return self._stops(named[-1], f"stops in '{self.here}'", left)

    def _along(self, one: Named, following: Named | None) -> Problem | None:
        c, here = one.conductor, self.here
        if here not in c.places:
            return self._fault(one, f"{c.name} does not come to '{here}'")
        start = c.places.index(here)
        if one.begins is not None and one.begins != start:
            where = c.places[one.begins]
            return self._fault(
                one, f"nothing brings {self.who} to '{where}', where {c.name} takes over"
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
            sentence = (
                f"{self.who} has arrived in '{self.here}' on {last}: {c.name} carries nothing"
            )
            return self._unclear(one, sentence, f"strike it, or say how far: '{c.name} to {far}'")
        if not left:
            return start
        ahead = {c.places.index(box) for box in left if box in c.places}
        if not ahead:
            if start == 0:
                self.hops.append(Hop(c, start, len(c.places) - 1))
                self.here = c.places[-1]
            return self._stops(one, f"stops in '{self.here}'", left)
        if min(ahead) < start < max(ahead):
            return self._fault(one, f"{self.who} goes both ways on {c.name} from '{self.here}'")
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
                sentence = f"{after.name} runs beside {c.name} from '{self.here}' on"
                at = c.places[start + 1 if start + 1 < len(c.places) else start - 1]
                help_ = f"say from which box it takes over: '{after.name} from {at}'"
                return self._unclear(following, sentence, help_)
        shared = meeting(c, after, start)
        if shared is None:
            return self._fault(following, f"{c.name} and {after.name} never come to one box")
        return c.places.index(shared)

    def _takeover_as_said(self, one: Named, following: Named) -> int | Problem:
        c, after = one.conductor, following.conductor
        said = [c.places[one.ends]] if one.ends is not None else []
        said += [after.places[following.begins]] if following.begins is not None else []
        at = said[0]
        if at != said[-1]:
            sentence = f"{c.name} ends in '{at}', and {after.name} begins in '{said[-1]}'"
            return self._unclear(following, sentence, "say one box for both")
        for conductor in (c, after):
            if at not in conductor.places:
                return self._fault(following, f"{conductor.name} does not come to '{at}'")
        if at == self.here:
            sentence = f"{c.name} carries nothing: in '{at}' {after.name} takes over at once"
            help_ = f"strike it, or say from which box {after.name} is used"
            return self._unclear(one, sentence, help_)
        return c.places.index(at)

    def _stops(self, one: Named, where: str, left: set[str]) -> Problem:
        first = self.hops[0].conductor if self.hops else one.conductor
        boxes = " or ".join(f"'{box}'" for box in sorted(left))
        sentence = f"{self.who} leaves on {first.name} and {where}; nothing carries it to {boxes}"
        return self._fault(one, sentence)

    def _fault(self, one: Named, sentence: str) -> Problem:
        """The reason why it ends early; whether it matters is seen when tracing."""
        return Problem(
            code="hot-stops",
            verdict=Verdict.ERROR,
            span=one.span,
            sentence=sentence,
            help=f"name all conductors of {self.who} from the controller outward, "
            "or write out the joints of the box where it goes on",
        )

    @staticmethod
    def _unclear(one: Named, sentence: str, help_: str) -> Problem:
        return Problem(
            code="hot-unclear",
            verdict=Verdict.ERROR,
            span=one.span,
            sentence=sentence,
            help=help_,
        )


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
    if not _neighbours(conductor, here) & _neighbours(following, here):
        return False
    shared = set(conductor.places) & set(following.places) - {here}
    return conductor.cable.id == following.cable.id or len(shared) > 1


def _neighbours(conductor: Conductor, at: str) -> set[str]:
    index = conductor.places.index(at)
    return set(conductor.places[max(0, index - 1) : index + 2]) - {at}


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
