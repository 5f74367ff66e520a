"""The scorer, by diagnoses made by hand: what counts as the true place, how many are left."""

from __future__ import annotations

from dataclasses import replace

import pytest

from cardgen.diagnosis import Diagnosis, FaultKind, Suspect, SuspectedFault, SuspectSite
from tests.diagnosis.kinds import KINDS, STRANGE
from tests.diagnosis.plans import random_plan
from tests.diagnosis.scoring import (
    EQUIVALENT,
    Shown,
    is_kept,
    kept_places,
    shown,
    ways_of,
)
from tests.diagnosis.sites import Injected
from tests.diagnosis.trade_yard import COMMON, PLAN, hot

WAYS = ways_of(PLAN)
BREAK = Injected(
    kind="common open", circuit=WAYS.circuit, start="B2", end="B3", conductors=(COMMON,)
)


def diagnosed(*faults: SuspectedFault) -> Diagnosis:
    """Each of the faults as a suspect."""
    share = 1 / len(faults) if faults else 0.0
    return Diagnosis(
        controllers=("A",),
        values=(),
        is_healthy=not faults,
        is_several=False,
        suspects=tuple(Suspect(faults=(fault,), share=share) for fault in faults),
        excluded=(),
        cleared=(),
        steps=(),
    )


def fault(kind: FaultKind, *sites: tuple[str, str, str], valves: str = "") -> SuspectedFault:
    return SuspectedFault(
        kind=kind,
        valves=tuple(valves.split()),
        sites=tuple(SuspectSite(conductor=c, start=s, end=e) for c, s, e in sites),
    )


OPEN, CUT, COIL_OPEN = FaultKind.OPEN, FaultKind.CUT, FaultKind.COIL_OPEN


@pytest.mark.parametrize(
    ("said", "is_true"),
    [
        (fault(OPEN, (COMMON, "B2", "B3")), True),
        (fault(OPEN, (COMMON, "B1", "B4")), True),
        (fault(OPEN, (COMMON, "B1", "B2"), (COMMON, "B2", "B3")), True),
        (fault(CUT, (COMMON, "B2", "B3")), True),
        (fault(OPEN, (COMMON, "B1", "B2")), False),
        (fault(OPEN, (COMMON, "B3", "B3")), False),
        (fault(OPEN, (hot(5), "B2", "B3")), False),
        (fault(FaultKind.RESISTIVE, (COMMON, "B2", "B3")), False),
        (fault(COIL_OPEN, ("", "B3", "B3"), valves="A5"), False),
    ],
)
def test_a_break_of_the_common_between_two_boxes(said: SuspectedFault, is_true: bool) -> None:
    assert is_kept(WAYS, diagnosed(said), BREAK) is is_true


def test_it_is_enough_that_one_of_the_suspects_has_it() -> None:
    wrong, right = fault(OPEN, (hot(5), "A", "B3")), fault(OPEN, (COMMON, "B2", "B3"))
    assert is_kept(WAYS, diagnosed(wrong, right), BREAK)
    assert not is_kept(WAYS, diagnosed(wrong), BREAK)
    assert not is_kept(WAYS, diagnosed(), BREAK)


@pytest.mark.parametrize(
    ("said", "is_true"),
    [
        (fault(COIL_OPEN, ("", "B3", "B3"), valves="A5"), True),
        (fault(OPEN, (hot(5), "A", "B3")), True),
        (fault(COIL_OPEN, ("", "B3", "B3"), valves="A6"), False),
        (fault(COIL_OPEN, ("", "B2", "B2"), valves="A5"), False),
        (fault(OPEN, (hot(5), "A", "B2")), False),
    ],
)
def test_a_coil_is_named_by_its_valve_and_box(said: SuspectedFault, is_true: bool) -> None:
    coil = replace(
        BREAK, kind="coil open", start="B3", end="B3", conductors=(hot(5), COMMON), valves=("A5",)
    )
    assert is_kept(WAYS, diagnosed(said), coil) is is_true


