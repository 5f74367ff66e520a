r"""Make up the boxes that are not written out, the way that the trade usually does.

C --- white ----+------------+------ white        a conductor passes uncut unless something
                |  \          |  \                  in the box takes it; the common joins every
               [A1] red     [A2] blue             one of its valves in the box and goes on
1 --- red -----------'            |
2 --- blue -----------------------'
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import chain

from cardgen.faults.common_faults import COMMON_UNCLEAR
from cardgen.job.job_parts import Job
from cardgen.problems import Problem
from cardgen.trade.colors import Insulation
from cardgen.wiring.wiring_parts import IN, OUT, Conductor, End, Joint, Landing, Route

Group = tuple[End, ...]
Key = tuple[str, int]


class UsualMakeup:
    """Collects, place by place, which ends are joined when nothing else is written."""

    def __init__(self, job: Job) -> None:
        self.job = job
        self.groups: dict[str, list[Group]] = defaultdict(list)
        self.problems: list[Problem] = []
        self.open_ends: set[End] = set()

    def join(self, *ends: End) -> None:
        at = ends[0].at
        if at not in self.job.joints and len(set(ends)) > 1:
            self.groups[at].append(ends)

    def way(self, way: Route, leads: Mapping[str, Sequence[End]]) -> None:
        """Join a route's conductors with each other and with the leads of each box it passes."""
        arrived: End = way.begin
        for number, hop in enumerate(way.hops):
            here = hop.conductor.places[hop.start]
            self.join(arrived, hop.departure, *(leads.get(here, ()) if number else ()))
            for index in hop.indices:
                place = hop.conductor.places[index]
                arrived = hop.arrival(index)
                is_last_of_hop = index == hop.end
                if place in leads and not (is_last_of_hop and number + 1 < len(way.hops)):
                    onward = () if is_last_of_hop else (_other_side(arrived),)
                    self.join(arrived, *onward, *leads[place])
        if way.hops and way.fault is None and arrived.at not in leads:
            self.cut(way.hops[-1].conductor, arrived)

    def known_part(self, way: Route, leads: Mapping[str, Sequence[End]]) -> None:
        """Join what is known of a hot; with what its end is joined nobody knows."""
        self.way(way, {at: ends for at, ends in leads.items() if at != way.begin.at})
        self.join(way.begin, *leads.get(way.begin.at, ()))
        last = way.hops[-1]
        end = last.arrival(last.end)
        if end.at not in self.job.joints:
            self.open_ends.add(end)

    def cut(self, conductor: Conductor, end: End) -> None:
        """Cut a conductor where it is said to serve no farther, though nothing takes it there."""
        if end.at not in self.job.joints and len(conductor.ends_at(end.at)) > 1:
            self.groups[end.at].append((end,))

    def end_of_stretches(self, landings: Iterable[Landing]) -> None:
        """Cut the conductors of a common where the file says that they begin or end."""
        for la in landings:
            for place in (la.places[0], la.places[-1]):
                self.cut(la.conductor, la.ends_at(place)[0])

    def like_with_like(self, stretches: Iterable[Landing]) -> None:
        """Where wires of a sensor end and as many begin, like color is joined with like.

        If that does not pair them all, nothing is joined: the job has to say it.
        """
        arriving: dict[str, dict[Insulation, End]] = defaultdict(dict)
        leaving: dict[str, dict[Insulation, End]] = defaultdict(dict)
        for s in stretches:
            first, last = s.places[0], s.places[-1]
            arriving[last][s.conductor.insulation] = s.ends_at(last)[0]
            leaving[first][s.conductor.insulation] = s.ends_at(first)[0]
        for place, ends in arriving.items():
            onward = leaving[place]
            if place in self.job.boxes and ends.keys() == onward.keys():
                for color, end in ends.items():
                    self.join(end, onward[color])

    def common(
        self,
        landings: Sequence[Landing],
        landing_ends: Mapping[str, End],
        leads: Mapping[str, Sequence[tuple[End, str | None]]],
    ) -> None:
        """Join the conductors of one common with each other and with the leads they serve.

        Args:
            landing_ends: by conductor, the terminal (or contact) on which it lands.
            leads: by box, each lead with the name of the conductor that should take it, or "";
                None leaves it out where there are several, for nobody knows.
        """
        for landing in landings:
            end = landing_ends.get(landing.conductor.name)
            if end is not None and end.at in landing.places:
                others = (la.places for la in landings if la is not landing)
                self.join(end, *_landed(landing, end.at, {*leads, *chain(*others)}))
        by_place = _by_place(landings)
        starts = {la.key: _start(la, by_place, landing_ends) for la in landings}
        for box, present in by_place.items():
            if box in self.job.boxes and box not in self.job.joints:  # written: nothing to ask
                self._common_in_box(present, starts, box, leads.get(box, ()))

    def path(
        self,
        landings: Sequence[Landing],
        landing_ends: Mapping[str, End],
        leads: Mapping[str, Sequence[End]],
    ) -> None:
        """Join all conductors of one side of a two-wire path, and its decoders, in each box."""
        by_place = _by_place(landings)
        for end in dict.fromkeys(landing_ends.values()):
            self.join(end, *(e for la in by_place.get(end.at, ()) for e in la.ends_at(end.at)))
        for box, present in by_place.items():
            if box in self.job.boxes and (len(present) > 1 or leads.get(box)):
                ends = (e for la in present for e in la.ends_at(box))
                self.join(*ends, *leads.get(box, ()))

    def _common_in_box(
        self,
        present: Sequence[Landing],
        starts: Mapping[Key, str],
        box: str,
        leads: Sequence[tuple[End, str | None]],
    ) -> None:
        fed = [la for la in present if starts[la.key] != box]
        starting = [la for la in present if starts[la.key] == box]
        trunks = fed or starting
        groups: dict[Key, list[End]] = {la.key: [] for la in trunks}
        for landing in starting if fed else ():
            groups[self._feeder(landing, fed, box).key].extend(landing.ends_at(box))
        for lead, wanted in leads:
            meant = [key for key in groups if key[0] == wanted]
            if not meant and len(groups) > 1:
                if wanted is None:
                    continue
                self._unclear(lead, box, [name for name, _ in groups])
            groups[(meant or list(groups))[0]].append(lead)
        for landing in trunks:
            taken = groups[landing.key]
            if taken:
                self.join(*landing.ends_at(box), *taken)

    def _feeder(self, landing: Landing, fed: list[Landing], box: str) -> Landing:
        ending = [la for la in fed if box in (la.places[-1], la.conductor.places[-1])]
        candidates = ending or fed
        if len(candidates) > 1:
            self._report(
                COMMON_UNCLEAR.at(
                    landing.span,
                    variant="begins",
                    conductor=landing.conductor.name,
                    box=box,
                    commons=" or ".join(la.conductor.name for la in candidates),
                )
            )
        return candidates[0]

    def _unclear(self, lead: End, box: str, names: list[str]) -> None:
        load = self.job.stations.get(lead.of)
        place = load.span if load else self.job.boxes[box].span
        self._report(
            COMMON_UNCLEAR.at(
                place, box=box, valve=lead.of, commons=" or to ".join(names), first=names[0]
            )
        )

    def _report(self, problem: Problem) -> None:
        told = any(p.sentence == problem.sentence for p in self.problems)
        if problem.span.file and not told:
            self.problems.append(problem)

    def joints(self) -> Iterator[Joint]:
        """Groups that share an end are one joint."""
        for at, groups in self.groups.items():
            entry = self.job.boxes.get(at) or self.job.controllers[at]
            for ends in merged(groups):
                yield Joint(at=at, ends=ends, span=entry.span, as_built=False)


