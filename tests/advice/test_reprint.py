"""What the prints would have to say if the job follows the wires, counted by hand in the samples.

A3 and A4 of larkspur: VB-2 and VB-3, both of controller A.
"""

from __future__ import annotations

import pytest

from cardgen.advice.reprint import reprint
from cardgen.diagnosis import FaultKind, SuspectedFault
from cardgen.words import english
from tests.advice.diagnoses import fault, site
from tests.cards.printables import printable
from tests.jobs import sample

AT_A = site("", "A", "A")


@pytest.mark.parametrize(
    ("wrong", "expected"),
    [
        (
            fault(FaultKind.EXCHANGED, "A3 A4", AT_A),
            (
                "If the wires stay as they are, swap the hots of A3 and A4 in the job. Raise the "
                "revision and print again: 2 valve tags (A3 and A4), the flags of A3 and A4, the "
                "legend of A and the splice cards of VB-2 and VB-3."
            ),
        ),
        (
            fault(FaultKind.WRONG_COIL, "A3", site("", "VB-2", "VB-2")),
            (
                "If so, correct the coil of A3 in the job. Raise the revision and print again: the "
                "valve tag A3, the legend of A and the test sheet of A."
            ),
        ),
        (
            fault(FaultKind.WRONG_BOX, "A3", site("", "VB-1", "VB-1"), name="VB-1"),
            (
                "If so, correct the box of A3 in the job. Raise the revision and print again: the "
                "valve tag A3, the flags of A3, the box tags of VB-2 and VB-1, the splice cards of "
                "VB-2 and VB-1 and the legend of A."
            ),
        ),
    ],
    ids=lambda value: str(value.kind) if isinstance(value, SuspectedFault) else "",
)
def test_prints_that_change_are_named(wrong: SuspectedFault, expected: str) -> None:
    told = reprint(english(), printable(sample("larkspur")).asbuilt, wrong)
    assert told is not None
    assert told.printed == f"{expected} 'cardgen print --since 1' prints just these."


def test_of_a_length_all_valves_on_that_conductor_are_named() -> None:
    """A-K2 white of larkspur is the common of A4 and A5 alone."""
    wrong = fault(FaultKind.WRONG_LENGTH, "A4", site("A-K2 white", "A", "VB-3"), name="A-K2")
    told = reprint(english(), printable(sample("larkspur")).asbuilt, wrong)
    assert told is not None
    assert "2 valve tags (A4 and A5)" in told.printed


@pytest.mark.parametrize("kind", [FaultKind.OPEN, FaultKind.CUT, FaultKind.WRONG_READING])
def test_where_the_wires_are_repaired_nothing_is_printed_again(kind: FaultKind) -> None:
    wires = fault(kind, "A3", AT_A)
    assert reprint(english(), printable(sample("larkspur")).asbuilt, wires) is None
