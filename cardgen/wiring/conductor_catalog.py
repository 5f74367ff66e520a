"""Turn the cables of a job into single conductors, and find the one that a person names."""

from __future__ import annotations

import re
from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator

from cardgen.faults.conductor_faults import (
    CABLE_MAKEUP,
    NO_SUCH_CONDUCTOR,
    RUN_MISSES_BOX,
    RUN_RETURNS,
    SINGLES_WITHOUT_FLAGS,
)
from cardgen.faults.value_faults import MISSING, UNKNOWN_NAME
from cardgen.job.job_parts import Cable, Job, Single
from cardgen.light_dataclass import replace
from cardgen.problems import Also, Problem, Span
from cardgen.reading.shapes import either, nearest
from cardgen.trade.colors import Insulation, insulation
from cardgen.trade.meant_colors import meant_color
from cardgen.units import Gauge
from cardgen.wiring.wiring_parts import Conductor

_COMMON_TERMINAL = ("C", "COM", "COMMON")


class Catalog:
    """All conductors of a job, by name and by cable; `reported` cables are told of already."""

    def __init__(self, job: Job) -> None:
        self.by_name: dict[str, Conductor] = {}
        self.by_cable: dict[str, list[Conductor]] = defaultdict(list)
        self._by_mark: dict[tuple[str, Insulation, str], Conductor] = {}
        self.problems: list[Problem] = []
        self.reported = set(job.reported)
        self._told: set[str] = set()
        for cable in job.cables.values():
            if cable.id in self.reported:
                continue
            conductors = list(_conductors(cable, job))
            faults = tuple(_faults(cable, conductors))
            if faults:
                self.problems.extend(faults)
                self.reported.add(cable.id)
                continue
            for conductor in conductors:
                self.by_name[conductor.name] = conductor
                self.by_cable[cable.id].append(conductor)
                if not conductor.number:
                    mark = cable.id, conductor.insulation, conductor.flag
                    self._by_mark.setdefault(mark, conductor)

    def find(self, words: str, span: Span) -> Conductor | Problem | None:
        """The conductor that `A-K1 red` names; None if that it is not there has been reported."""
        found = self._find(words, span)
        if isinstance(found, Problem):
            key = " ".join(words.split())
            if key in self._told:
                return None  # one wrong name is one fault, however often it is used
            self._told.add(key)
        return found

    def peek(self, words: str) -> Conductor | None:
        """The conductor that words name, if they name one; nothing is told."""
        cable, _, _ = words.strip().partition(" ")
        found = self._find(words, Span("", 1, 1, 1)) if cable in self.by_cable else None
        return found if isinstance(found, Conductor) else None

    def _turned(self, words: str) -> str:
        """What `red K1` or `K1/red` means, if it names one conductor of one cable; else empty."""
        parts = words.replace("/", " ").split()
        cables = [part for part in parts if part in self.by_cable]
        if len(parts) < 2 or len(cables) != 1:
            return ""
        name = " ".join((cables[0], *(part for part in parts if part != cables[0])))
        return f"write '{name}'" if name in self.by_name else ""

    def _meant(self, words: str) -> str:
        """The conductor that other words or signs mean, `A-K1-verde`, if there is just one."""
        plain = f" {' '.join(re.sub('[()]|->|:', ' ', words).split())} "
        found = set()
        for cable, conductors in self.by_cable.items():
            at = re.search(rf"(?<=\s){re.escape(cable)}(?=[^A-Za-z0-9.])", plain, re.IGNORECASE)
            color = meant_color(plain[: at.start()] + plain[at.end() :]) if at else None
            found |= {c.name for c in conductors if color and c.insulation == color and not c.flag}
        return f"did you mean '{found.pop()}'?" if len(found) == 1 else ""

    def _listed(self, words: str) -> list[str]:
        """The conductors in `A-K1 white A-K2 white`; none if it is not made of their names."""
        names: list[str] = []
        for part in re.sub(r"[,;+&()]| and | y ", " ", words).split():
            if part in self.by_cable:
                names.append(part)
            elif names:
                names[-1] += f" {part}"
        return names if all(name in self.by_name for name in names) else []

    def _find(self, words: str, span: Span) -> Conductor | Problem | None:
        cable, _, rest = words.strip().partition(" ")
        if cable in self.reported:
            return None
        if words.upper() in _COMMON_TERMINAL:
            white = (name for name in self.by_name if name.endswith(" white"))
            example = next(iter([*white, *self.by_name]), "A-K1 white")
            return NO_SUCH_CONDUCTOR.at(span, variant="terminal", words=words, example=example)
        if cable not in self.by_cable and len(names := self._listed(words)) > 1:
            near = ", ".join(names)
            return NO_SUCH_CONDUCTOR.at(span, variant="several", words=words, near=near)
        if cable not in self.by_cable:
            known = list(self.by_cable)
            self.reported.add(cable)  # one wrong name is one fault, however often it is used
            color = insulation(words) or meant_color(words)
            of_color = [c.name for c in self.by_name.values() if color and c.insulation == color]
            if of_color:
                near = either(of_color[:4])
                return NO_SUCH_CONDUCTOR.at(span, variant="color alone", words=words, near=near)
            listed = ", ".join(f"'{name}'" for name in known[:12])
            meant = self._meant(words)
            if meant:
                return NO_SUCH_CONDUCTOR.at(span, variant="misspelt", words=words, near=meant)
            there = f"there are {listed}" if listed else "no cable is described in this job"
            suggestion = self._turned(words) or nearest(cable, known) or there
            return UNKNOWN_NAME.at(span, what="cable", name=cable, suggestion=suggestion)
        rest = rest.strip()
        color, flag = insulation(rest), ""
        if color is None:
            before, _, flag = rest.rpartition(" ")
            color = insulation(before)
        if color is None and len(names := self._listed(words)) > 1:
            near = ", ".join(names)
            return NO_SUCH_CONDUCTOR.at(span, variant="several", words=words, near=near)
        if color is None:
            conductors = [conductor.name for conductor in self.by_cable[cable]]
            near = (self._meant(words) or nearest(f"{cable} {rest}", conductors)) if rest else ""
            return NO_SUCH_CONDUCTOR.at(
                span,
                variant="misspelt" if near else "not read",
                words=words,
                near=near,
                example=conductors[0],
            )
        return self._pick(cable, color, flag, span)

    def _pick(self, cable: str, color: Insulation, flag: str, span: Span) -> Conductor | Problem:
        exact = self._by_mark.get((cable, color, flag))
        if exact is not None:
            return exact
        alike = [c for c in self.by_cable[cable] if c.insulation == color]
        if not alike:
            return NO_SUCH_CONDUCTOR.at(
                span,
                cable=cable,
                color=color.word,
                count=len(self.by_cable[cable]),
                conductors=_words(self.by_cable[cable]),
            )
        flags = [c.flag for c in alike if c.flag]
        meant = self._meant(f"{cable} {color.word} {flag}") if flag else ""
        if meant:
            words = f"{cable} {color.word} {flag}"
            return NO_SUCH_CONDUCTOR.at(span, variant="misspelt", words=words, near=meant)
        if not flags:
            return SINGLES_WITHOUT_FLAGS.at(span, cable=cable, count=len(alike), color=color.word)
        near = nearest(flag, flags) if flag else ""
        unnamed = "no such flag" if flag else "no flag named"
        return NO_SUCH_CONDUCTOR.at(
            span,
            variant="misspelt flag" if near else unnamed,
            cable=cable,
            color=color.word,
            flag=flag,
            near=near,
            flags=", ".join(flags[:12]),
        )


