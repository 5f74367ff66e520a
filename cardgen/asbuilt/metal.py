"""Turn the stretches that metal makes of each conductor into plain values, the free ones named.

A free stretch is a spare where a controller can reach it, or where nothing of its conductor is
used; any other is dead: what is left of a hot beyond its valve, of a common that was cut.
"""

from __future__ import annotations

from collections import Counter, defaultdict, deque
from collections.abc import Iterator, Mapping
from functools import cached_property

from cardgen.asbuilt.marks import mark, marks
from cardgen.asbuilt.model import built_conductors as model
from cardgen.facts import Facts, named
from cardgen.job.job_parts import Spare
from cardgen.units import in_meters, whole_length
from cardgen.wiring.uses import Role, Stretch, Use
from cardgen.wiring.wiring_parts import IN, OUT, Conductor, End
from cardgen.wiring.written import PIGTAIL_SIDES


class Metal:
    """What every end and every conductor of a job is; what the other builders ask."""

    def __init__(self, facts: Facts) -> None:
        self.facts = facts
        self._promised = {
            (claim.owner.id, claim.conductor, claim.leg)
            for claim in facts.written
            if claim.role is Role.SPARE
        }
        self._names = dict(self._named_free())
        # Of which something may be a hot that is not known; in most jobs none.
        self._maybe_hots = {
            name
            for name, stretches in facts.uses.stretches.items()
            if any(use.role is Role.MAYBE_HOT for s in stretches for use in s.uses)
        }

    def uses(self, end: End) -> tuple[Use, ...]:
        """What an end is, by metal; of a free stretch its name as a spare, or dead."""
        if end.of in self.facts.wiring.conductors:
            return self.uses_of(self.facts.uses.stretch_at(end))
        return self.facts.uses.of_end(end) if self.facts.network.knows(end) else ()

    def may_be_hot(self, end: End) -> bool:
        """Whether it may be a hot of which the job does not know, or one that goes on somehow."""
        if end in self.facts.wiring.open_ends:
            return True
        return end.of in self._maybe_hots and any(
            use.role is Role.MAYBE_HOT for use in self.uses(end)
        )

    def is_uncut(self, one: End, other: End) -> bool:
        """Both ends of a conductor in a place are one piece of metal."""
        return self.facts.network.net(one) == self.facts.network.net(other)

    def uses_of(self, stretch: Stretch) -> tuple[Use, ...]:
        if stretch.uses:
            return stretch.uses
        name = self.name_of(stretch)
        return (Use(role=Role.DEAD if self.is_dead(stretch) else Role.SPARE, of=name),)

    def name_of(self, stretch: Stretch) -> str:
        """The name on the flag of a free stretch."""
        return self._names[stretch.conductor.name, stretch.start]

    def said_of(self, stretch: Stretch) -> Spare | None:
        """What the job says of a free stretch."""
        return self.facts.job.spares.get(self.name_of(stretch))

    @property
    def free(self) -> Iterator[Stretch]:
        """Every free stretch, cable by cable."""
        for found in self.facts.uses.stretches.values():
            yield from (stretch for stretch in found if not stretch.uses)

    def is_dead(self, stretch: Stretch) -> bool:
        """No controller reaches it, and the job does not list it as a spare."""
        return self.said_of(stretch) is None and self._is_left_over(stretch)

    def _is_left_over(self, stretch: Stretch) -> bool:
        if stretch.start == 0 and stretch.first in self.facts.job.controllers:
            return False
        return any(s.uses for s in self.facts.uses.stretches[stretch.conductor.name])

    def _named_free(self) -> Iterator[tuple[tuple[str, int], str]]:
        """Spares by their name in the job; the others by their place in the cable: SP-A-K1-6."""
        promised: dict[str, list[Spare]] = defaultdict(list)
        for spare in self.facts.job.spares.values():
            for conductor, _ in named(self.facts, spare.conductor):
                promised[conductor.name].append(spare)
        numbers: Counter[str] = Counter()
        for name, stretches in self.facts.uses.stretches.items():
            cable = self.facts.wiring.conductors[name].cable.id
            numbers[cable] += 1
            letters = iter(("", *"bcdefghijklmnopqrstuvwxyz"))
            for stretch in stretches:
                if stretch.uses:
                    continue
                listed = next((s for s in promised[name] if self._promises(s, stretch)), None)
                kind = "DEAD" if self._is_left_over(stretch) else "SP"
                own = listed.id if listed else f"{kind}-{cable}-{numbers[cable]}{next(letters)}"
                yield (name, stretch.start), own

    def _promises(self, spare: Spare, stretch: Stretch) -> bool:
        """The promise covers the stretch or a part of it.

        Of a conductor that is joined on toward the place in another, only what is joined is meant.
        """
        places, name = stretch.conductor.places, stretch.conductor.name
        legs = range(stretch.start, stretch.end)
        if not any((spare.id, name, leg) in self._promised for leg in legs):
            return False
        if spare.to is None or spare.to.value in places:
            return spare.to is None or stretch.start < places.index(spare.to.value)
        network, to = self.facts.network, spare.to.value
        ends = [
            End(conductor.name, to, side)
            for conductor, _ in named(self.facts, spare.conductor)
            for side in (IN, OUT)
        ]
        reached = {network.group(end) for end in ends if network.knows(end)}
        mine = self.facts.uses.stretches[stretch.conductor.name]
        joined = [each for each in mine if network.group(each.ends[0]) in reached]
        return stretch in joined or not joined

    # -- plain values ----------------------------------------------------------------------------

    def conductors(self) -> Iterator[model.BuiltConductor]:
        for name, conductor in self.facts.wiring.conductors.items():
            yield model.BuiltConductor(
                name=name,
                mark=mark(conductor),
                places=conductor.places,
                legs=tuple(map(in_meters, conductor.legs)),
                stretches=tuple(self._stretch(s) for s in self.facts.uses.stretches[name]),
            )

    def _stretch(self, stretch: Stretch) -> model.BuiltStretch:
        first, last = stretch.ends
        fed_from_last = self._distance(last) < self._distance(first)
        return model.BuiltStretch(
            first=stretch.first,
            last=stretch.last,
            through=stretch.places[1:-1],
            meters=whole_length(stretch.conductor.legs[stretch.start : stretch.end]),
            uses=self.uses_of(stretch),
            fed_from_last=fed_from_last,
            fed_at=self._fed_between(stretch),
            onward_first=self._onward(first, stretch, fed=not fed_from_last),
            onward_last=self._onward(last, stretch, fed=fed_from_last),
            open_at=tuple(e.at for e in (first, last) if e in self.facts.wiring.open_ends),
        )

    def _fed_between(self, stretch: Stretch) -> str:
        """A place on its way that is nearer to the terminals than both of its ends."""
        ends = [End(stretch.conductor.name, place, IN) for place in stretch.places[1:-1]]
        nearest = min(ends, key=self._distance, default=None)
        if nearest and self._distance(nearest) < min(map(self._distance, stretch.ends)):
            return nearest.at
        return ""

    def _onward(self, end: End, stretch: Stretch, *, fed: bool) -> tuple[model.ConductorMark, ...]:
        """What it comes by at the end where it is fed; else what it goes on in.

        Round a ring it may do both at one end: then all are told.  On a terminal none goes on.
        """
        joint = self.facts.joint_of.get(end)
        if joint is None or joint.at in self.facts.job.controllers:
            return ()
        nearer: list[Conductor] = []
        further: list[Conductor] = []
        for other in self.joined_with(end):
            conductor = self.facts.wiring.conductors.get(other.of)
            if conductor is None or other.of == end.of:
                continue
            if not stretch.uses or set(self.uses(other)) & set(stretch.uses):
                beyond = self._distance(other_end(conductor, other))
                (nearer if beyond < self._distance(end) else further).append(conductor)
        wanted, rest = (nearer, further) if fed else (further, nearer)
        return marks(wanted or rest)

    def joined_with(self, end: End) -> tuple[End, ...]:
        """What is in one joint with an end, itself too; beyond pigtails also what they link."""
        linked = self._linked.get(self.facts.as_linked(end))
        joint = self.facts.joint_of.get(end)
        return linked or (joint.ends if joint else ())

    @cached_property
    def _linked(self) -> Mapping[End, tuple[End, ...]]:
        """All that is joined in the places where there are pigtails; each of these once."""
        places = dict.fromkeys(pigtail.at.value for pigtail in self.facts.job.pigtails.values())
        return {
            end: group for at in places for group in self.facts.linked_ends(at) for end in group
        }

    def pigtail_feeds(self, end: End) -> bool:
        """What is joined comes to this end through the pigtail; else the way it is written."""
        one, two = PIGTAIL_SIDES
        far = self._distance(end._replace(side=two if end.side == one else one))
        return far < self._distance(end) or (far == self._distance(end) and end.side == two)

    def feeds(self, end: End) -> bool:
        """What a conductor is comes to this end along it; of a free one the way of its run."""
        conductor = self.facts.wiring.conductors[end.of]
        far = self._distance(other_end(conductor, end))
        near = self._distance(end)
        if far == near == len(self._distances):
            return not leaves(end)
        return far < near

    def _distance(self, end: End) -> int:
        return self._distances.get(self.facts.network.net(end), len(self._distances))

    @cached_property
    def _distances(self) -> Mapping[int, int]:
        """By net, how many legs lie between it and the nearest terminal."""
        network, job = self.facts.network, self.facts.job
        isolators = {load.hot_end for load in self.facts.wiring.loads.values()}
        isolators |= {load.back_end for load in self.facts.wiring.loads.values()}
        roots = [e for e in network.ends if e.of in job.controllers or e in isolators]
        found = dict.fromkeys((network.net(end) for end in roots), 0)
        queue = deque(found)
        while queue:
            net = queue.popleft()
            for edge in network.edges.get(net, ()):
                further, _ = edge.traveled_from(net)
                if further not in found:
                    found[further] = found[net] + 1
                    queue.append(further)
        return found


def toward(conductor: Conductor, end: End) -> str:
    """The next place along a conductor, seen from one of its ends."""
    index = conductor.places.index(end.at)
    return conductor.places[index - 1 if end.side == IN else index + 1]


def other_end(conductor: Conductor, end: End) -> End:
    """The other end of the leg that an end belongs to."""
    return End(conductor.name, toward(conductor, end), OUT if end.side == IN else IN)


def leaves(end: End) -> bool:
    """The conductor goes on from here, away from the start of its run."""
    return end.side == OUT
