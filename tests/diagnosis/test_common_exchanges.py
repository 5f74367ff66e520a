"""A common on the terminal of a hot, where other wires are on the wrong terminals already."""

from __future__ import annotations

from dataclasses import replace

import pytest

from cardgen.diagnosis.common_exchanges import common_exchanges
from cardgen.diagnosis.evidence import evidence_of
from cardgen.diagnosis.hypothesis import Question, question_of
from cardgen.diagnosis.yard import Yard
from tests.diagnosis.small_yard import as_built_of, walk

# By hand: both hots out, the common between their boxes, and two coils of 30 ohm; B1 to B4.
TO_HOT_1 = {1: 62.6, 2: 64.5, 3: 67.7, 4: 71.5}
WALK = {2: 62.6, 3: 71.5, 4: 64.5, 5: 67.7, 6: 67.7, 7: 71.5, 8: 64.5}


def asked(exchanged: tuple[str, str]) -> Question:
    """With the wires of two nodes exchanged already, each that of a valve's hot or C."""
    built = as_built_of()
    assert built.network is not None
    yard = Yard(built, built.network)
    question = question_of(yard, evidence_of(yard, walk(WALK)))
    one, other = (yard.coil[v].hot_end if v != "C" else yard.coil["A1"].back_end for v in exchanged)
    return replace(question, exchanged={one: other, other: one})


def test_two_stations_that_are_exchanged_are_exchanged_with_that_hot_on_c_too() -> None:
    """A3 reads what is in box B4, and A8 what is in B2."""
    question = asked(("A3", "A8"))
    (on_c,) = (h for h in common_exchanges(question) if h.fault.valves == ("A1",))
    box = {2: 1, 3: 4, 4: 2, 5: 3, 6: 3, 7: 4, 8: 2}
    found = {question.evidence[i].valves[0]: ohms for i, ohms in on_c.expected.items()}
    assert found.pop("A1") == pytest.approx(32.6, abs=0.06)  # its own coil, as ever
    by_hand = {f"A{station}": TO_HOT_1[at] for station, at in box.items()}
    assert found == pytest.approx(by_hand, abs=0.06)


def test_a_common_that_is_on_a_hot_already_is_exchanged_with_no_other() -> None:
    assert not list(common_exchanges(asked(("C", "A1"))))
