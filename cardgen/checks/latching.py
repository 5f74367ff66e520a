"""Check what only battery controllers with latching coils have, and coils on the wrong supply."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator

from cardgen.checks.reporting import error, note, warning
from cardgen.facts import Facts
from cardgen.job.model import Coil, Controller
from cardgen.lists import listed
from cardgen.problems import Problem, Span
from cardgen.units import METRES_PER_FOOT, Length, LengthUnit, Metres, SupplyKind, beside
from cardgen.wiring.model import Circuit, Leg


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
        said = loads[0].owner.coil
        if said is None:
            usual[controller.id, coil.id].append(owner)
        else:
            yield _wrong_coil(owner, coil, controller, said.span)
    for (name, coil_id), owners in usual.items():
        controller = facts.job.controllers[name]
        assert controller.coil is not None
        place = controller.coil.span
        yield _wrong_coil(listed(owners), facts.job.coils[coil_id], controller, place)


def _wrong_coil(owners: str, coil: Coil, controller: Controller, span: Span) -> Problem:
    supply = controller.supply.value
    burns = supply.kind is SupplyKind.AC and coil.supply.value.kind is SupplyKind.LATCHING
    return error(
        "coil-on-wrong-supply",
        span,
        f"the coil '{coil.id}' of {owners} is for {coil.supply.value}, "
        f"but {controller.id} gives {supply}" + (", which destroys it" if burns else ""),
        "do not switch it on: a latching coil takes pulses, and steady AC burns it; fit the other "
        "coil"
        if burns
        else "ohms may look well and the valve still never opens: fit the other coil",
    )


def coils_unknown(facts: Facts) -> Iterator[Problem]:
    """Nothing says which coil a valve has, so no reading can be given."""
    told: set[str] = set()
    for loads in facts.loads_of.values():
        load = loads[0]
        said = load.owner.coil or facts.job.controllers[load.controller].coil
        if load.coil is None and said is None and load.controller not in told:
            if load.controller in facts.wiring.broken or load.owner.id in facts.wiring.broken:
                continue
            told.add(load.controller)
            yield warning(
                "coil-unknown",
                load.span,
                f"no coil is named for {load.owner.id}, so its tag gives no ohms",
                "describe it under 'coils' and name it: 'coil: usual'",
            )


def polarity(facts: Facts) -> Iterator[Problem]:
    """A latching controller needs its polarity rule; the unusual one must be known."""
    for controller in facts.job.controllers.values():
        if controller.supply.value.kind is not SupplyKind.LATCHING:
            continue
        if controller.polarity is None:
            yield error(
                "polarity-missing",
                controller.span,
                f"nothing says which lead of a latching coil goes to the hot of {controller.id}",
                "write 'polarity: {hot: red, common: black}' from its manual",
            )
        elif controller.polarity.hot.lower() != "red":
            yield note(
                "polarity-unusual",
                controller.polarity.span,
                f"{controller.id} wants {controller.polarity.hot} on the hot "
                f"and {controller.polarity.common} on the common",
                "usual is red on the hot; each tag prints this rule",
            )


def runs_too_long(facts: Facts) -> Iterator[Problem]:
    """Latching valves are farther away than the controller's maker allows; once for each cable."""
    far: dict[str, list[tuple[Metres, Circuit]]] = defaultdict(list)
    for circuit in facts.circuits.values():
        controller = facts.job.controllers[circuit.load.controller]
        if controller.wire_limit is None:
            continue
        metres = Metres(sum(s.length.metres for s in circuit.hot if isinstance(s, Leg)))
        if metres > controller.wire_limit.metres + 1e-6:
            far[circuit.hot_at_valve.cable.id].append((metres, circuit))
    for found in far.values():
        metres, worst = max(found, key=lambda pair: pair[0])
        controller = facts.job.controllers[worst.load.controller]
        assert controller.wire_limit is not None
        others = listed(c.load.id for _, c in found if c is not worst)
        yield warning(
            "run-too-long",
            worst.load.span,
            f"{worst.load.id} is {_beside(metres, controller.wire_limit)} of wire from "
            f"{controller.id}; its limit is {controller.wire_limit}"
            + (f"; too far as well: {others}" if others else ""),
            "a thicker conductor, or a controller nearer by",
        )


def _beside(metres: float, limit: Length) -> str:
    """In the unit of the limit, with the digit that tells it from the limit."""
    amount = metres / METRES_PER_FOOT if limit.unit is LengthUnit.FEET else metres
    return f"{beside(amount, limit.amount, 0)} {limit.unit}"
