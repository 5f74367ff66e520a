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

from cardgen.job.model import Job
from cardgen.problems import Place, Problem, Verdict
from cardgen.trade.colours import Insulation
from cardgen.wiring.model import Conductor, End, Joint, Landing, Route

Group = tuple[End, ...]


class UsualMakeup:
    """Collects, place by place, which ends are joined when nothing else is written."""

    def __init__(self, job: Job) -> None:
        self.job = job
        self.groups: dict[str, list[Group]] = defaultdict(list)
        self.problems: list[Problem] = []

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

    def like_with_like(self, conductors: Iterable[Conductor]) -> None:
        """Where wires of a sensor end and as many begin, like colour is joined with like.

        If that does not pair them all, nothing is joined: the job has to say it.
        """
        arriving: dict[str, dict[Insulation, End]] = defaultdict(dict)
        leaving: dict[str, dict[Insulation, End]] = defaultdict(dict)
        for c in conductors:
            arriving[c.places[-1]][c.insulation] = c.ends_at(c.places[-1])[0]
            leaving[c.places[0]][c.insulation] = c.ends_at(c.places[0])[0]
        for place, ends in arriving.items():
            onward = leaving[place]
            if place in self.job.boxes and ends.keys() == onward.keys():
                for colour, end in ends.items():
                    self.join(end, onward[colour])

    def common(
        self,
        landings: Sequence[Landing],
        landing_ends: Mapping[str, End],
        leads: Mapping[str, Sequence[tuple[End, str]]],
    ) -> None:
        """Join the conductors of one common with each other and with the leads they serve.

        Args:
            landing_ends: by conductor, the terminal (or contact) on which it lands.
            leads: by box, each lead with the name of the conductor that should take it, or "".
        """
        for landing in landings:
            end = landing_ends.get(landing.conductor.name)
            if end is not None and not landing.begins:
                others = (la.conductor.places for la in landings if la is not landing)
                self.join(end, *_landed(landing.conductor, end.at, {*leads, *chain(*others)}))
        by_place = _by_place(landings)
        starts = {la.conductor.name: _start(la, by_place, landing_ends) for la in landings}
        for box, present in by_place.items():
            if box in self.job.boxes:
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
            self.join(end, *(e for la in by_place.get(end.at, ()) for e in _ends_from(la, end.at)))
        for box, present in by_place.items():
            ends = [e for la in present for e in _ends_from(la, box)]
            if box in self.job.boxes and (len(ends) > 2 or leads.get(box)):
                self.join(*ends, *leads.get(box, ()))

    def _common_in_box(
        self,
        present: Sequence[Landing],
        starts: Mapping[str, str],
        box: str,
        leads: Sequence[tuple[End, str]],
    ) -> None:
        fed = [la for la in present if starts[la.conductor.name] != box]
        starting = [la for la in present if starts[la.conductor.name] == box]
        trunks = fed or starting
        groups: dict[str, list[End]] = {la.conductor.name: [] for la in trunks}
        for landing in starting if fed else ():
            feeder = self._feeder(landing, fed, box)
            groups[feeder.conductor.name].extend(_ends_from(landing, box))
        for lead, wanted in leads:
            name = wanted if wanted in groups else next(iter(groups))
            if wanted not in groups and len(groups) > 1:
                self._unclear(lead, box, list(groups))
            groups[name].append(lead)
        for landing in trunks:
            taken = groups[landing.conductor.name]
            if taken:
                self.join(*_ends_from(landing, box), *taken)

    def _feeder(self, landing: Landing, fed: list[Landing], box: str) -> Landing:
        ending = [la for la in fed if la.conductor.places[-1] == box]
        candidates = ending or fed
        if len(candidates) > 1:
            names = " or ".join(la.conductor.name for la in candidates)
            self._report(
                landing.place,
                f"{landing.conductor.name} begins in '{box}', where {names} could feed it",
                f"write out the joints of '{box}'",
            )
        return candidates[0]

    def _unclear(self, lead: End, box: str, names: list[str]) -> None:
        load = self.job.stations.get(lead.of)
        place = load.place if load else self.job.boxes[box].place
        self._report(
            place,
            f"in '{box}' the lead of {lead.of} could go to {' or to '.join(names)}",
            f"write 'common: {names[0]}' for {lead.of}, or write out the joints of '{box}'",
        )

    def _report(self, place: Place, sentence: str, help_: str) -> None:
        if place.file and not any(p.sentence == sentence for p in self.problems):
            self.problems.append(
                Problem(
                    code="common-unclear",
                    verdict=Verdict.ERROR,
                    place=place,
                    sentence=sentence,
                    help=help_,
                )
            )

    def joints(self) -> Iterator[Joint]:
        """Groups that share an end are one joint."""
        for at, groups in self.groups.items():
            entry = self.job.boxes.get(at) or self.job.controllers[at]
            for ends in _merged(groups):
                yield Joint(at=at, ends=ends, place=entry.place, as_built=False)


def _landed(conductor: Conductor, at: str, served: set[str]) -> Group:
    """Its ends that are put on C: of two sides, as with a hot, not the one that serves nothing."""
    ends, index = conductor.ends_at(at), conductor.places.index(at)
    before, after = served & {*conductor.places[:index]}, served & {*conductor.places[index + 1 :]}
    if len(ends) < 2 or bool(before) is bool(after):
        return ends
    return ends[:1] if before else ends[1:]


def _merged(groups: Iterable[Group]) -> list[Group]:
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
    return end._replace(side="out" if end.side == "in" else "in")


def _by_place(landings: Iterable[Landing]) -> dict[str, list[Landing]]:
    found: dict[str, list[Landing]] = defaultdict(list)
    for landing in landings:
        for place in landing.conductor.places[landing.begins :]:
            found[place].append(landing)
    return found


def _start(
    landing: Landing, by_place: Mapping[str, list[Landing]], landing_ends: Mapping[str, End]
) -> str:
    """The box where another conductor feeds this one; empty if it comes from its terminal."""
    places = landing.conductor.places[landing.begins :]
    if not landing.begins and landing.conductor.name in landing_ends:
        return ""
    return next((place for place in places if len(by_place[place]) > 1), places[0])


def _ends_from(landing: Landing, box: str) -> Group:
    if box not in landing.conductor.places[landing.begins :]:
        return ()
    ends = landing.conductor.ends_at(box)
    if landing.begins and landing.conductor.places[landing.begins] == box:
        return tuple(e for e in ends if e.side == "out")
    return ends
