"""Check lengths and gauges for slips of the pen: another unit, a nought too many, an odd size."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping

from cardgen.english_lists import english_list
from cardgen.facts import Facts
from cardgen.faults.box_faults import GAUGE_ODD, LEG_OUT_OF_SCALE, UNITS_MIXED
from cardgen.job.job_parts import Cable
from cardgen.problems import Also, Problem, Span
from cardgen.reading.shapes import Written
from cardgen.trade.copper import resistance
from cardgen.units import Gauge, Length, LengthUnit, Meters, plain
from cardgen.wiring.uses import Role

# All of these are assumed.  A home run may well be far longer than the legs from box to box, so
# less is asked about it; where only one other leg is there to compare with, too.
OUT_OF_SCALE = 3  # times the usual leg of the job
OUT_OF_SCALE_HOME_RUN = 6
SHORT_LEG = 60.0  # meters; no leg up to this is asked about
LONGEST_USUAL_LEG = 900.0  # meters; a reel or two between boxes
ODD_GAUGE = 2.0  # times the ohms of all the others
FEWEST_ALIKE = 3  # cables of one gauge, so that another one is odd


def units_mixed(facts: Facts) -> Iterator[Problem]:
    """Feet and meters in one job: the odd ones out are likely slips."""
    legs = [leg for cable in facts.job.cables.values() for _, leg in _known_legs(cable)]
    counts = Counter(leg.value.unit for leg in legs)
    if len(counts) < 2:
        return
    rare = min(counts, key=lambda unit: (counts[unit], unit))
    usual = LengthUnit.FEET if rare is LengthUnit.METERS else LengthUnit.METERS
    first = next(leg for leg in legs if leg.value.unit is rare)
    other = next(leg for leg in legs if leg.value.unit is usual)
    yield UNITS_MIXED.at(
        first.span,
        leg=first.value,
        others=_legs(counts[usual]),
        unit=usual,
        amount=plain(first.value.amount),
        also=(Also(span=other.span, text=f"in {usual} here"),),
    )


def _known_legs(cable: Cable) -> Iterator[tuple[int, Written[Length]]]:
    """The legs of which the length is known, each with its number in the run."""
    for number, stop in enumerate(cable.run):
        if stop.leg and stop.leg.value:
            yield number, Written(stop.leg.span, stop.leg.value)


def _legs(count: int) -> str:
    return "the other leg of the job is" if count == 1 else f"{count} legs of the job are"


def legs_out_of_scale(facts: Facts) -> Iterator[Problem]:
    """A leg many times as long as the others: perhaps the wrong unit, or a nought too many.

    It is asked once for a job, about the longest.
    """
    odd = sorted(_odd_legs(facts), key=lambda pair: -pair[0].value.meters)
    if not odd:
        return
    leg, usual = odd[0]
    others = english_list(f"{other.value}" for other, _ in odd[1:])
    times = leg.value.meters / usual.meters if usual else 0.0
    very_long = usual is None or leg.value.meters > LONGEST_USUAL_LEG
    cables = facts.job.cables.values()
    yield LEG_OUT_OF_SCALE.at(
        leg.span,
        variant="very long" if very_long else "",
        leg=leg.value,
        times=f"{times:.0f}",
        usual=usual,
        others=f"; others are {others}" if others else "",
        cable=next(
            cable.id for cable in cables if any(leg == other for _, other in _known_legs(cable))
        ),
    )


def _odd_legs(facts: Facts) -> Iterator[tuple[Written[Length], Length | None]]:
    """Each with the usual length of the others."""
    legs = [
        (leg, number == 1 and cable.run[0].at in facts.job.controllers)
        for cable in facts.job.cables.values()
        for number, leg in _known_legs(cable)
    ]
    by_length = sorted((leg.value for leg, _ in legs), key=_meters)
    for leg, is_home_run in legs:
        meters = leg.value.meters
        if meters <= SHORT_LEG:
            continue
        others = len(by_length) - 1
        if not others:
            if meters > LONGEST_USUAL_LEG:
                yield leg, None
            continue
        # The median of the others for a leg that is longer than it; nothing is asked of any other.
        usual = by_length[others // 2]
        lenient = is_home_run or others < 2
        most = OUT_OF_SCALE_HOME_RUN if lenient else OUT_OF_SCALE
        if meters > most * usual.meters:
            yield leg, usual


def _meters(length: Length) -> Meters:
    return length.meters


def odd_gauges(facts: Facts) -> Iterator[Problem]:
    """One cable much thinner than all the others, which are of one gauge.

    Singles are usually thicker than what lies in one jacket, so each kind is judged by itself.
    """
    found: dict[bool, dict[tuple[str, Gauge], Span]] = {False: {}, True: {}}
    for name, stretches in facts.uses.stretches.items():
        conductor = facts.wiring.conductors[name]
        if conductor.gauge is None:
            continue
        if any(use.role is Role.HOT for s in stretches for use in s.uses):
            cable = conductor.cable
            found[bool(cable.singles)].setdefault((cable.id, conductor.gauge), cable.span)
    for alike in found.values():
        yield from _odd_one(alike)


def _odd_one(found: Mapping[tuple[str, Gauge], Span]) -> Iterator[Problem]:
    counts = Counter(gauge for _, gauge in found)
    if len(counts) != 2:
        return
    (usual, many), (odd, one) = counts.most_common()
    if one != 1 or many < FEWEST_ALIKE or resistance(odd) < ODD_GAUGE * resistance(usual):
        return
    cable, place = next((name, at) for (name, gauge), at in found.items() if gauge == odd)
    yield GAUGE_ODD.at(place, cable=cable, gauge=odd, count=many, usual=usual)
