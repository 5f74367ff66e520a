"""Say which conductors would give a coil the volts it needs, and how far this coil reaches."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from cardgen.checks.facts import Facts
from cardgen.electrics.legs import warm
from cardgen.electrics.reach import run_table, steps
from cardgen.electrics.readings import Loss
from cardgen.job.model import Coil
from cardgen.trade.copper import resistance
from cardgen.units import METRES_PER_FOOT, Amperes, Gauge, LengthUnit, Volts


def ways_out(facts: Facts, owner: str) -> str:
    """`14 AWG for its hot or 12 AWG for its common would do`; empty if nothing thicker does."""
    found = list(_ways(facts, owner))
    if not found:
        return "no gauge that is made would do: bring the controller nearer, or use a relay"
    return " or ".join(found) + " would do"


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


def _least_gauge(
    facts: Facts, owner: str, losses: tuple[Loss, ...], which: Callable[[Loss], bool]
) -> Gauge | None:
    """The thinnest gauge that is enough when the chosen legs have it all the way."""
    coil = facts.loads_of[owner][0].coil
    supply = facts.job.controllers[facts.loads_of[owner][0].controller].supply.value.volts
    assert coil is not None and coil.minimum is not None and supply is not None
    chosen = [loss for loss in losses if which(loss)]
    rest = sum(loss.volts for loss in losses if not which(loss))
    for gauge in steps(losses[0].leg.conductor.gauge):
        per_metre = resistance(gauge, warm(facts.network)) / 1000
        lost = sum(x.amperes * per_metre * x.leg.length.metres for x in chosen)
        if supply - rest - lost >= coil.minimum:
            return gauge
    return None


def reach(facts: Facts, coil: Coil, supply: Volts, like: Gauge, unit: LengthUnit) -> str:
    """`18 AWG 783 ft, 16 AWG 1245 ft, ...`: how far one such coil reaches, hot and common alike."""
    assert coil.minimum is not None and coil.inrush is not None
    loss, inrush = Volts(supply - coil.minimum), Amperes(coil.inrush)
    parts = []
    for gauge, metres in run_table(loss, inrush, steps(like), warm(facts.network)):
        amount = metres / METRES_PER_FOOT if unit is LengthUnit.FEET else metres
        parts.append(f"{gauge} {int(amount)} {unit}")
    return ", ".join(parts)
