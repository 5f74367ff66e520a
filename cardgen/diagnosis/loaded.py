"""Turn volts and milliamperes of a running station into the ohms that its loop then has.

    I = U / |R(coil) + R(wire) + more + jX|      X of the coil: (U / holding)^2 = R^2 + X^2

X is at the hertz of the mains for which the job says the holding current: 60 in the US and Mexico.
The more ohms a bad splice has, the less flows and the less comes to the coil; with too few ohms
the current rises as they fall.  A value under load is a rough one: the supply may be off by all of
its tolerance, and a tenth is some thirty ohms.  What the terminals gave that day, or the valve's
own wires with nothing on them, makes it exact.  Nothing flowing is OL.
"""

from __future__ import annotations

import math
from collections.abc import Iterable

from cardgen.asbuilt import AsBuilt, Band, BuiltValve
from cardgen.asbuilt.model.built_network import NetworkCoil
from cardgen.light_dataclass import replace
from cardgen.results import OL, Kind, Measured
from cardgen.results.verdict import NO_MILLIAMPERES, NO_VOLTS

READ_PART = 0.02  # where the volts that the supply gives were read in the same walk; assumed
# Of the tolerance of a supply one standard deviation: anything within it is as likely.
_OF_TOLERANCE = 1 / math.sqrt(3)
_ALONE = 0.2  # of a station's own current; assumed
_LOW_PART = 0.08  # how well a current that is too high tells ohms; assumed

LOADED = (Kind.MILLIAMPERES, Kind.HOT_MILLIAMPERES, Kind.VOLTS)


def with_beside_apart(asbuilt: AsBuilt, readings: Iterable[Measured]) -> list[Measured]:
    """Where every station shows its own current alone, what should run beside it carries none.

    One station alone could as well be the one that is open; two would have to be it together.
    """
    given = list(readings)
    own = [each for each in given if _is_own_alone(asbuilt, each)]
    controllers = {asbuilt.valve[each.valve].controller for each in own}
    found: list[Measured] = []
    for each in given:
        valve = asbuilt.valve.get(each.valve)
        at_c = each.kind is Kind.MILLIAMPERES and valve is not None and valve.beside
        if not (at_c and valve and valve.controller in controllers):
            found.append(each)
            continue
        of_controller = [
            other
            for other in given
            if other.kind is Kind.MILLIAMPERES
            and other.valve in asbuilt.valve
            and asbuilt.valve[other.valve].beside == valve.beside
        ]
        alike = len(of_controller) > 1 and all(other in own for other in of_controller)
        found.append(replace(each, kind=Kind.HOT_MILLIAMPERES) if alike else each)
        if alike and each is of_controller[0]:
            for name in valve.beside:
                dead = replace(each, kind=Kind.HOT_MILLIAMPERES, value=0.0)
                found += [replace(dead, valve=v.id) for v in asbuilt.stations[name]]
    return found


def _is_own_alone(asbuilt: AsBuilt, measured: Measured) -> bool:
    valve = asbuilt.valve.get(measured.valve)
    if measured.kind is not Kind.MILLIAMPERES or valve is None or not valve.in_hot:
        return False
    return bool(valve.beside) and abs(measured.value / valve.in_hot - 1) < _ALONE


def loop_ohms(
    measured: Measured,
    valve: BuiltValve,
    coil: NetworkCoil,
    sound: float,
    read: float | None = None,
) -> tuple[float, float] | None:
    """Ohms between terminal and C, and one standard deviation; None where it cannot be told.

    Args:
        sound: ohms between terminal and C as built.
        read: volts of the supply, as a meter showed them that day.
    """
    supply = valve.supply
    known = coil.ohms and coil.holding and sound < OL and not valve.others and not valve.latching
    if not known or supply is None or measured.kind not in LOADED:
        return None
    assert coil.ohms is not None and coil.holding is not None
    volts = supply.expected
    whole = volts / coil.holding
    if whole < coil.ohms:
        return None
    reactance = math.sqrt(whole**2 - coil.ohms**2)
    loop = _impedance(measured, valve, read or volts, whole)
    if loop is None:
        return None
    if loop == OL:
        return OL, 1.0
    expected = math.hypot(sound, reactance)
    part = READ_PART if read else _supply_part(supply, is_more=loop < expected)
    if loop < expected:  # two coils, a touch, burnt turns: less of both
        return sound * loop / expected, max(part * sound, _LOW_PART * sound)
    resistance = math.sqrt(loop**2 - reactance**2)
    return resistance, part * loop * loop / resistance


def _supply_part(supply: Band, *, is_more: bool) -> float:
    """How far it may be off on that side: of more current it gives more, of less it gives less."""
    off = supply.high - supply.expected if is_more else supply.expected - supply.low
    return max(off / supply.expected * _OF_TOLERANCE, READ_PART)


def supply_volts(readings: Iterable[Measured], asbuilt: AsBuilt) -> dict[tuple[str, str], float]:
    """By day, and by controller or valve, the newest volts that its supply was read to give.

    At the terminals with a station on; else at a valve's wires with nothing on them, where no
    current drops anything.  A wire that is broken shows few volts there, which prove nothing.
    """
    found: dict[tuple[str, str], float] = {}
    for each in readings:
        valve = asbuilt.valve.get(each.valve)
        if valve is None or valve.supply is None:
            continue
        day = each.when[:10]
        if each.under.terminal_volts:
            found[day, valve.controller] = each.under.terminal_volts
        if each.kind is Kind.OPEN_VOLTS and not each.start and _is_whole(each.value, valve.supply):
            found[day, valve.id] = each.value
    return found


def _is_whole(volts: float, supply: Band) -> bool:
    return supply.low * (1 - READ_PART) <= volts <= supply.high * (1 + READ_PART)


def _impedance(measured: Measured, valve: BuiltValve, volts: float, whole: float) -> float | None:
    """Ohms at the terminal while it runs; OL where nothing flows."""
    if measured.kind is Kind.VOLTS:
        share = measured.value / volts
        return OL if measured.value < NO_VOLTS else whole / share
    beside = 0.0
    if measured.kind is Kind.MILLIAMPERES:
        if valve.milliamperes is None or valve.in_hot is None:
            return None
        beside = valve.milliamperes - valve.in_hot
    own = measured.value - beside
    return OL if own < NO_MILLIAMPERES else volts / (own / 1000)
