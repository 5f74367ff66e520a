"""Say which conductors would give a coil the volts it needs, and how far this coil reaches."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from cardgen.electrics.legs import warm
from cardgen.electrics.reach import run_table, steps
from cardgen.electrics.readings import Loss
from cardgen.facts import Facts
from cardgen.job.job_parts import Coil
from cardgen.trade.copper import resistance
from cardgen.units import METERS_PER_FOOT, Amperes, Gauge, LengthUnit, Volts, known_length


def ways_out(facts: Facts, owner: str) -> str:
    """`14 AWG for its hot, 12 AWG for its common or a separate common`; empty if nothing would do.

    What is not made is no way out: then the controller is too far away.
    """
    found = list(_ways(facts, owner))
    return " or ".join(part for part in (", ".join(found[:-1]), *found[-1:]) if part)


def _ways(facts: Facts, owner: str) -> Iterator[str]:
    losses = facts.readings[owner].losses
    choices: tuple[tuple[str, Callable[[Loss], bool]], ...] = (
        ("its hot", lambda loss: not loss.on_common),
        ("its common", lambda loss: loss.on_common),
        ("both", lambda _: True),
    )
    found = [(what, _least_gauge(facts, owner, losses, which)) for what, which in choices]
    alone = [(what, gauge) for what, gauge in found[:2] if gauge is not None]
    for what, gauge in alone or [(w, g) for w, g in found[2:] if g is not None]:
        yield f"{gauge} for {what}"
    if _does_alone(facts, owner, losses):
        same = losses[-1].leg.conductor.gauge
        yield "a separate common" + (f" ({same})" if same is not None else "")


def _does_alone(facts: Facts, owner: str, losses: tuple[Loss, ...]) -> bool:
    """Whether the same metal is enough once nothing but the owner's coils return on it."""
    coils = [load.coil for load in facts.loads_of[owner]]
    own = sum(coil.inrush for coil in coils if coil is not None and coil.inrush is not None)
    if not any(loss.on_common and loss.amperes > own for loss in losses):
        return False  # nothing shares it
    lost = sum(x.volts * (min(1.0, own / x.amperes) if x.on_common else 1.0) for x in losses)
    return _left(facts, owner, lost) >= 0


def _left(facts: Facts, owner: str, lost: float) -> float:
    """Volts at the coil beyond the least that it needs."""
    load = facts.loads_of[owner][0]
    supply = facts.job.controllers[load.controller].supply.value.volts
    assert load.coil is not None and load.coil.minimum is not None and supply is not None
    return supply - lost - load.coil.minimum


def _least_gauge(
    facts: Facts, owner: str, losses: tuple[Loss, ...], which: Callable[[Loss], bool]
) -> Gauge | None:
    """The thinnest gauge that is enough when the chosen legs have it all the way."""
    chosen = [loss for loss in losses if which(loss)]
    rest = sum(loss.volts for loss in losses if not which(loss))
    for gauge in steps(losses[0].leg.conductor.gauge):
        per_meter = resistance(gauge, warm(facts.network)) / 1000
        lost = sum(x.amperes * per_meter * known_length([x.leg.length]) for x in chosen)
        if _left(facts, owner, rest + lost) >= 0:
            return gauge
    return None


def reach(facts: Facts, coil: Coil, supply: Volts, like: Gauge | None, unit: LengthUnit) -> str:
    """`18 AWG up to 783 ft, ...`: how far one such coil reaches, hot and common alike."""
    assert coil.minimum is not None and coil.inrush is not None
    loss, inrush = Volts(supply - coil.minimum), Amperes(coil.inrush)
    parts = []
    for gauge, meters in run_table(loss, inrush, steps(like), warm(facts.network)):
        amount = meters / METERS_PER_FOOT if unit is LengthUnit.FEET else meters
        parts.append(f"{gauge} up to {max(0, int(amount))} {unit}")
    return ", ".join(parts)
