"""Turn the joints that a job writes out into joints of ends: the truth as built."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator

from cardgen.faults.circuit_faults import END_IN_TWO_JOINTS, JOINT
from cardgen.faults.value_faults import UNKNOWN_NAME
from cardgen.job.job_parts import Job, Pigtail, WrittenJoints
from cardgen.problems import Also, Problem, Span
from cardgen.reading.shapes import Written, nearest
from cardgen.units import SupplyKind
from cardgen.wiring.conductor_catalog import Catalog
from cardgen.wiring.loads import Loads, valves_of
from cardgen.wiring.wiring_parts import COMMON_TERMINAL, IN, OUT, Conductor, End, Joint, Load

CONTACT_SIDES = ("C side", "field side")
PATH_SIDES = ("path 1", "path 2")
PIGTAIL_SIDES = ("end 1", "end 2")


class WrittenMakeup:
    """Reads the joints of every place that is written out."""

    def __init__(self, job: Job, catalog: Catalog, loads: Loads) -> None:
        self.job, self.catalog, self.loads = job, catalog, loads.by_id
        self._told = set(job.reported)
        for owner in loads.reported:
            station = job.stations.get(owner)
            self._told |= {owner, *(valves_of(station) if station else ())}
        self.problems: list[Problem] = []
        self.reported: set[str] = set()
        self._taken: dict[End, Span] = {}
        self._mentions: dict[str, int] = defaultdict(int)
        self._misplaced: set[tuple[str, str]] = set()
        self._terminals = {c: terminals_of(job, c) for c in job.controllers}

    def joints(self) -> Iterator[Joint]:
        for written in self.job.joints.values():
            if written.id in self.job.reported:
                continue
            before = len(self.problems)
            made = tuple(self._of_place(written))
            if len(self.problems) > before:
                self.reported.add(written.id)
            else:
                yield from made
        for pigtail in self.job.pigtails.values():
            self._loose(pigtail)

    def _of_place(self, written: WrittenJoints) -> Iterator[Joint]:
        for listed in written.joints:
            ends: list[End] = []
            which: set[int] = set()
            for words in listed.value:
                ends.extend(self._ends(words, written.id))
                which |= {number for number in (self._which(words, written.id),) if number}
            if len(which) > 1:
                self.problems.append(JOINT.at(listed.value[-1].span, variant="two terminals"))
            doubled = [e.of for e in ends if e.side == PIGTAIL_SIDES[1] and _has_first(e, ends)]
            if doubled:
                place = listed.value[-1].span
                fault = JOINT.at(place, variant="pigtail on itself", pigtail=doubled[0])
                self.problems.append(fault)
            if ends:
                yield Joint(
                    at=written.id,
                    ends=tuple(ends),
                    span=listed.span,
                    as_built=True,
                    which=next(iter(which), 0),
                )

    def _which(self, named: Written[str], at: str) -> int:
        """The number in `C 2`, where the strip has several C; else 0."""
        name, _, number = named.value.partition(" ")
        if at not in self._terminals or name != COMMON_TERMINAL or not number.isdecimal():
            return 0
        return int(number) if int(number) <= self._terminals[at].count(name) else 0

    def _loose(self, pigtail: Pigtail) -> None:
        """Tell of a pigtail that does not link two connectors."""
        at, count = pigtail.at.value, self._mentions[pigtail.id]
        if count == 2 or at in self.reported or {pigtail.id, at} & self.job.reported:
            return
        variant = "pigtail without joints"
        if at in self.job.joints:
            variant = "pigtail in one joint" if count else "pigtail in no joint"
        fault = JOINT.at(pigtail.span, variant=variant, pigtail=pigtail.id, at=at)
        self.problems.append(fault)
        self.reported.add(at)

    def _ends(self, named: Written[str], at: str) -> tuple[End, ...]:
        found = self._named(named, at)
        if isinstance(found, Problem):
            self.problems.append(found)
            return ()
        for end in found:
            if end in self._taken and end.of != at:  # a terminal may hold several
                also = (Also(span=self._taken[end], text="first joined here"),)
                fault = END_IN_TWO_JOINTS.at(named.span, words=named.value, at=at, also=also)
                self.problems.append(fault)
                return ()
            self._taken[end] = named.span
        return found

    def _named(self, named: Written[str], at: str) -> tuple[End, ...] | Problem:
        first, _, rest = named.value.partition(" ")
        strip = self._terminals.get(at, ())
        if named.value in strip:
            return (End(at, at, named.value),)
        if first == COMMON_TERMINAL and at in self._terminals and rest.isdecimal():
            if self._which(named, at):
                return (End(at, at, first),)
            count = strip.count(first)
            return JOINT.at(named.span, variant="no such C", at=at, count=count, words=named.value)
        if first in self.job.pigtails and first not in self._told:
            return self._pigtail(self.job.pigtails[first], rest, named, at)
        if first in self.loads:
            return self._lead(self.loads[first], rest, named, at)
        if first in self.job.decoders:
            return self._one_of(
                first, rest, PATH_SIDES, named, at, self.job.decoders[first].box.value
            )
        if first in self.job.sensors:
            return self._one_of(first, rest, CONTACT_SIDES, named, at, at)
        if first in self._told:
            self.reported.add(at)
            return ()
        if first in self.job.stations:
            valves = ", ".join(self.job.stations[first].valves)
            return JOINT.at(named.span, variant="several valves", station=first, valves=valves)
        return self._conductor(named, at)

    def _one_of(
        self, of: str, side: str, sides: tuple[str, ...], named: Written[str], at: str, home: str
    ) -> tuple[End, ...] | Problem:
        if side not in sides:
            ways = " or ".join(f"'{of} {s}'" for s in sides)
            return JOINT.at(named.span, variant="which lead", words=named.value, ways=ways)
        if home != at:
            return JOINT.at(named.span, variant="elsewhere", what=of, box=home, at=at)
        return (End(of, at, side),)

    def _pigtail(
        self, pigtail: Pigtail, side: str, named: Written[str], at: str
    ) -> tuple[End, ...] | Problem:
        if pigtail.at.value != at:
            if (pigtail.id, at) in self._misplaced:
                self.reported.add(at)
                return ()
            self._misplaced.add((pigtail.id, at))
            self.reported.add(pigtail.at.value)
            box = pigtail.at.value
            return JOINT.at(named.span, variant="elsewhere", what=pigtail.id, box=box, at=at)
        if side:
            return JOINT.at(
                named.span, variant="pigtail end", words=named.value, pigtail=pigtail.id
            )
        self._mentions[pigtail.id] += 1
        if self._mentions[pigtail.id] > 2:
            return JOINT.at(named.span, variant="pigtail too often", pigtail=pigtail.id)
        return (End(pigtail.id, at, PIGTAIL_SIDES[self._mentions[pigtail.id] - 1]),)

    def _lead(
        self, load: Load, side: str, named: Written[str], at: str
    ) -> tuple[End, ...] | Problem:
        isolated = side in (load.hot_end.side, load.back_end.side) and load.hot_end.of == load.id
        if isolated and at in self.job.controllers:
            return (End(load.id, load.hot_end.at, side),)
        if load.box != at:
            if (load.id, at) in self._misplaced:
                self.reported.add(at)
                return ()
            self._misplaced.add((load.id, at))
            what = f"the valve of {load.id}"
            return JOINT.at(named.span, variant="elsewhere", what=what, box=load.box, at=at)
        sides = (load.hot_lead.side, load.back_lead.side)
        if load.hot_lead.side != "lead 1":
            return self._one_of(load.id, side, sides, named, at, at)
        if side and self._polarity_missing(load):
            self.reported.add(at)
            return ()
        if side:
            return JOINT.at(named.span, variant="no lead", words=named.value, valve=load.id)
        self._mentions[load.id] += 1
        if self._mentions[load.id] > 2:
            return JOINT.at(named.span, variant="lead too often", valve=load.id)
        return (End(load.id, at, sides[self._mentions[load.id] - 1]),)

    def _polarity_missing(self, load: Load) -> bool:
        """Without the controller's rule no lead has a name; that it is missing is told later."""
        controller = self.job.controllers[load.controller]
        latching = controller.supply.value.kind is SupplyKind.LATCHING
        return latching and controller.polarity is None

    def _conductor(self, named: Written[str], at: str) -> tuple[End, ...] | Problem:
        words, _, last = named.value.rpartition(" ")
        side = last if last in (IN, OUT) else ""
        found = self.catalog.find(words if side else named.value, named.span)
        if found is None:
            self.reported.add(at)
            return ()
        if isinstance(found, Problem):
            return self._no_thing(named, at) if found.code == UNKNOWN_NAME.code else found
        return self._ends_of(found, side, named, at)

    def _no_thing(self, named: Written[str], at: str) -> Problem:
        """Neither conductor nor valve; with what it may be, or an example of what to write."""
        near = nearest(named.value.partition(" ")[0], [*self.loads, *self.job.cables])
        here = (c.name for c in self.catalog.by_name.values() if at in c.places)
        example = next(here, "")
        no_cable = "" if example else "no cable"
        variant = "perhaps" if near else no_cable
        return JOINT.at(
            named.span, variant=variant, words=named.value, near=near, example=example, at=at
        )

    def _ends_of(
        self, conductor: Conductor, side: str, named: Written[str], at: str
    ) -> tuple[End, ...] | Problem:
        if at not in conductor.places:
            return JOINT.at(
                named.span,
                variant="does not come",
                conductor=conductor.name,
                at=at,
                places=", ".join(conductor.places),
            )
        ends = conductor.ends_at(at)
        if not side:
            return ends
        chosen = tuple(end for end in ends if end.side == side)
        if not chosen:
            variant = "begins" if side == IN else "ends"
            return JOINT.at(named.span, variant=variant, conductor=conductor.name, at=at)
        return chosen


def _has_first(second: End, ends: list[End]) -> bool:
    return second._replace(side=PIGTAIL_SIDES[0]) in ends


def terminals_of(job: Job, controller: str) -> tuple[str, ...]:
    """The terminals of a controller in physical order; the usual strip where none is written."""
    entry = job.controllers[controller]
    if entry.terminals:
        return entry.terminals
    return ("C", *(str(n) for n in range(1, entry.stations.value + 1)), "MV", "SEN")