@pytest.mark.parametrize(("valves", "is_true"), [("A8 A1", True), ("A1 A7", False), ("A1", False)])
def test_an_exchange_is_named_by_both_stations(valves: str, is_true: bool) -> None:
    swap = replace(BREAK, kind="exchanged", start="A", end="A", conductors=(), valves=("A1", "A8"))
    said = fault(FaultKind.EXCHANGED, ("", "A", "A"), valves=valves)
    assert is_kept(WAYS, diagnosed(said), swap) is is_true


def test_a_touch_is_named_by_its_hots_and_its_leg() -> None:
    met = replace(BREAK, kind="hots touch", conductors=(hot(5), hot(7)), valves=("A5", "A7"))
    touch = FaultKind.HOTS_TOUCH
    assert is_kept(WAYS, diagnosed(fault(touch, (hot(7), "B2", "B3"), valves="A7 A5")), met)
    assert not is_kept(WAYS, diagnosed(fault(touch, (hot(7), "B1", "B2"), valves="A7 A5")), met)
    assert not is_kept(WAYS, diagnosed(fault(touch, (hot(7), "B2", "B3"), valves="A7 A6")), met)


@pytest.mark.parametrize(
    ("said", "places"),
    [
        ((), 0),
        ((fault(OPEN, (COMMON, "B2", "B3")),), 1),
        # A common is spliced in each box, a hot passes uncut to its own.
        ((fault(OPEN, (COMMON, "A", "B4")),), 4),
        ((fault(OPEN, (hot(7), "A", "B4")),), 1),
        ((fault(OPEN, (hot(7), "A", "B4")), fault(COIL_OPEN, ("", "B4", "B4"), valves="A7")), 2),
        ((fault(OPEN, (COMMON, "B2", "B3")), fault(OPEN, (COMMON, "B2", "B3"))), 1),
        ((fault(FaultKind.COIL_LOW, ("", "B4", "B4")), fault(COIL_OPEN, ("", "B4", "B4"))), 1),
        (
            (
                fault(FaultKind.EXCHANGED, ("", "A", "A"), valves="A1 A8"),
                fault(FaultKind.EXCHANGED, ("", "A", "A"), valves="A2 A8"),
            ),
            2,
        ),
    ],
)
def test_places_are_where_somebody_kneels(said: tuple[SuspectedFault, ...], places: int) -> None:
    assert kept_places(WAYS, diagnosed(*said)) == places


@pytest.mark.parametrize(
    ("change", "how"),
    [(0.0, Shown.HIDDEN), (0.9, Shown.HIDDEN), (2.0, Shown.FAINT), (8.0, Shown.CLEAR)],
)
def test_what_a_meter_and_coils_hide_is_not_asked_for(change: float, how: Shown) -> None:
    """One ohm is the meter's own; three times that with the 1.5 of a coil's 5 % is clear."""
    sound = dict.fromkeys(PLAN.valves, 32.6)
    assert shown(PLAN, sound, {**sound, "A5": 32.6 - change}) is how


def test_each_kind_has_a_line_in_the_table_with_kinds_that_differ() -> None:
    """Three hots moved on are of no kind: nothing that could be said of two is the truth."""
    assert EQUIVALENT.keys() == {*KINDS, *STRANGE} - {"four moved on"}
    assert all(EQUIVALENT.values())


def test_only_beside_another_way_an_open_common_is_like_a_bad_one() -> None:
    ring = random_plan(1)
    assert "ring" in ring.features
    link = next(cable for cable in ring.cables.values() if not cable.is_link)
    start, end = link.places[:2]
    broken = replace(BREAK, start=start, end=end, conductors=(link.common,))
    said = diagnosed(fault(FaultKind.RESISTIVE, (link.common, start, end)))
    assert is_kept(ways_of(ring), said, broken)
    assert not is_kept(WAYS, diagnosed(fault(FaultKind.RESISTIVE, (COMMON, "B2", "B3"))), BREAK)
