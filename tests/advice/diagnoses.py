"""Diagnoses written by hand, of the sample jobs, as an engine could give them."""

from __future__ import annotations

import math
from typing import cast

from cardgen.diagnosis import (
    ClearedStretch,
    Diagnosis,
    Exclusion,
    FaultKind,
    FittedValue,
    NextStep,
    PossibleOutcome,
    StepKind,
    Suspect,
    SuspectedFault,
    SuspectSite,
)
from cardgen.results import Kind, Measured

OL = math.inf


def readings(diagnosis: Diagnosis) -> tuple[Measured, ...]:
    """Those it says to be made from: ohms at the controller, by valve."""
    return tuple(
        Measured(
            id=value.reading,
            when="2026-03-20",
            record_key="",
            box="",
            valve=value.valve,
            kind=Kind.CONTROLLER,
            value=value.value,
        )
        for value in diagnosis.values
    )


def fitted(valve: str, value: float, expected: float, *, is_off: bool = False) -> FittedValue:
    return FittedValue(
        reading=valve,
        valve=valve,
        value=value,
        expected=expected,
        low=expected - 2,
        high=expected + 2,
        is_off=is_off,
    )


def site(conductor: str, start: str, end: str, *bounds: float) -> SuspectSite:
    """`bounds`: the most, or the least and the most, in meters from `start`."""
    least, most = {0: (None, None), 1: (None, bounds[-1:][0] if bounds else None)}.get(
        len(bounds), (bounds[0] if bounds else None, bounds[-1] if bounds else None)
    )
    return SuspectSite(conductor=conductor, start=start, end=end, least_m=least, most_m=most)


def fault(
    kind: FaultKind, valves: str, *sites: SuspectSite, ohms: float | None = None, name: str = ""
) -> SuspectedFault:
    return SuspectedFault(
        kind=kind, valves=tuple(valves.split()), sites=sites, ohms=ohms, name=name
    )


def diagnosis(*suspects: Suspect, **more: object) -> Diagnosis:
    values = cast("tuple[FittedValue, ...]", more.get("values", ()))
    given: dict[str, object] = {
        "counted": tuple(value.reading for value in values),
        "controllers": ("A",),
        "values": (),
        "is_healthy": False,
        "is_several": False,
        "suspects": suspects,
        "excluded": (),
        "cleared": (),
        "steps": (),
    }
    return Diagnosis(**{**given, **more})  # type: ignore[arg-type]  # each by its name


def common_open() -> Diagnosis:
    """Quarry: A11 to A14 read OL, A9 and A10 do not: common A-K2 white beyond VB-4.

    Expected ohms are those of TRADE.md section 5.2, worked out there by hand.
    """
    values = (
        fitted("A9", 32.4, 32.3),
        fitted("A10a", 17.2, 17.3),
        fitted("A11", OL, 35.2, is_off=True),
        fitted("A12", OL, 35.2, is_off=True),
        fitted("A13", OL, 37.2, is_off=True),
        fitted("A14", OL, 37.2, is_off=True),
    )
    common = fault(FaultKind.OPEN, "A11 A12 A13 A14", site("A-K2 white", "VB-4", "VB-5"))
    cut = fault(FaultKind.CUT, "A11 A12 A13 A14", site("", "VB-4", "VB-5"), name="A-K2")
    stopped = ("A11", "A12", "A13", "A14")
    return diagnosis(
        Suspect(faults=(common,), share=0.72, meanwhile=stopped),
        Suspect(faults=(cut,), share=0.28, meanwhile=stopped),
        values=values,
        cleared=(
            ClearedStretch(conductor="A-K2 white", start="A", end="VB-4"),
            ClearedStretch(conductor="A-K2 red", start="A", end="VB-4"),
            ClearedStretch(conductor="A-K2 blue", start="A", end="VB-4"),
        ),
        excluded=(Exclusion(kind=FaultKind.CONTACT, valve="A9", expected=OL, read=32.4),),
        steps=(
            NextStep(
                kind=StepKind.HOT_TO_HOT,
                valves=("A11", "A12"),
                at="A",
                effort=1.0,
                left=0.5,
                outcomes=(
                    PossibleOutcome(low=68.2, high=72.6, suspects=(0,)),
                    PossibleOutcome(low=OL, high=OL, suspects=(1,)),
                ),
            ),
            NextStep(
                kind=StepKind.OPEN_SPLICE,
                valves=(),
                at="VB-4",
                effort=4.0,
                left=1.0,
                outcomes=(),
                name="A-K2 white",
            ),
        ),
    )
