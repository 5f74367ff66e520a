"""Say what fits the readings, by likelihood: the fault, where to look, and what follows from it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from string import ascii_lowercase

from cardgen.advice.evidence_words import figure
from cardgen.advice.merged_sites import merged
from cardgen.advice.repair_order import first_to_repair
from cardgen.advice.reprint import reprint
from cardgen.advice.site_words import distance_in_words, site_in_words
from cardgen.asbuilt import AsBuilt
from cardgen.diagnosis import FaultKind, Suspect, SuspectedFault, SuspectSite
from cardgen.words import Text, Words

MOST_KNEELING = 9  # places of one fault that are told; the others are counted
_MOST_NAMES = 6  # in a sentence about others than the suspected ones
_HUNDRED = 100


@dataclass(frozen=True, slots=True, kw_only=True)
class Kneeling:
    """A place to look at, and by which mark the drawing shows it: `1`, or `1a` of several."""

    mark: str
    site: SuspectSite
    where: Text


@dataclass(frozen=True, slots=True, kw_only=True)
class ToldSuspect:
    """Attributes:
    says: `Fits: an open wire or splice.`
    weight: `72 %`; empty where there is no other.
    kneeling: its places that no suspect before it has.
    same: which of the places of those it has too; None for none.
    """

    number: int
    says: Text
    weight: str
    kneeling: tuple[Kneeling, ...]
    same: Text | None
    follows: tuple[Text, ...]


def suspects_in_words(
    words: Words, known: AsBuilt, suspects: Sequence[Suspect], *, in_part: bool = False
) -> tuple[ToldSuspect, ...]:
    """`in_part`: they leave something off that nothing explains."""
    marks: dict[Text, str] = {}
    fits = "fits in part" if in_part else "fits"
    return tuple(
        _Telling(
            words, known, suspect, number, marks, fits if number == 1 else f"also {fits}"
        ).told()
        for number, suspect in enumerate(suspects, 1)
    )


def fault_in_words(words: Words, fault: SuspectedFault) -> Text:
    """`an open wire or splice`, `the hots of A5 and A7 touching`."""
    key = f"diagnosis.what {fault.kind}"
    if fault.ohms is not None and words.has(f"{key} by ohms"):
        key = f"{key} by ohms"
    if not words.has(key):
        key = f"diagnosis.kind {fault.kind}"
    ohms = "" if fault.ohms is None else figure(fault.ohms)
    ends = {"one": fault.valves[0], "other": fault.valves[-1]} if fault.valves else {}
    return words(key, valves=words.list_of(fault.valves), ohms=ohms, name=fault.name, **ends)


@dataclass(slots=True)
class _Telling:
    """Of one suspect.

    Attributes:
        marks: by place those of the suspects before it; its own are added.
        fits: the key of its sentence.
        own: by fault the marks of its places, in their order.
    """

    words: Words
    known: AsBuilt
    suspect: Suspect
    number: int
    marks: dict[Text, str]
    fits: str
    own: list[list[str]] = field(default_factory=list)

    def told(self) -> ToldSuspect:
        words = self.words
        faults = [fault_in_words(words, fault) for fault in self.suspect.faults]
        what = faults[0]
        if len(faults) > 1:
            what = words("diagnosis.both", one=faults[0], two=faults[1])
        if self.suspect.beside:
            numbers = words.list_of([str(index + 1) for index in self.suspect.beside])
            what = words.count(
                "diagnosis.with", len(self.suspect.beside), what=what, numbers=numbers
            )
        before = set(self.marks.values())
        new = self._places()
        same = [mark for own in self.own for mark in own if mark in before]
        return ToldSuspect(
            number=self.number,
            says=words(f"diagnosis.{self.fits}", what=what),
            weight=_weight(self.suspect.share),
            kneeling=new,
            same=_same(words, same),
            follows=tuple(self._follows()),
        )

    def _places(self) -> tuple[Kneeling, ...]:
        """Those that are new; one alone needs no letter."""
        by_fault = [self._wheres(fault) for fault in self.suspect.faults]
        new = dict.fromkeys(
            where for wheres in by_fault for where, _ in wheres if where not in self.marks
        )
        letters = iter(ascii_lowercase if len(new) > 1 else ("",))
        self.marks |= {where: f"{self.number}{next(letters)}" for where in new}
        self.own = [[self.marks[where] for where, _ in wheres] for wheres in by_fault]
        sites = {where: site for wheres in by_fault for where, site in wheres}
        return tuple(Kneeling(mark=self.marks[w], site=sites[w], where=w) for w in new)

    def _wheres(self, fault: SuspectedFault) -> list[tuple[Text, SuspectSite]]:
        sites = merged(self.known, fault.sites)[:MOST_KNEELING]
        return [(self._where(fault, site), site) for site in sites]

    def _where(self, fault: SuspectedFault, site: SuspectSite) -> Text:
        words, known = self.words, self.known
        distance = distance_in_words(words, known, site)
        where = site_in_words(words, known, fault, site)
        return where if distance is None else words.joined((where, distance), ". ")

    def _follows(self) -> Iterator[Text]:
        words, faults = self.words, self.suspect.faults
        for fault in faults:
            left = len(merged(self.known, fault.sites)) - MOST_KNEELING
            if left > 0:
                yield words.count("diagnosis.more places", left)
        if len(faults) > 1:
            yield self._order()
        elif self.suspect.beside:
            yield words("diagnosis.repair either")
        stopped = self.suspect.meanwhile
        together = self._together()
        if stopped:
            yield words.count("diagnosis.stopped", len(stopped), valves=words.list_of(stopped))
        if together and not set(together) & set(stopped):
            yield words("diagnosis.run together", valves=words.list_of(together))
        elif not stopped:
            yield words("diagnosis.all run")
        if len(faults) == 1 and not self.suspect.beside:
            yield from self._again()
        for fault in faults:
            yield from _alike(words, fault)
            if fault.kind is FaultKind.VALVE_SHUT:
                yield words("diagnosis.volts tell")
            prints = reprint(words, self.known, fault)
            if prints is not None:
                yield prints

    def _again(self) -> Iterator[Text]:
        """Whose values say little of the rest until it is repaired."""
        words, again = self.words, self.suspect.again
        if not again:
            return
        if again == self.suspect.meanwhile:
            yield words.count("diagnosis.again those", len(again))
        elif len(again) > _MOST_NAMES:
            yield words("diagnosis.again all")
        else:
            yield words("diagnosis.again", valves=words.list_of(again))

    def _together(self) -> list[str]:
        """Valves whose hots touch: each terminal opens all of them."""
        touching = (f for f in self.suspect.faults if f.kind is FaultKind.HOTS_TOUCH)
        return list(dict.fromkeys(valve for fault in touching for valve in fault.valves))

    def _order(self) -> Text:
        """Which of two is repaired first."""
        first = first_to_repair(self.known, self.suspect.faults)
        if first is None:
            return self.words("diagnosis.repair either")
        one, two = ("/".join(self.own[at]) for at in (first, 1 - first))
        return self.words("diagnosis.repair first", first=one, second=two)


def _alike(words: Words, fault: SuspectedFault) -> Iterator[Text]:
    """Stations that ohms do not tell from one of those that are exchanged."""
    if len(fault.alike) > _MOST_NAMES:
        yield words("diagnosis.alike many", number=len(fault.alike))
    elif fault.alike:
        yield words.count("diagnosis.alike", len(fault.alike), valves=words.list_of(fault.alike))


def _weight(share: float) -> str:
    """Beside others: one alone would look certain."""
    return f"{max(round(_HUNDRED * share), 1)} %" if share < 1 else ""


def _same(words: Words, marks: Sequence[str]) -> Text | None:
    if not marks:
        return None
    listed = words.list_of(marks)
    return words.count("diagnosis.same places", len(marks), marks=listed)
