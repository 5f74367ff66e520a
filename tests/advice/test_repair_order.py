"""Which of two faults is repaired first, read off the wiring of the quarry by hand.

A-K2 white is the common of A9 to A14: first VB-4 (A9, A10), then VB-5 (A11, A12), then VB-6.
"""

from __future__ import annotations

import pytest

from cardgen.advice.repair_order import first_to_repair
from cardgen.diagnosis import FaultKind, Suspect, SuspectedFault
from tests.advice.diagnoses import diagnosis, fault, site
from tests.advice.test_told import said, told
from tests.cards.printables import printable
from tests.jobs import sample

NEAR = fault(FaultKind.OPEN, "A9 A10", site("A-K2 white", "A", "VB-4"))
FAR = fault(FaultKind.OPEN, "A13 A14", site("A-K2 white", "VB-5", "VB-6"))
OF_ONE = fault(FaultKind.COIL_OPEN, "A13", site("", "VB-6", "VB-6"))
SPLICE = fault(FaultKind.OPEN, "A13 A14", site("A-K2 white", "VB-5", "VB-5"))
ELSEWHERE = fault(FaultKind.OPEN, "A1", site("A-K1 red", "A", "SB-1"))


@pytest.mark.parametrize(
    ("faults", "expected"),
    [
        ((NEAR, FAR), 0),
        ((FAR, NEAR), 1),
        ((OF_ONE, NEAR), 1),
        ((NEAR, SPLICE), 0),
        ((NEAR, ELSEWHERE), None),
        ((NEAR,), None),
    ],
)
def test_what_hides_the_other_is_repaired_first(
    faults: tuple[SuspectedFault, ...], expected: int | None
) -> None:
    assert first_to_repair(printable(sample("quarry")).asbuilt, faults) == expected


def test_it_is_said_by_the_marks_of_their_places() -> None:
    found = told(diagnosis(Suspect(faults=(FAR, NEAR), share=1.0)))
    assert [each.mark for each in found.kneeling] == ["1a", "1b"]
    assert said(found.follows)[0] == (
        "Fix 1b first: until then the meter cannot show whether 1a is good. Then measure again."
    )
    apart = told(diagnosis(Suspect(faults=(NEAR, ELSEWHERE), share=1.0)))
    assert said(apart.follows)[0] == "Fix one, measure all stations again, then fix the other."
