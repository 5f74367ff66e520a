"""What faults do as long as they are there: who does not run, whose value says little of the rest.

A value that a fault changes is explained by that fault, with its ohms chosen so that it fits: what
else may be wrong on the same way shows only when the value is read again after the repair.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from cardgen.diagnosis.diagnosed import FaultKind
from cardgen.diagnosis.evidence import Evidence
from cardgen.diagnosis.hypothesis import Hypothesis
from cardgen.results import OL, Kind

_LEAST_PART, _MOST_PART = 0.35, 2.0  # of the sound ohms: outside it hardly runs; assumed
_CHANGED = 2.0  # standard deviations by which a value must differ to be changed
# With these nothing in the yard is to be repaired, or the value is as it should be.
_NO_REPAIR = (
    FaultKind.WRONG_BOX,
    FaultKind.WRONG_LENGTH,
    FaultKind.WRONG_GAUGE,
    FaultKind.WRONG_COIL,
)
_DEAD = (FaultKind.COIL_OPEN, FaultKind.NO_OUTPUT)


def expected_of(parts: Sequence[Hypothesis]) -> Mapping[int, float]:
    """By index; of two faults the second knows what both do."""
    found: dict[int, float] = {}
    for part in parts:
        found |= part.expected
    return found


def at_rest(parts: Sequence[Hypothesis], evidence: Sequence[Evidence]) -> tuple[str, ...]:
    """Valves that have too few volts to run, or none, or a short before them."""
    return tuple(dict.fromkeys(_at_rest(parts, evidence)))


def _at_rest(parts: Sequence[Hypothesis], evidence: Sequence[Evidence]) -> Iterator[str]:
    misread = _misread(parts)
    for index, ohms in sorted(expected_of(parts).items()):
        each = evidence[index]
        if each.kind is not Kind.CONTROLLER or each.sound == OL or index in misread:
            continue
        if not _LEAST_PART * each.sound <= ohms <= _MOST_PART * each.sound:
            yield from each.valves
    for part in parts:
        if part.fault.kind in _DEAD:
            yield from part.fault.valves


def _misread(parts: Sequence[Hypothesis]) -> set[int]:
    return {i for p in parts if p.fault.kind is FaultKind.WRONG_READING for i in p.expected}


def to_read_again(parts: Sequence[Hypothesis], evidence: Sequence[Evidence]) -> tuple[str, ...]:
    """Valves whose value these change: read again after the repair, it may show more."""
    if all(part.fault.kind in _NO_REPAIR for part in parts):
        return ()
    return tuple(
        dict.fromkeys(
            valve
            for index, ohms in sorted(expected_of(parts).items())
            if evidence[index].kind is Kind.CONTROLLER and _is_changed(evidence[index], ohms)
            for valve in evidence[index].valves
        )
    )


def _is_changed(evidence: Evidence, ohms: float) -> bool:
    spread = evidence.variance(evidence.sound) ** 0.5 if evidence.sound < OL else 0.0
    return ohms != evidence.sound and abs(ohms - evidence.sound) > _CHANGED * spread
