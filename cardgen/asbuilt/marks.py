"""Turn a conductor or a pigtail into the way it is shown."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import lru_cache

from cardgen.asbuilt.model import built_boxes as model
from cardgen.asbuilt.model.built_conductors import ConductorMark
from cardgen.job.job_parts import Job, Pigtail
from cardgen.light_dataclass import replace
from cardgen.trade.colors import Insulation
from cardgen.units import Gauge, GaugeSystem
from cardgen.wiring.wiring_parts import Conductor


def mark(conductor: Conductor) -> ConductorMark:
    cable, gauge, color = conductor.cable, conductor.gauge, conductor.insulation
    look = color.base, color.stripe
    size = (gauge.size, gauge.system) if gauge else None
    return _mark(cable.id, cable.band, conductor.flag, size, look)


@lru_cache(maxsize=16_384)  # one conductor is shown in many places; plain values are found soonest
def _mark(
    cable: str,
    band: str,
    flag: str,
    gauge: tuple[float, GaugeSystem] | None,
    look: tuple[str, str],
) -> ConductorMark:
    size = str(Gauge(*gauge)) if gauge else ""
    shown = colored(Insulation(base=look[0], stripe=look[1]), cable, size)
    return replace(shown, band=band, flag=flag)


def pigtail_mark(pigtail: Pigtail) -> ConductorMark | None:
    """None where the job does not say its color."""
    return colored(pigtail.color, pigtail.id, str(pigtail.gauge)) if pigtail.color else None


def colored(color: Insulation, name: str, gauge: str) -> ConductorMark:
    """Of a lead or a pigtail with its name as that of a cable."""
    return ConductorMark(
        cable=name,
        word=color.word,
        code=color.code,
        base=color.base,
        stripe=color.stripe,
        gauge=gauge,
    )


def marks(conductors: Iterable[Conductor]) -> tuple[ConductorMark, ...]:
    """Each once, in their order."""
    return tuple(dict.fromkeys(mark(c) for c in conductors))


def pigtails(job: Job, at: str) -> Iterator[model.BuiltPigtail]:
    """Those of a box or controller, in the order of the file."""
    for pigtail in job.pigtails.values():
        if pigtail.at.value == at:
            yield model.BuiltPigtail(
                id=pigtail.id,
                gauge=str(pigtail.gauge),
                mark=pigtail_mark(pigtail),
                length=str(pigtail.length) if pigtail.length else "",
            )
