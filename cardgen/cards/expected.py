"""Say what a meter must show: ohms, volts, milliamperes, each as a band and in the same words."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Any

from cardgen.asbuilt import rounding
from cardgen.asbuilt.model import Band, Valve
from cardgen.cards import of_loads
from cardgen.cards.printable import NOT_KNOWN, Printable
from cardgen.units import plain

BOUND = "\u00a0"  # no line ends there
OHMS = f"{BOUND}Ω"

__all__ = [
    "BOUND",
    "NOT_KNOWN",
    "OHMS",
    "at_controller",
    "beside",
    "coil_alone",
    "in_band",
    "known",
    "milliamperes",
    "volts_at_box",
]


def _or(old: Callable[..., Any]) -> Callable[[Callable[..., Any]], Callable[..., Any]]:
    """Until the last stage is on the as-built model: a `Printable` or a tuple is served as ever."""

    def both(new: Callable[..., Any]) -> Callable[..., Any]:
        def either(first: Any, *rest: Any, **named: Any) -> Any:
            chosen = old if isinstance(first, Printable | tuple) else new
            return chosen(first, *rest, **named)

        return either

    return both


@_or(of_loads.in_band)
def in_band(band: Band, unit: str = "") -> str:
    """`31.1 (25–37)`."""
    return f"{rounding.ohms(band.expected)}{unit}{BOUND}({rounding.between(band)})"


@_or(of_loads.at_controller)
def at_controller(valve: Valve, unit: str = "") -> str:
    """`31.1 (25–37)`, or that it is not known."""
    return str(in_band(valve.ohms, unit)) if valve.ohms else NOT_KNOWN


def coil_alone(valve: Valve) -> str:
    """`30 Ω (24–36)`: a coil with its leads off, or that it is not known."""
    if valve.coil is None:
        return NOT_KNOWN
    return f"{plain(valve.coil.expected)}{OHMS} ({rounding.between(valve.coil)})"


@_or(of_loads.volts_at_box)
def volts_at_box(valve: Valve) -> str:
    """`22.9–23.6` while it runs, or that it is not known."""
    return rounding.volts(*valve.volts) if valve.volts else NOT_KNOWN


@_or(of_loads.milliamperes)
def milliamperes(valve: Valve) -> str:
    """`230`, of all that runs with it, or that it is not known."""
    return str(valve.milliamperes) if valve.milliamperes is not None else NOT_KNOWN


@_or(of_loads.beside)
def beside(valve: Valve) -> tuple[str, ...]:
    """The master valve and the relay whose milliamperes count in those of a station."""
    return valve.beside


def known(words: Iterable[str]) -> list[str]:
    """Without those that say that it is not known."""
    return [each for each in dict.fromkeys(words) if each != NOT_KNOWN]
