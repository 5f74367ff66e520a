"""Check the data of the coils themselves: ohms and amperes that cannot belong to one coil."""

from __future__ import annotations

from collections.abc import Iterator

from cardgen.electrics.readings import COIL_TOLERANCE
from cardgen.facts import Facts
from cardgen.faults.latching_faults import COIL_IMPOSSIBLE
from cardgen.problems import Problem
from cardgen.units import SupplyKind, beside, plain

# A coil may have 15 % fewer ohms than its data sheet says, and 24 V controllers give up to 27 V
# in the field (a trade magazine's figure); only beyond both is it a slip of the pen.
SLACK = 27 / 24 / (1 - COIL_TOLERANCE)


def impossible_coils(facts: Facts) -> Iterator[Problem]:
    """A coil never takes more than volts over ohms, nor holds with more than it starts with."""
    for coil in facts.job.coils.values():
        supply = coil.supply.value
        if supply.kind is not SupplyKind.AC or supply.volts is None or coil.resistance is None:
            continue
        for name, amperes in (("inrush", coil.inrush), ("holding", coil.holding)):
            most = supply.volts / coil.resistance
            if amperes is not None and amperes > most * SLACK:
                yield COIL_IMPOSSIBLE.at(
                    coil.span,
                    coil=coil.id,
                    name=name,
                    amperes=plain(amperes),
                    ohms=plain(coil.resistance),
                    supply=supply,
                    most=beside(most, amperes, 2),
                )
                break
        else:
            if coil.inrush and coil.holding and coil.holding > coil.inrush:
                yield COIL_IMPOSSIBLE.at(
                    coil.span,
                    variant="holding above inrush",
                    coil=coil.id,
                    holding=plain(coil.holding),
                    inrush=plain(coil.inrush),
                )
