"""Turn a conductor or a pigtail into the way it is shown."""

from __future__ import annotations

from collections.abc import Iterable

from cardgen.asbuilt.model.conductors import ConductorMark
from cardgen.job.model import Pigtail
from cardgen.wiring.model import Conductor


def mark(conductor: Conductor) -> ConductorMark:
    return ConductorMark(
        cable=conductor.cable.id,
        word=conductor.insulation.word,
        code=conductor.insulation.code,
        base=conductor.insulation.base,
        stripe=conductor.insulation.stripe,
        band=conductor.cable.band,
        flag=conductor.flag,
        gauge=str(conductor.gauge),
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
