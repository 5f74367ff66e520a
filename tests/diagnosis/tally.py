"""Count what diagnoses of seeded cases are worth: true place kept, places left, readings needed."""

from __future__ import annotations

import random
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from enum import Enum, auto
from statistics import mean

from tests.diagnosis.advice import Stand, followed, halved
from tests.diagnosis.cases import Case, case_of
from tests.diagnosis.kinds import KINDS
from tests.diagnosis.misses import told
from tests.diagnosis.scoring import Shown, is_kept, names

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
    right: of the others: called healthy, or the true place kept.
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
            kept = is_kept(case.ground.ways, diagnosis, case.faults[0])
            tally.right[seen].append(kept or diagnosis.is_healthy)
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


class Found(Enum):
    """Attributes:
    AT_ONCE: one suspect names both.
    IN_TURN: one is named now, the other when that is mended and the walk is read again.
    """

    AT_ONCE = auto()
    IN_TURN = auto()
    NOT = auto()


def pair_of(seed: int, stations: int | None = None) -> Case | None:
    """Two faults of different kinds, each of which a walk would show by itself."""
    kinds = random.Random(f"pair {seed}").sample(list(KINDS), 2)
    case = case_of(seed, kinds, stations)
    if case is None or any(case.mended(f).shown is not Shown.CLEAR for f in case.faults):
        return None
    return case


def pair_found(case: Case) -> Found:
    ways, diagnosis = case.ground.ways, case.diagnosed()
    if any(all(names(ways, s, fault) for fault in case.faults) for s in diagnosis.suspects):
        return Found.AT_ONCE
    for fault in case.faults:
        if is_kept(ways, diagnosis, fault):
            rest = case.mended(fault)
            if is_kept(ways, rest.diagnosed(), rest.faults[0]):
                return Found.IN_TURN
    return Found.NOT
