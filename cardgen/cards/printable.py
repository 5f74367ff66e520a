"""What every card needs: a checked job with its circuits, and how things are named on paper."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from functools import cached_property

from cardgen.address import record_spelling
from cardgen.asbuilt import AsBuilt, Spans
from cardgen.asbuilt.model import ConductorMark
from cardgen.cards.model import Code, FieldValue
from cardgen.electrics import Reading
from cardgen.facts import Facts
from cardgen.job.model import Job, JobInfo, RecordInfo
from cardgen.units import plain
from cardgen.wiring.model import Circuit, Conductor, Load
from cardgen.words import Text, Words, english

NOT_KNOWN = "not known"


@dataclass(frozen=True, kw_only=True)
class Printable:
    """A job without errors; everything on a card comes from here, in the languages of `words`.

    Attributes:
        measured: by valve, the newest values that a crew read there, as text by their kind, and
            under `when` the newest date; none of them is a fact of the job.
    """

    facts: Facts
    asbuilt: AsBuilt
    spans: Spans
    info: JobInfo
    record: RecordInfo
    words: Words = field(default_factory=english)
    measured: Mapping[str, Mapping[str, str]] = field(default_factory=dict)

    @property
    def job(self) -> Job:
        return self.facts.job

    @property
    def circuits(self) -> Mapping[str, Circuit]:
        return self.facts.circuits

    @property
    def readings(self) -> Mapping[str, Reading]:
        return self.facts.readings

    @property
    def stamp(self) -> Text:
        """Which job, which revision, of what date."""
        known = self.asbuilt
        return self.words("tag.stamp", job=known.job, revision=known.revision, date=known.date)

    @property
    def warning(self) -> dict[str, FieldValue]:
        """The field in which tags and legends say that nobody may drink the water."""
        return {"water": self.words("cautions.reclaimed")} if self.asbuilt.water else {}

    def supply(self, controller: str) -> Text:
        """`24 V AC`: what drives the coils of a controller."""
        known = self.asbuilt.controller[controller]
        kind = self.words(f"supplies.{known.supply_kind}")
        return self.words.joined([f"{plain(known.volts)} V", kind] if known.volts else [kind], " ")

    def name_of(self, conductor: Conductor) -> Text:
        """`A-K1 red A3`, with the colour in the words of the print."""
        tail = conductor.name.removeprefix(f"{conductor.cable.id} {conductor.insulation.word}")
        colour = self.words.colour(conductor.insulation.word)
        return self.words.joined([conductor.cable.id, colour, *tail.split()], " ")

    def named(self, shown: ConductorMark) -> Text:
        """`A-K1 red A3`, with the colour in the words of the print."""
        parts = [shown.cable, self.words.colour(shown.word), *shown.flag.split()]
        return self.words.joined(parts, " ")

    @cached_property
    def owners(self) -> dict[str, list[Load]]:
        """Loads by owner, in the order of the file."""
        found: dict[str, list[Load]] = defaultdict(list)
        for load in self.facts.wiring.loads.values():
            found[load.owner.id].append(load)
        return dict(found)

    @cached_property
    def joined_with(self) -> dict[str, frozenset[str]]:
        """By conductor, the loads of which a lead is in a joint with it."""
        found: dict[str, set[str]] = defaultdict(set)
        wiring = self.facts.wiring
        for joint in wiring.joints:
            if joint.at not in self.job.boxes:
                continue
            loads = {end.of for end in joint.ends if end.of in wiring.loads}
            for end in joint.ends:
                if end.of in wiring.conductors:
                    found[end.of] |= loads
        return {name: frozenset(loads) for name, loads in found.items()}

    def code_of(self, place: str) -> Code:
        """The address of a box or controller in the job record, and what is typed if it fails."""
        known = self.asbuilt
        address = f"{known.address}/{record_spelling(place)}"
        return Code(address=address, text=known.code(place))


def mark(conductor: Conductor) -> ConductorMark:
    """A conductor as it is shown."""
    return ConductorMark(
        cable=conductor.cable.id,
        word=conductor.insulation.word,
        code=conductor.insulation.code,
        base=conductor.insulation.base,
        stripe=conductor.insulation.stripe,
        band=conductor.cable.band,
        flag=conductor.flag,
        gauge=str(conductor.gauge),
    )


def marks(conductors: Iterable[Conductor]) -> tuple[ConductorMark, ...]:
    return tuple(dict.fromkeys(mark(c) for c in conductors))
