"""Count what diagnoses of seeded cases are worth: true place kept, places left, readings needed."""

from __future__ import annotations

import random
from collections.abc import Callable, Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from enum import Enum, auto
from itertools import count
from statistics import mean

from cardgen.diagnosis import Suspect
from tests.diagnosis.advice import Stand, followed, halved
from tests.diagnosis.cases import Case, case_of
from tests.diagnosis.kinds import KINDS
from tests.diagnosis.misses import told
from tests.diagnosis.scoring import Shown, Ways, is_kept, is_left_open, names
from tests.diagnosis.sites import Injected

FEW = 3  # places, that somebody is sent to without another reading
HEAD = (
    "kind of fault               n   kept  <=3  places  <=3  places  <=3  places  kept  called"
    "  faint hidden\n"
    "                                walk  walk   walk    1       1    2       2     2 healthy"
    "  right  right"
)


@dataclass(slots=True)
class Tally:
    """Attributes:
    stands: of each case that a walk can show, after the walk and each advised reading.
    healthy: how many of these were called healthy.
    right: of the others: called healthy and said that it does not show, or the true place kept.
    readings: as advised and by halving, until one place was left.
    """

    stands: list[list[Stand]] = field(default_factory=list)
    healthy: int = 0
    right: dict[Shown, list[bool]] = field(default_factory=lambda: {s: [] for s in Shown})
    readings: list[tuple[int, int]] = field(default_factory=list)

    @classmethod
    def of(cls, tallies: Iterable[Tally]) -> Tally:
        """All of them as one."""
        whole = cls()
        for tally in tallies:
            whole.stands += tally.stands
            whole.readings += tally.readings
            whole.healthy += tally.healthy
            for seen, values in tally.right.items():
                whole.right[seen] += values
        return whole

    def after(self, readings: int) -> list[Stand]:
        """Who has one place before that stays there."""
        return [stands[min(readings, len(stands) - 1)] for stands in self.stands]

    def row(self) -> str:
        cells = [f"{len(self.stands):5}", _percent(s.is_true for s in self.after(0))]
        for readings in (0, 1, 2):
            few = (s.is_true and s.places <= FEW for s in self.after(readings))
            places = [s.places for s in self.after(readings)]
            cells += [_percent(few), f"{mean(places):6.1f}" if places else " " * 6]
        cells += [_percent(s.is_true for s in self.after(2)), f"{self.healthy:6}"]
        cells += [_percent(self.right[Shown.FAINT]), _percent(self.right[Shown.HIDDEN])]
        return " ".join(cells)


def _percent(values: Iterable[bool]) -> str:
    found = list(values)
    return f"{100 * sum(found) / len(found):5.0f}" if found else "    -"


def tally_of(
    kind: str,
    seeds: range,
    tell: Callable[[str], None] | None = None,
    stations: int | None = None,
) -> Tally:
    """Each seed once; `tell` is told of each case in which the true place is lost."""
    tally = Tally()
    for case in cases([kind], seeds, stations):
        seen = case.shown
        if seen is not Shown.CLEAR:
            diagnosis = case.diagnosed()
            told_so = case.ground.ways, diagnosis, case.faults[0]
            is_open = diagnosis.is_healthy and is_left_open(*told_so, case.true_walks())
            tally.right[seen].append(is_kept(*told_so) or is_open)
            if tell and not tally.right[seen][-1]:
                tell(f"{seen}\n{told(case, [], len(case.readings))}")
            continue
        walk = len(case.readings)
        stands = list(followed(case))
        tally.stands.append(stands)
        tally.healthy += stands[0].places == 0
        halves = halved(case)
        if halves is not None and stands[-1].is_true:
            tally.readings.append((len(stands) - 1, halves))
        if tell and not all(stand.is_true for stand in stands):
            tell(told(case, stands, walk))
    return tally


def cases(kinds: Sequence[str], seeds: range, stations: int | None = None) -> Iterator[Case]:
    """Of those seeds whose yard has a place for the faults."""
    for seed in seeds:
        case = case_of(seed, kinds, stations)
        if case is not None:
            yield case


# -- pairs -----------------------------------------------------------------------------------------

_DRAWS = 6  # of two kinds, until a yard has a place for both


class Found(Enum):
    """Attributes:
    AT_ONCE: one suspect names both.
    IN_TURN: one is named now, with the words that the walk is to be read again after it; the
        other when that is mended and the walk is read again.
    UNSAID: the same, but nothing says that it is to be read again.
    """

    AT_ONCE = auto()
    IN_TURN = auto()
    UNSAID = auto()
    NOT = auto()


KEPT = (Found.AT_ONCE, Found.IN_TURN)


def pairs_from(first: int, stations: int | None = None) -> Iterator[Case]:
    """One after the other, without end: of each seed whose yard has a place for two."""
    return filter(None, (pair_of(seed, stations) for seed in count(first)))


def pair_of(seed: int, stations: int | None = None) -> Case | None:
    """Two faults, each of which a walk would show by itself."""
    for draw in range(_DRAWS):
        kinds = random.Random(f"pair {seed} {draw}").choices(list(KINDS), k=2)
        case = case_of(seed, kinds, stations)
        if case and all(case.mended(fault).shown is Shown.CLEAR for fault in case.faults):
            return case
    return None


def pair_found(case: Case) -> Found:
    ways, diagnosis = case.ground.ways, case.diagnosed()
    suspects = diagnosis.suspects
    if any(_are_both(ways, case.faults, (s, *(suspects[n] for n in s.beside))) for s in suspects):
        return Found.AT_ONCE
    found = Found.NOT
    for fault in case.faults:
        naming = [s for s in diagnosis.suspects if names(ways, s, fault)]
        if not naming:
            continue
        rest = case.mended(fault)
        after = rest.diagnosed()
        if is_kept(ways, after, rest.faults[0]):
            off = {value.valve for value in after.values if value.is_off}
            if diagnosis.is_several or any(_is_to_read_again(s, off) for s in naming):
                return Found.IN_TURN
            found = Found.UNSAID
    return found


def _are_both(ways: Ways, faults: Sequence[Injected], suspects: Sequence[Suspect]) -> bool:
    """The first of them names both, or one, and another beside it the other."""
    first, *beside = suspects
    left = [fault for fault in faults if not names(ways, first, fault)]
    if len(left) == len(faults):
        return False
    return not left or any(names(ways, other, left[0]) for other in beside)


def _is_to_read_again(suspect: Suspect, valves: Collection[str]) -> bool:
    """Of two faults all stations are to be read again, of one those whose values it changes."""
    return len(suspect.faults) > 1 or bool(suspect.beside) or set(suspect.again).issuperset(valves)