def _landed(landing: Landing, at: str, served: set[str]) -> Group:
    """Its ends that are put on C: of two sides, as with a hot, not the one that serves nothing."""
    ends, places = landing.ends_at(at), landing.places
    index = places.index(at)
    before, after = served & {*places[:index]}, served & {*places[index + 1 :]}
    if len(ends) < 2 or bool(before) is bool(after):
        return ends
    return ends[:1] if before else ends[1:]


def merged(groups: Iterable[Group]) -> list[Group]:
    """Each end once, in the order of its first group."""
    set_of: dict[End, int] = {}
    sets: list[dict[End, None]] = []
    for group in groups:
        touched = {set_of[end] for end in group if end in set_of}
        # The small go into the large, so that no end moves often.
        into = max(touched, key=lambda n: len(sets[n]), default=len(sets))
        if into == len(sets):
            sets.append({})
        for other in touched - {into}:
            sets[into].update(sets[other])
            set_of.update(dict.fromkeys(sets[other], into))
            sets[other] = {}
        sets[into].update(dict.fromkeys(group))
        set_of.update(dict.fromkeys(group, into))
    return [tuple(ends) for ends in sets if ends]


def _other_side(end: End) -> End:
    return End(end.of, end.at, OUT if end.side == IN else IN)


def _by_place(landings: Iterable[Landing]) -> dict[str, list[Landing]]:
    found: dict[str, list[Landing]] = defaultdict(list)
    for landing in landings:
        for place in landing.places:
            found[place].append(landing)
    return found


def _start(
    landing: Landing, by_place: Mapping[str, list[Landing]], landing_ends: Mapping[str, End]
) -> str:
    """The box where another conductor feeds this one; empty if it comes from its terminal."""
    end = landing_ends.get(landing.conductor.name)
    if end is not None and end.at in landing.places:
        return ""
    if landing.source:
        return landing.source
    places = landing.places
    return next((place for place in places if len(by_place[place]) > 1), places[0])
