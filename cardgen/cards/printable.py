"""What every card needs: a job as built, and how things are named on paper."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field

from cardgen.address import record_spelling
from cardgen.asbuilt import AsBuilt, BuiltBox, BuiltValve, ConductorMark, Spans
from cardgen.cards.card import Code, FieldValue
from cardgen.cards.expected import LINE_FOR_WORDS
from cardgen.light_dataclass import dataclass
from cardgen.once import once
from cardgen.units import plain
from cardgen.words import Text, Words, english


@dataclass(frozen=True, slots=True, kw_only=True)
class CrewBoxes:
    """Who goes to some of the boxes, which are in walking order."""

    name: str
    boxes: tuple[str, ...]


@dataclass(frozen=True, kw_only=True)
class Printable:
    """A job without errors; everything on a card comes from here, in the languages of `words`.

    One with errors is that of a survey list, and of nothing else.

    Attributes:
        measured: by valve, the newest values that a crew read there, as text by their kind, and
            under `when` the newest date; none of them is a fact of the job.
        errors: in the job: but for 0 nothing is made of it but a list of what to find out.
        crew: for whom sheets to carry along are made; None where they have all there is.
    """

    asbuilt: AsBuilt
    spans: Spans
    words: Words = field(default_factory=english)
    measured: Mapping[str, Mapping[str, str]] = field(default_factory=dict)
    crew: CrewBoxes | None = None
    errors: int = 0

    def place_of(self, controller: str) -> str:
        """Where it hangs; a line to write on where nobody knows it."""
        return self.asbuilt.controller[controller].where or LINE_FOR_WORDS

    @once
    def stamp(self) -> Text:
        """Which job, which revision, of what date."""
        known = self.asbuilt
        return self.words("tag.stamp", job=known.job_code, revision=known.revision, date=known.date)

    @property
    def warning(self) -> dict[str, FieldValue]:
        """In which tags and legends forbid to drink the water, in lines for each language."""
        return {"water": self.words("cautions.reclaimed").lines} if self.asbuilt.water else {}

    def carries(self, place: str) -> bool:
        """Whether a sheet to carry along speaks of a place: not of a box of another crew."""
        return self.crew is None or place not in self.asbuilt.box or place in self.crew.boxes

    def valves_of(self, controller: str) -> tuple[BuiltValve, ...]:
        """Those that a sheet to carry along has: station by station, for a crew as it walks."""
        valves = self.asbuilt.valves_of(controller)
        if self.crew is None:
            return valves
        rank = {box: number for number, box in enumerate(self.crew.boxes)}
        return tuple(
            sorted((v for v in valves if v.box in rank), key=lambda valve: rank[valve.box])
        )

    @property
    def only_boxes(self) -> tuple[Text, ...]:
        """What a sheet says that has not all there is."""
        if self.crew is None:
            return ()
        return (self.words("sheet.only boxes", boxes=self.words.list_of(self.crew.boxes)),)

    def supply(self, controller: str) -> Text:
        """`24 V AC`: what drives the coils of a controller."""
        known = self.asbuilt.controller[controller]
        kind = self.words(f"supplies.{known.supply_kind}")
        return self.words.joined((f"{plain(known.volts)} V" if known.volts else "", kind), " ")

    def kind(self, box: BuiltBox) -> Text:
        """`valve box, 10 in round`."""
        return self.words.joined((self.words(f"box kinds.{box.kind}"), box.size))

    def named(self, shown: ConductorMark) -> Text:
        """`A-K1 red (flag A3)`, with the color in the words of the print."""
        name = self.words.joined([shown.cable, self.words.color(shown.word)], " ")
        return self.words("terms.flagged", conductor=name, flag=shown.flag) if shown.flag else name

    def code_of(self, place: str = "") -> dict[str, FieldValue]:
        """The address of a box or controller in the record, and what is typed if it fails.

        Of the job itself without a place; nothing where there is no record.
        """
        known = self.asbuilt
        if not known.address:
            return {}
        if not place:
            return {"code": Code(address=known.address, text=known.key)}
        address = f"{known.address}/{record_spelling(place)}"
        return {"code": Code(address=address, text=known.code(place))}