def cut_to(conductor: Conductor, last: int) -> Conductor:
    """The same conductor ending at index `last` of its places."""
    if last == len(conductor.legs):
        return conductor
    return replace(conductor, places=conductor.places[: last + 1], legs=conductor.legs[:last])


def _words(conductors: Iterable[Conductor]) -> str:
    return ", ".join(dict.fromkeys(c.name.partition(" ")[2] for c in conductors))


def _faults(cable: Cable, conductors: Iterable[Conductor]) -> Iterator[Problem]:
    """What keeps a cable from being a list of conductors along a line of places."""
    if cable.singles and (cable.palette or cable.colors):
        yield CABLE_MAKEUP.at(cable.span, cable=cable.id)
    elif not cable.singles and not (cable.palette or cable.colors):
        yield CABLE_MAKEUP.at(cable.span, variant="no colors", cable=cable.id)
    elif not cable.singles and cable.gauge is None:
        example = "write 'gauge: 18 AWG' or 'gauge: 1.5 mm2'"
        yield MISSING.at(cable.span, what=cable.id, key="gauge", example=example)
    doubled = [name for name, n in Counter(c.name for c in conductors).items() if n > 1]
    if doubled:
        yield CABLE_MAKEUP.at(cable.span, variant="alike", cable=cable.id, conductor=doubled[0])
    seen: dict[str, Span] = {}
    for stop in cable.run:
        if stop.at in seen:
            yield RUN_RETURNS.at(
                stop.span,
                cable=cable.id,
                box=stop.at,
                also=(Also(span=seen[stop.at], text="first time here"),),
            )
        seen.setdefault(stop.at, stop.span)
    for single in cable.singles:
        is_start = single.to is not None and single.to.value == cable.run[0].at
        if single.to and (is_start or single.to.value not in seen):
            yield RUN_MISSES_BOX.at(
                single.to.span,
                variant="no stretch" if is_start else "",
                what=f"a single of {cable.id}" if is_start else f"the run of {cable.id}",
                box=single.to.value,
                places=", ".join(seen),
            )


def _conductors(cable: Cable, job: Job) -> Iterator[Conductor]:
    places = tuple(stop.at for stop in cable.run)
    legs = tuple(stop.leg.value for stop in cable.run if stop.leg)

    def one(
        entry: Cable | Single,
        color: Insulation,
        gauge: Gauge | None,
        flag: str = "",
        number: int = 0,
    ) -> Conductor:
        to = entry.to.value if isinstance(entry, Single) and entry.to else ""
        last = places.index(to) if to in places else len(legs)
        return Conductor(
            cable=cable,
            insulation=color,
            flag=flag,
            number=number,
            gauge=gauge,
            places=places[: last + 1],
            legs=legs[:last],
            construction=entry.construction,
            resistance=entry.resistance,
        )

    if cable.gauge is not None:
        palette = job.palettes.get(cable.palette.value, ()) if cable.palette else cable.colors
        for color in palette:
            yield one(cable, color, cable.gauge.value)
    for single in cable.singles:
        color, gauge = single.color.value, single.gauge.value
        flags = [flag for entry in single.flags for flag in entry.value]
        for flag in flags:
            yield one(single, color, gauge, flag)
        if not flags:
            for number in range(1, single.count + 1):
                yield one(single, color, gauge, number=number if single.count > 1 else 0)
