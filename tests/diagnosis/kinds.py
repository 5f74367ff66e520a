"""All kinds of faults by name, and how one or two of them are drawn for a yard.

Weights and kinds are our own choice (common practice, no source); some of them no matcher is told
of: four hots moved on by one terminal.
"""

from __future__ import annotations

import random
from collections.abc import Callable, Mapping, Sequence

from tests.diagnosis import along_the_way, misjoined
from tests.diagnosis.ground import circuit_of
from tests.diagnosis.metal import Circuit, Part
from tests.diagnosis.plans import Plan
from tests.diagnosis.sites import Impossible, Injected, Site

Maker = Callable[[Site], Injected]
KINDS: Mapping[str, Maker] = {
    "hot open": along_the_way.hot_open,
    "hot resistive": along_the_way.hot_resistive,
    "common open": along_the_way.common_open,
    "common resistive": along_the_way.common_resistive,
    "cable cut": along_the_way.cable_cut,
    "contact open": along_the_way.contact_open,
    "coil open": along_the_way.coil_open,
    "one coil of a twin open": along_the_way.twin_coil_open,
    "lead resistive": along_the_way.lead_resistive,
    "coil low": along_the_way.coil_low,
    "second coil": along_the_way.second_coil,
    "hots touch": along_the_way.hots_touch,
    "hot on common": along_the_way.hot_on_common,
    "exchanged": misjoined.exchanged,
    "common exchanged": misjoined.common_exchanged,
    "other common": misjoined.other_common,
    "between two hots": misjoined.between_hots,
    "commons joined": misjoined.commons_joined,
    "wrong gauge": misjoined.wrong_gauge,
    "wrong length": misjoined.wrong_length,
    "wrong box": misjoined.wrong_box,
    "wrong coil": misjoined.wrong_coil,
    "wrong reading": misjoined.wrong_reading,
}
# Seldom ones, in rows apart; the last no matcher is told of, and it must not call it healthy.
STRANGE: Mapping[str, Maker] = {
    "three moved on": misjoined.three_moved_on,
    "one common exchanged": misjoined.one_common_exchanged,
    "four moved on": misjoined.four_moved_on,
}


def inject(plan: Plan, kind: str, seed: int) -> Injected | None:
    """One of that kind somewhere in a sound yard; None where the yard has no place for it."""
    maker = KINDS.get(kind) or STRANGE[kind]
    try:
        return maker(Site(plan, circuit_of(plan), random.Random(f"{kind} {plan.seed} {seed}")))
    except Impossible:
        return None


def together(sound: Circuit, faults: Sequence[Injected]) -> Circuit | None:
    """The metal with all of them; None where two change the same part of it."""
    found = dict(sound)
    changed: set[Part] = set()
    for fault in faults:
        own = {part: e for part, e in fault.circuit.items() if sound.get(part) != e}
        if changed & own.keys():
            return None
        changed |= own.keys()
        found |= own
    return found
