"""Who does not run until it is repaired, and whose value is to be read again then; by hand."""

from __future__ import annotations

from cardgen.diagnosis import FaultKind, Suspect, diagnose
from tests.diagnosis.small_yard import OL, as_built_of, walk


def best(changed: dict[int, float]) -> Suspect:
    return diagnose(as_built_of(), walk(changed)).suspects[0]


def test_behind_an_open_common_nothing_runs_and_nothing_is_known() -> None:
    """B3 to B4: A7 and A8."""
    suspect = best({7: OL, 8: OL})
    assert suspect.meanwhile == suspect.again == ("A7", "A8")


def test_with_some_ohms_more_it_runs_and_is_to_be_read_again() -> None:
    """25 ohms in the hot of A5, whose own ohms are 37.7: not twice as many."""
    suspect = best({5: 62.7})
    assert (suspect.meanwhile, suspect.again) == ((), ("A5",))


def test_a_value_read_wrong_stops_nobody() -> None:
    """A point that was not seen: 341 for 34.1."""
    found = diagnose(as_built_of(), walk({3: 345.0}))
    wrong = [s for s in found.suspects if s.faults[0].kind is FaultKind.WRONG_READING]
    assert all(suspect.meanwhile == () for suspect in wrong)


def test_a_wrong_job_needs_no_second_reading() -> None:
    """Leg B3 to B4 of four times its length: 2 x 900 ft more of 6.39 ohms for 1,000 ft."""
    found = diagnose(as_built_of(), walk({7: 53.0, 8: 53.0}))
    (longer,) = [s for s in found.suspects if s.faults[0].kind is FaultKind.WRONG_LENGTH]
    assert longer.again == ()
