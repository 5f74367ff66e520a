"""Turn a conductor or a pigtail into the way it is shown."""

from __future__ import annotations

from collections.abc import Iterable
from functools import lru_cache

from cardgen.asbuilt.model import ConductorMark
from cardgen.job.model import Pigtail
from cardgen.trade.colours import Insulation
from cardgen.units import Gauge
from cardgen.wiring.model import Conductor


def mark(conductor: Conductor) -> ConductorMark:
    cable = conductor.cable
    return _mark(cable.id, cable.band, conductor.insulation, conductor.flag, conductor.gauge)


@lru_cache(maxsize=16_384)  # one conductor is shown in many places
def _mark(cable: str, band: str, insulation: Insulation, flag: str, gauge: Gauge) -> ConductorMark:
    return ConductorMark(
        cable=cable,
        word=insulation.word,
        code=insulation.code,
        base=insulation.base,
        stripe=insulation.stripe,
        band=band,
        flag=flag,
        gauge=str(gauge),
    )


def pigtail_mark(pigtail: Pigtail) -> ConductorMark | None:
    """None where the job does not say its colour."""
    if pigtail.colour is None:
        return None
    return ConductorMark(
        cable=pigtail.id,
        word=pigtail.colour.word,
        code=pigtail.colour.code,
        base=pigtail.colour.base,
        stripe=pigtail.colour.stripe,
        gauge=str(pigtail.gauge),
    )


def marks(conductors: Iterable[Conductor]) -> tuple[ConductorMark, ...]:
    """Each once, in their order."""
    return tuple(dict.fromkeys(mark(c) for c in conductors))
