"""The stops of the way and their marks: counted by hand in the quarry (sample_jobs/quarry.yaml)."""

from __future__ import annotations

from cardgen.advice import advice
from cardgen.advice.way_stops import way_stops
from cardgen.cards.card import WayStop
from cardgen.diagnosis import Diagnosis, FaultKind, Suspect
from cardgen.words import english
from tests.advice.diagnoses import common_open, diagnosis, fault, fitted, readings, site
from tests.cards.printables import printable
from tests.jobs import sample


def stops(found: Diagnosis, name: str = "quarry") -> tuple[WayStop, ...]:
    known = printable(sample(name)).asbuilt
    return way_stops(english(), known, advice(english(), known, found, readings(found)))


def test_only_the_run_that_is_concerned_in_order_from_the_controller() -> None:
    found = stops(common_open())
    assert [(stop.title, stop.leg, stop.depth) for stop in found] == [
        ("CONTROLLER A", "", 0),
        ("VB-4", "A-K2 · 180 ft", 1),
        ("VB-5", "A-K2 · 230 ft", 1),
        ("VB-6", "A-K2 · 150 ft", 1),
    ]
    assert [stop.on_leg for stop in found] == [(), (), ("1", "2"), ()]
    assert [stop.begins for stop in found] == [False, True, False, False]


def test_readings_stand_at_the_box_of_their_valve() -> None:
    """Both coils of the twin A10 are read at once at the controller."""
    _, vb4, vb5, _ = stops(common_open())
    assert vb4.notes == ("good: A9 and A10",)
    assert vb5.off == tuple(f"! {v} OL; expected 35.2 (33.2 to 37.2)" for v in ("A11", "A12"))


def test_a_suspected_conductor_is_shown_where_it_begins() -> None:
    both = fault(FaultKind.OPEN, "A13", site("A-K2 white", "A", "VB-6"))
    found = stops(diagnosis(Suspect(faults=(both,), share=1.0)))
    assert [[wire.word for wire in stop.wires] for stop in found] == [[], ["white"], [], []]
    assert [stop.on_leg for stop in found] == [(), ("1",), ("1",), ("1",)]


def test_a_distance_leaves_out_the_legs_beyond() -> None:
    """180 ft to VB-4 are 54.9 m and the next 230 ft end at 125.0 m: 60 m is in the second leg."""
    near = fault(FaultKind.HOT_ON_COMMON, "A13", site("A-K2 orange", "A", "VB-6", 60.0))
    found = stops(diagnosis(Suspect(faults=(near,), share=1.0)))
    assert [(stop.title, stop.on_leg) for stop in found] == [
        ("CONTROLLER A", ()),
        ("VB-4", ("1",)),
        ("VB-5", ("1",)),
    ]
    assert found[-1].notes[-1] == "continues to VB-6"


def test_what_is_in_a_box_or_at_a_terminal_is_marked_there() -> None:
    coil = fault(FaultKind.COIL_OPEN, "A9", site("", "VB-4", "VB-4"))
    strip = fault(FaultKind.COMMON_EXCHANGED, "A9", site("", "A", "A"))
    found = stops(
        diagnosis(
            Suspect(faults=(coil,), share=0.5),
            Suspect(faults=(strip,), share=0.5),
            values=(fitted("A9", 9.0, 32.3, is_off=True),),
        )
    )
    assert [(stop.title, stop.here) for stop in found] == [
        ("CONTROLLER A", ("2",)),
        ("VB-4", ("1",)),
    ]


def test_a_cable_that_goes_off_is_one_deeper() -> None:
    """A-S1 begins in SB-1, where A-K1 ends."""
    beyond = fault(FaultKind.OPEN, "A1", site("A-S1 red A1", "SB-1", "VB-1"))
    found = stops(diagnosis(Suspect(faults=(beyond,), share=1.0)))
    assert [(stop.title, stop.depth, stop.begins) for stop in found] == [
        ("CONTROLLER A", 0, False),
        ("SB-1", 1, True),
        ("VB-1", 2, True),
    ]


def test_where_nothing_is_wrong_there_is_no_way() -> None:
    assert stops(diagnosis(is_healthy=True, values=(fitted("A9", 32.3, 32.3),))) == ()
