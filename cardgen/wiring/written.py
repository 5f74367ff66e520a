"""Turn the joints that a job writes out into joints of ends: the truth as built."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator

from cardgen.job.model import Job, Pigtail, WrittenJoints
from cardgen.problems import Also, Problem, Span, Verdict
from cardgen.reading.shapes import Written, nearest
from cardgen.units import SupplyKind
from cardgen.wiring.conductors import Catalog
from cardgen.wiring.loads import Loads, valves_of
from cardgen.wiring.model import COMMON_TERMINAL, IN, OUT, Conductor, End, Joint, Load

CONTACT_SIDES = ("C side", "field side")
PATH_SIDES = ("path 1", "path 2")
PIGTAIL_SIDES = ("end 1", "end 2")


class WrittenMakeup:
    """Reads the joints of every place that is written out."""

    def __init__(self, job: Job, catalog: Catalog, loads: Loads) -> None:
        self.job, self.catalog, self.loads = job, catalog, loads.by_id
        self._reported = set(job.broken)
        for owner in loads.skipped:
            station = job.stations.get(owner)
            self._reported |= {owner, *(valves_of(station) if station else ())}
        self.problems: list[Problem] = []
        self.broken: set[str] = set()
        self._taken: dict[End, Span] = {}
        self._mentions: dict[str, int] = defaultdict(int)
        self._misplaced: set[tuple[str, str]] = set()
        self._terminals = {c: terminals_of(job, c) for c in job.controllers}

    def joints(self) -> Iterator[Joint]:
        for written in self.job.joints.values():
            if written.id in self.job.broken:
                continue
            before = len(self.problems)
            made = tuple(self._of_place(written))
            if len(self.problems) > before:
                self.broken.add(written.id)
            else:
                yield from made
        for pigtail in self.job.pigtails.values():
            self._loose(pigtail)

    def _of_place(self, written: WrittenJoints) -> Iterator[Joint]:
        for said in written.joints:
            ends: list[End] = []
            which: set[int] = set()
            for words in said.value:
                ends.extend(self._ends(words, written.id))
                which |= {number for number in (self._which(words, written.id),) if number}
            if len(which) > 1:
                words = said.value[-1]
                sentence = "two terminals stand in one joint"
                help_ = "write a joint for each: a pigtail can link them"
                self.problems.append(self._fault(words, sentence, help_))
            doubled = [e.of for e in ends if e.side == PIGTAIL_SIDES[1] and _has_first(e, ends)]
            if doubled:
                sentence = f"both ends of {doubled[0]} are in one joint"
                help_ = "leave one there, and write the other into the joint that it links"
                self.problems.append(self._fault(said.value[-1], sentence, help_))
            if ends:
                yield Joint(
                    at=written.id,
                    ends=tuple(ends),
                    span=said.span,
                    as_built=True,
                    which=next(iter(which), 0),
                )

    def _which(self, said: Written[str], at: str) -> int:
        """The number in `C 2`, where the strip has several C; else 0."""
        name, _, number = said.value.partition(" ")
        if at not in self._terminals or name != COMMON_TERMINAL or not number.isdecimal():
            return 0
        return int(number) if int(number) <= self._terminals[at].count(name) else 0

    def _loose(self, pigtail: Pigtail) -> None:
        """Tell of a pigtail that does not link two connectors."""
        at, count = pigtail.at.value, self._mentions[pigtail.id]
        if count == 2 or at in self.broken or {pigtail.id, at} & self.job.broken:
            return
        if at in self.job.joints:
            sentence = f"{pigtail.id} stands in {'one joint' if count else 'no joint'} of '{at}'"
            help_ = f"write '{pigtail.id}' in the two joints that it links"
        else:
            sentence = (
                f"the joints of '{at}' are not written, so nothing says what {pigtail.id} links"
            )
            help_ = f"write them out, with '{pigtail.id}' in two of them"
        self.problems.append(self._fault(Written(pigtail.span, pigtail.id), sentence, help_))
        self.broken.add(at)

    def _ends(self, said: Written[str], at: str) -> tuple[End, ...]:
        found = self._named(said, at)
        if isinstance(found, Problem):
            self.problems.append(found)
            return ()
        for end in found:
            if end in self._taken and end.of != at:  # a terminal may hold several
                self.problems.append(
                    Problem(
                        code="end-in-two-joints",
                        verdict=Verdict.ERROR,
                        span=said.span,
                        sentence=f"'{said.value}' is in two joints of '{at}'",
                        also=(Also(span=self._taken[end], text="first joined here"),),
                        help="one conductor end can be in one connector only: "
                        "write all that is in it as one joint",
                    )
                )
                return ()
            self._taken[end] = said.span
        return found

    def _named(self, said: Written[str], at: str) -> tuple[End, ...] | Problem:
        first, _, rest = said.value.partition(" ")
        strip = self._terminals.get(at, ())
        if said.value in strip:
            return (End(at, at, said.value),)
        if first == COMMON_TERMINAL and at in self._terminals and rest.isdecimal():
            if self._which(said, at):
                return (End(at, at, first),)
            number = strip.count(first)
            sentence = f"the strip of {at} has {number} C, so there is no '{said.value}'"
            return self._fault(said, sentence, "write 'C', or correct its 'terminals'")
        if first in self.job.pigtails and first not in self._reported:
            return self._pigtail(self.job.pigtails[first], rest, said, at)
        if first in self.loads:
            return self._lead(self.loads[first], rest, said, at)
        if first in self.job.decoders:
            return self._one_of(
                first, rest, PATH_SIDES, said, at, self.job.decoders[first].box.value
            )
        if first in self.job.sensors:
            return self._one_of(first, rest, CONTACT_SIDES, said, at, at)
        if first in self._reported:
            self.broken.add(at)
            return ()
        if first in self.job.stations:
            valves = ", ".join(self.job.stations[first].valves)
            return self._fault(said, f"'{first}' has several valves", f"name one of {valves}")
        return self._conductor(said, at)

    def _one_of(
        self, of: str, side: str, sides: tuple[str, ...], said: Written[str], at: str, home: str
    ) -> tuple[End, ...] | Problem:
        if side not in sides:
            ways = " or ".join(f"'{of} {s}'" for s in sides)
            return self._fault(said, f"'{said.value}' does not say which lead", f"write {ways}")
        if home != at:
            return self._fault(said, f"{of} is in '{home}', not in '{at}'", _elsewhere(home))
        return (End(of, at, side),)

    def _pigtail(
        self, pigtail: Pigtail, side: str, said: Written[str], at: str
    ) -> tuple[End, ...] | Problem:
        if pigtail.at.value != at:
            if (pigtail.id, at) in self._misplaced:
                self.broken.add(at)
                return ()
            self._misplaced.add((pigtail.id, at))
            self.broken.add(pigtail.at.value)
            sentence = f"{pigtail.id} is in '{pigtail.at.value}', not in '{at}'"
            return self._fault(said, sentence, _elsewhere(pigtail.at.value))
        if side:
            help_ = f"write '{pigtail.id}' once for each of its two ends"
            return self._fault(said, f"'{said.value}' is no end of a pigtail", help_)
        self._mentions[pigtail.id] += 1
        if self._mentions[pigtail.id] > 2:
            sentence = f"{pigtail.id} stands in more than two joints: a pigtail has two ends"
            return self._fault(said, sentence, "describe each short wire as a pigtail of its own")
        return (End(pigtail.id, at, PIGTAIL_SIDES[self._mentions[pigtail.id] - 1]),)

    def _lead(
        self, load: Load, side: str, said: Written[str], at: str
    ) -> tuple[End, ...] | Problem:
        isolated = side in (load.hot_end.side, load.back_end.side) and load.hot_end.of == load.id
        if isolated and at in self.job.controllers:
            return (End(load.id, load.hot_end.at, side),)
        if load.box != at:
            if (load.id, at) in self._misplaced:
                self.broken.add(at)
                return ()
            self._misplaced.add((load.id, at))
            sentence = f"the valve of {load.id} is in '{load.box}', not in '{at}'"
            return self._fault(said, sentence, _elsewhere(load.box))
        sides = (load.hot_lead.side, load.back_lead.side)
        if load.hot_lead.side != "lead 1":
            return self._one_of(load.id, side, sides, said, at, at)
        if side and self._polarity_missing(load):
            self.broken.add(at)
            return ()
        if side:
            help_ = f"write '{load.id}' once for each of its two leads"
            return self._fault(said, f"'{said.value}' is no lead", help_)
        self._mentions[load.id] += 1
        if self._mentions[load.id] > 2:
            sentence = f"{load.id} stands in more than two joints: a coil has two leads"
            help_ = f"leave '{load.id}' in the joint with its hot and in the one with its common"
            return self._fault(said, sentence, help_)
        return (End(load.id, at, sides[self._mentions[load.id] - 1]),)

    def _polarity_missing(self, load: Load) -> bool:
        """Without the controller's rule no lead has a name; that it is missing is told later."""
        controller = self.job.controllers[load.controller]
        latching = controller.supply.value.kind is SupplyKind.LATCHING
        return latching and controller.polarity is None

    def _conductor(self, said: Written[str], at: str) -> tuple[End, ...] | Problem:
        words, _, last = said.value.rpartition(" ")
        side = last if last in (IN, OUT) else ""
        found = self.catalog.find(words if side else said.value, said.span)
        if found is None:
            self.broken.add(at)
            return ()
        if isinstance(found, Problem):
            first = said.value.partition(" ")[0]
            near = nearest(first, [*self.loads, *self.job.cables])
            if found.code == "unknown-name":
                sentence = f"'{said.value}' is no conductor and no valve"
                return self._fault(said, sentence, near or _what_to_write(at, self.catalog))
            return found
        return self._ends_of(found, side, said, at)

    def _ends_of(
        self, conductor: Conductor, side: str, said: Written[str], at: str
    ) -> tuple[End, ...] | Problem:
        if at not in conductor.places:
            passes = ", ".join(conductor.places)
            return self._fault(
                said, f"{conductor.name} does not come to '{at}'", f"it runs {passes}"
            )
        ends = conductor.ends_at(at)
        if not side:
            return ends
        chosen = tuple(end for end in ends if end.side == side)
        if not chosen:
            begins = "begins" if side == IN else "ends"
            sentence = f"{conductor.name} {begins} in '{at}': it has no '{side}' here"
            return self._fault(said, sentence, f"write '{conductor.name}' without '{side}'")
        return chosen

    @staticmethod
    def _fault(said: Written[str], sentence: str, help_: str) -> Problem:
        return Problem(
            code="joint", verdict=Verdict.ERROR, span=said.span, sentence=sentence, help=help_
        )


def _has_first(second: End, ends: list[End]) -> bool:
    return second._replace(side=PIGTAIL_SIDES[0]) in ends


def _elsewhere(box: str) -> str:
    return f"write it into the joints of '{box}', or correct where it is"


def _what_to_write(at: str, catalog: Catalog) -> str:
    """An example of a joint in this place."""
    for conductor in catalog.by_name.values():
        if at in conductor.places:
            return f"write a conductor by cable and colour, '{conductor.name}', or a valve by name"
    return f"no cable comes to '{at}'"


def terminals_of(job: Job, controller: str) -> tuple[str, ...]:
    """The terminals of a controller in physical order; the usual strip where none is written."""
    entry = job.controllers[controller]
    if entry.terminals:
        return entry.terminals
    return ("C", *(str(n) for n in range(1, entry.stations.value + 1)), "MV", "SEN")
