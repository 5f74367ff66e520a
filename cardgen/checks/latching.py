"""Check what only battery controllers with latching coils have, and coils on the wrong supply."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator

from cardgen.english_lists import english_list
from cardgen.facts import Facts
from cardgen.faults.latching_faults import (
    COIL_ON_WRONG_SUPPLY,
    COIL_UNKNOWN,
    POLARITY_MISSING,
    POLARITY_UNUSUAL,
    RUN_TOO_LONG,
    TOLERANCE_UNUSED,
)
from cardgen.job.job_parts import Coil, Controller
from cardgen.problems import Problem, Span
from cardgen.units import (
    METERS_PER_FOOT,
    Length,
    LengthUnit,
    Meters,
    SupplyKind,
    beside,
    known_length,
)
from cardgen.wiring.wiring_parts import Circuit, Leg, Load


def coils_on_wrong_supply(facts: Facts) -> Iterator[Problem]:
    """An AC coil on a battery controller, or a latching coil on AC."""
    usual: dict[tuple[str, str], list[str]] = defaultdict(list)
    for owner, loads in facts.loads_of.items():
        coil = loads[0].coil
        controller = facts.job.controllers[loads[0].controller]
        supply = controller.supply.value
        if coil is None or supply.kind is SupplyKind.TWO_WIRE:
            continue  # a decoder makes its own pulses
        if coil.supply.value.kind is supply.kind:
            continue
        named = loads[0].owner.coil
        if named is None:
            usual[controller.id, coil.id].append(owner)
        else:
            yield _wrong_coil(owner, coil, controller, named.span)
    for (name, coil_id), owners in usual.items():
        controller = facts.job.controllers[name]
        assert controller.coil is not None
        place = controller.coil.span
        yield _wrong_coil(english_list(owners), facts.job.coils[coil_id], controller, place)


def _wrong_coil(owners: str, coil: Coil, controller: Controller, span: Span) -> Problem:
    supply = controller.supply.value
    burns = supply.kind is SupplyKind.AC and coil.supply.value.kind is SupplyKind.LATCHING
    return COIL_ON_WRONG_SUPPLY.at(
        span,
        variant="burns" if burns else "",
        coil=coil.id,
        valves=owners,
        made_for=coil.supply.value,
        controller=controller.id,
        supply=supply,
    )


def coils_unknown(facts: Facts) -> Iterator[Problem]:
    """Nothing says which coil valves have, so no reading can be given; once for a controller."""
    without: dict[str, list[Load]] = defaultdict(list)
    for loads in facts.loads_of.values():
        load = loads[0]
        named = load.owner.coil or facts.job.controllers[load.controller].coil
        reported = facts.wiring.reported & {load.controller, load.owner.id}
        if load.coil is None and named is None and not reported:
            without[load.controller].append(load)
    for controller, loads in without.items():
        owners = tuple(load.owner.id for load in loads)
        variant = "several" if len(loads) > 1 else ""
        yield COIL_UNKNOWN.at(
            loads[0].span,
            variant=variant,
            owners=owners,
            stations=english_list(owners),
            controller=controller,
        )


def supply_tolerance(facts: Facts) -> Iterator[Problem]:
    """Pulses of a battery or a decoder have no volts that a meter could hold against it."""
    for controller in facts.job.controllers.values():
        supply, said = controller.supply.value, controller.supply_tolerance
        if said is not None and supply.kind is not SupplyKind.AC:
            yield TOLERANCE_UNUSED.at(said.span, controller=controller.id, supply=supply)


def polarity(facts: Facts) -> Iterator[Problem]:
    """A latching controller needs its polarity rule; the unusual one must be known."""
    for controller in facts.job.controllers.values():
        if controller.supply.value.kind is not SupplyKind.LATCHING:
            continue
        if controller.polarity is None:
            yield POLARITY_MISSING.at(controller.span, controller=controller.id)
        elif controller.polarity.hot.lower() != "red":
            yield POLARITY_UNUSUAL.at(
                controller.polarity.span,
                controller=controller.id,
                hot=controller.polarity.hot,
                common=controller.polarity.common,
            )


def runs_too_long(facts: Facts) -> Iterator[Problem]:
    """Latching valves are farther away than the controller's maker allows; once for each cable."""
    far: dict[str, list[tuple[Meters, Circuit]]] = defaultdict(list)
    for circuit in facts.circuits.values():
        controller = facts.job.controllers[circuit.load.controller]
        if controller.wire_limit is None:
            continue
        meters = known_length(s.length for s in circuit.hot if isinstance(s, Leg))
        if meters > controller.wire_limit.meters + 1e-6:
            far[circuit.hot_at_valve.cable.id].append((meters, circuit))
    for found in far.values():
        meters, worst = max(found, key=lambda pair: pair[0])
        controller = facts.job.controllers[worst.load.controller]
        assert controller.wire_limit is not None
        others = english_list(c.load.id for _, c in found if c is not worst)
        yield RUN_TOO_LONG.at(
            worst.load.span,
            variant="several" if others else "",
            valve=worst.load.id,
            wire=_beside(meters, controller.wire_limit),
            controller=controller.id,
            limit=controller.wire_limit,
            others=others,
        )


def _beside(meters: float, limit: Length) -> str:
    """In the unit of the limit, with the digit that tells it from the limit."""
    amount = meters / METERS_PER_FOOT if limit.unit is LengthUnit.FEET else meters
    return f"{beside(amount, limit.amount, 0)} {limit.unit}"
