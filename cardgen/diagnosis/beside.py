"""What one value shows by itself: ohms where the network has none, a leak, a spare."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from cardgen.diagnosis.diagnosed import FaultKind, SuspectedFault, SuspectSite
from cardgen.diagnosis.spare_loops import Cleared, is_compared_as_a_spare, shown_by_a_spare
from cardgen.diagnosis.weights import OPEN_FROM_OHMS
from cardgen.diagnosis.yard import Yard
from cardgen.results import Kind, Measured
from cardgen.results.verdict import SOUND


def shown_by_themselves(
    yard: Yard, readings: Iterable[Measured], cleared: Cleared = frozenset()
) -> tuple[SuspectedFault, ...]:
    """The newest of each kind between the same ends, oldest first.

    Args:
        cleared: legs that other values show to be good.
    """
    newest = _newest(readings)
    return tuple(fault for each in newest for fault in _shown(yard, each, cleared))


def counted_by_themselves(yard: Yard, readings: Iterable[Measured]) -> tuple[str, ...]:
    """The ids of those that were compared with something, good ones, too."""
    return tuple(each.id for each in _newest(readings) if _is_compared(yard, each))


def _newest(readings: Iterable[Measured]) -> tuple[Measured, ...]:
    newest: dict[tuple[str, ...], Measured] = {}
    for each in readings:
        key = each.subject
        newest.pop(key, None)
        newest[key] = each
    return tuple(newest.values())


def _is_compared(yard: Yard, measured: Measured) -> bool:
    match measured.kind:
        case Kind.INSULATION | Kind.COMMON_TO_COMMON | Kind.OTHER_COMMON:
            return True
        case Kind.SPARE_LOOP | Kind.VOLTS if not measured.valve:
            return is_compared_as_a_spare(yard, measured)
    return False


def _shown(yard: Yard, measured: Measured, cleared: Cleared) -> Iterator[SuspectedFault]:
    match measured.kind:
        case Kind.INSULATION if measured.value < SOUND:
            yield _leak(yard, measured)
        case Kind.COMMON_TO_COMMON if measured.value < OPEN_FROM_OHMS:
            yield from _commons(yard, measured)
        case Kind.OTHER_COMMON if measured.value < OPEN_FROM_OHMS:
            yield from _other_common(yard, measured)
        case Kind.SPARE_LOOP | Kind.VOLTS if not measured.valve:
            yield from shown_by_a_spare(yard, measured, cleared)


def _leak(yard: Yard, measured: Measured) -> SuspectedFault:
    valve = yard.asbuilt.valve.get(measured.valve)
    at = valve.controller if valve else measured.box
    name = measured.start or (valve.hot_way[0].name if valve and valve.hot_way else "")
    return SuspectedFault(
        kind=FaultKind.GROUND,
        valves=(measured.valve,) if valve else (),
        sites=(SuspectSite(conductor=name, start=at, end=valve.box if valve else at),),
        ohms=measured.value * 1e6,
        name=name,
    )


def _common(yard: Yard, controller: str) -> int | None:
    return next(
        (t.node for t in yard.network.terminals if (t.controller, t.name) == (controller, "C")),
        None,
    )


def _commons(yard: Yard, measured: Measured) -> Iterator[SuspectedFault]:
    """Two commons that nothing should join."""
    one, two = _common(yard, measured.start), _common(yard, measured.to)
    if one is not None and two is not None and not yard.green.are_connected(one, two):
        site = SuspectSite(conductor="", start=measured.start, end=measured.to)
        yield SuspectedFault(
            kind=FaultKind.COMMONS_JOINED,
            valves=(),
            sites=(site,),
            ohms=measured.value,
            name=measured.to,
        )


def _other_common(yard: Yard, measured: Measured) -> Iterator[SuspectedFault]:
    """A hot that has ohms to the common of a controller with which it has nothing to do."""
    coil, other = yard.coil.get(measured.valve), _common(yard, measured.to)
    if coil is None or other is None or yard.green.are_connected(coil.hot_end, other):
        return
    box = yard.asbuilt.valve[measured.valve].box
    yield SuspectedFault(
        kind=FaultKind.OTHER_COMMON,
        valves=(measured.valve,),
        sites=(SuspectSite(conductor="", start=box, end=box),),
        ohms=measured.value,
        name=measured.to,
    )
