"""Lay random cables into a plan: multi-conductor ones with random palettes, bundles of singles."""

from __future__ import annotations

import random
from dataclasses import dataclass
from typing import Any

from tests.outside import tables
from tests.property.plan import Plan

_BASES = (
    *("black", "brown", "red", "orange", "yellow", "green", "blue", "light-blue"),
    *("violet", "gray", "white", "pink", "gold", "turquoise", "silver", "tan"),
)
_COLORS = (*_BASES, *(f"{base}/{stripe}" for base in _BASES[:9] for stripe in ("white", "pink")))
OHMS_PER_KFT = {
    f"{awg} AWG": tables.number(
        "awg_resistance",
        "value",
        awg=str(awg),
        construction="solid",
        quantity="resistance",
        unit="ohm/kft",
        basis="wire table",
    )
    for awg in (18, 16, 14, 12, 10)
}
_FEET_PER_METER = 1 / 0.3048
_LONGEST = 800.0  # feet of a leg


@dataclass(frozen=True, slots=True, kw_only=True)
class Order:
    """What a cable is to carry from the first of its places on.

    Attributes:
        gauges: of hots and spares, of the common.
        flags: what would be written on the flag of each hot.
        common: the same for the common; empty if the cable has none.
    """

    controller: str
    places: tuple[str, ...]
    legs: list[float]
    gauges: tuple[str, str]
    flags: list[str]
    common: str


@dataclass(slots=True, kw_only=True)
class Laid:
    """A cable in the ground; conductors are taken off `hots` as they are given away."""

    places: tuple[str, ...]
    hots: list[str]
    common: str
    spares: list[str]
    singles: bool

    @property
    def last(self) -> int:
        return len(self.places) - 1


class Layer:
    """Lays cables into `plan`, each under a name and a band of its own."""

    def __init__(self, plan: Plan, rng: random.Random, metric: bool) -> None:
        self.plan, self.random, self.metric = plan, rng, metric

    def legs(self, count: int, hot: str, back: str, volts: float, amperes: float) -> list[float]:
        """Feet of each leg, so that no more than `volts` are lost in all of them."""
        ohms_per_foot = (OHMS_PER_KFT[hot] + OHMS_PER_KFT[back]) / 1000
        most = min(_LONGEST, volts / amperes / ohms_per_foot / count)
        return [round(self.random.uniform(0.3, 1.0) * most, 1) for _ in range(count)]

    def lay(self, order: Order) -> Laid:
        """A cable with a spare or more."""
        spares = self.random.randint(1, 3)
        needed = len(order.flags) + bool(order.common) + spares
        bundle = len(set(order.gauges)) > 1 or needed > len(_COLORS) or self.random.random() < 0.3
        number = len(self.plan.sections["cables"]) + 1
        name = f"{order.controller}-{'S' if bundle else 'K'}{number}"
        make = _bundle if bundle else _multi
        laid, entry = make(self.random, name, order, spares)
        if "colors" in entry and self.random.random() < 0.5:
            self.plan.sections["palettes"][name.lower()] = entry.pop("colors")
            entry["palette"] = name.lower()
        run = [order.places[0]]
        for place, feet in zip(order.places[1:], order.legs, strict=True):
            run += [self._said(feet), place]
        self.plan.sections["cables"][name] = {**entry, "band": f"tape {number}", "run": run}
        self._note(laid, order)
        return laid

    def _said(self, feet: float) -> str:
        return f"{feet / _FEET_PER_METER:.2f} m" if self.metric else f"{feet} ft"

    def _note(self, laid: Laid, order: Order) -> None:
        """Gauge and length of each conductor, as the file says them."""
        for words in (*laid.hots, laid.common, *laid.spares):
            self.plan.gauges[words] = order.gauges[words == laid.common]
            for index, feet in enumerate(order.legs):
                said = float(self._said(feet).split()[0])
                exact = said * _FEET_PER_METER if self.metric else said
                one, two = order.places[index : index + 2]
                self.plan.lengths[words, one, two] = exact
                self.plan.lengths[words, two, one] = exact


def _multi(rng: random.Random, name: str, order: Order, spares: int) -> tuple[Laid, dict[str, Any]]:
    count = len(order.flags) + bool(order.common) + spares
    colors = rng.sample(_COLORS[: max(len(_BASES), count)], count)
    words = [f"{name} {color}" for color in colors]
    rng.shuffle(words)
    common = words.pop() if order.common else ""
    hots, rest = words[: len(order.flags)], words[len(order.flags) :]
    laid = Laid(places=order.places, hots=hots, common=common, spares=rest, singles=False)
    return laid, {"gauge": order.gauges[0], "colors": colors}


def _bundle(
    rng: random.Random, name: str, order: Order, spares: int
) -> tuple[Laid, dict[str, Any]]:
    flags = [f"{f}-RTN" if f in order.flags[:n] else f for n, f in enumerate(order.flags)]
    color = rng.choice(["red", "yellow", "red/pink"])
    singles: list[dict[str, Any]] = []
    if flags:
        singles.append({"color": color, "gauge": order.gauges[0], "flags": flags})
    common = ""
    if order.common:
        singles.append({"color": "white", "gauge": order.gauges[1]})
        common = f"{name} white"
    if order.common and rng.random() < 0.5:
        singles[-1]["flags"] = order.common
        common += f" {order.common}"
    extra = [f"SP-{n}" for n in range(1, spares + 1)]
    singles.append({"color": "orange", "gauge": order.gauges[0], "flags": extra})
    laid = Laid(
        places=order.places,
        hots=[f"{name} {color} {flag}" for flag in flags],
        common=common,
        spares=[f"{name} orange {flag}" for flag in extra],
        singles=True,
    )
    return laid, {"singles": singles}
