"""Turn a conductor into the way it is shown."""

from __future__ import annotations

from collections.abc import Iterable

from cardgen.asbuilt.model import ConductorMark
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


def marks(conductors: Iterable[Conductor]) -> tuple[ConductorMark, ...]:
    """Each once, in their order."""
    return tuple(dict.fromkeys(mark(c) for c in conductors))
