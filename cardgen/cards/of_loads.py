"""What `expected` says, from loads: for what is not yet on the as-built model."""

from __future__ import annotations

import math
from collections.abc import Iterable

from cardgen.cards.printable import NOT_KNOWN, Printable
from cardgen.electrics.loops import Band, at_coil
from cardgen.job.model import Coil, Station
from cardgen.units import Volts, plain
from cardgen.wiring.model import Load, LoadKind

BOUND = "\u00a0"  # no line ends there
OHMS = f"{BOUND}Ω"


def in_band(band: Band, unit: str = "") -> str:
    """`31.1 (25–37)`: rounded outward, never below nothing."""
    ohms, low, high = band
    return f"{ohms:.1f}{unit}{BOUND}({_around(low, high)})"


def at_controller(job: Printable, owner: str, unit: str = "") -> str:
    """`31.1 (25–37)`, or that it is not known; see `electrics.readings`."""
    reading = job.readings.get(owner)
    if reading is None or reading.ohms is None or reading.low is None or reading.high is None:
        return NOT_KNOWN
    return in_band((reading.ohms, reading.low, reading.high), unit)


def coil_alone(coil: Coil) -> str:
    """`30 Ω (24–36)`: a coil with its leads off."""
    ohms, low, high = at_coil(coil.resistance)
    return f"{plain(ohms)}{OHMS} ({_around(low, high)})"


def volts_at_box(job: Printable, load: Load) -> str:
    """`22.9–23.6` while it runs, or that it is not known; see `electrics.running`."""
    running = job.facts.running.get(load.owner.id)
    return volts_between(running.low[load.id], running.high[load.id]) if running else NOT_KNOWN


def volts_between(low: Volts, high: Volts) -> str:
    """Rounded outward to tenths."""
    return f"{math.floor(low * 10) / 10:.1f}–{math.ceil(high * 10) / 10:.1f}"


def milliamperes(job: Printable, load: Load) -> str:
    """`230`, of all that runs with it, or that it is not known."""
    running = job.facts.running.get(load.owner.id)
    return f"{running.milliamperes:.0f}" if running else NOT_KNOWN


def beside(job: Printable, load: Load) -> tuple[str, ...]:
    """The master valve and the relay whose milliamperes count in those of a station."""
    if load.kind is not LoadKind.VALVE or load.owner.id not in job.facts.running:
        return ()
    return tuple(
        other.owner.id
        for other in job.facts.wiring.loads.values()
        if other.runs_beside_stations and other.controller == load.controller
    )


def known(words: Iterable[str]) -> list[str]:
    """Without those that say that it is not known."""
    return [each for each in dict.fromkeys(words) if each != NOT_KNOWN]


def _around(low: float, high: float) -> str:
    return f"{max(math.floor(low), 0)}–{math.ceil(high)}"


def area_of(job: Printable, load: Load) -> str:
    if isinstance(load.owner, Station):
        return load.owner.area.value
    what = "master valve" if load.kind is LoadKind.MASTER_VALVE else "pump start relay"
    return job.words(f"terms.{what}")


def twin_line(job: Printable, load: Load) -> str:
    loads = job.owners[load.owner.id]
    if len(loads) < 2:
        return ""
    words, number = job.words, loads.index(load) + 1
    others = words.joined(
        words("valve tag.other", valve=o.id, box=o.box) for o in loads if o is not load
    )
    return words("valve tag.twin", number=number, count=len(loads), others=others)
