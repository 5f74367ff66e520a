"""Find what changed for a box since an earlier revision, by what both of them know."""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Iterator, Mapping
from dataclasses import MISSING, fields
from typing import Any

from cardgen.asbuilt import AsBuilt, Band, BuiltBox, BuiltController, BuiltSpare, BuiltValve
from cardgen.asbuilt.model.built_boxes import BuiltJoint, Capped, Member, Neighbor, Passing
from cardgen.asbuilt.model.built_conductors import in_use
from cardgen.asbuilt.model.built_controllers import BuiltSensor, Terminal
from cardgen.asbuilt.model.built_valves import BuiltDecoder, BuiltStep
from cardgen.light_dataclass import dataclass

# What a crew need not be told: it follows from what it is told, or is the same in other words.
_QUIET = {"id", "box", "hot_way", "back_way", "beside", "ring", "coil"}
# A field with a default came later than some revision that is kept: that it is there is no change.
_OF_VALVE = tuple(f.name for f in fields(BuiltValve) if f.default is MISSING)
_OF_BOX = ("where", "kind", "size", "ties", "coordinates", "commons")
# What stands on no tag.
_BESIDE = {
    *("joints", "passing", "capped", "neighbors", "ties", "coordinates", "size"),
    *("notes", "volts", "milliamperes"),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Difference:
    """One thing that is otherwise than it was.

    Attributes:
        what: the field of a box or of a valve, or `gone`, `new`, `came`, `left`.
        valve: whose; empty where it is the box itself.
        before, after: the values; of joints, spares and the like only those that the other has
            not; for a valve that moved, the boxes.
    """

    what: str
    valve: str = ""
    before: object = None
    after: object = None

    @property
    def is_on_tags(self) -> bool:
        return self.what not in _BESIDE


def changes(box: str, then: AsBuilt, now: AsBuilt) -> tuple[Difference, ...]:
    """What of the box is otherwise now than it was then."""
    before, after = then.box.get(box), now.box.get(box)
    if before is None and after is None:
        return ()
    if before is None:
        return (Difference(what="new"),)
    moved = tuple(_moved(before, now))
    if after is None:
        return (Difference(what="gone"), *moved)
    stayed = {valve.id: valve for valve in before.valves}
    own = (c for v in after.valves if v.id in stayed for c in _of_valve(stayed[v.id], v))
    return (
        *_of_water(then, now),
        *moved,
        *_came(after, then, before),
        *own,
        *_of_box(before, after),
    )


def _of_water(then: AsBuilt, now: AsBuilt) -> Iterator[Difference]:
    """It stands on every tag."""
    if then.water != now.water:
        yield Difference(what="water", before=then.water, after=now.water)


def _moved(before: BuiltBox, now: AsBuilt) -> Iterator[Difference]:
    """Valves that were here and are not: in another box, or nowhere."""
    for valve in before.valves:
        found = now.valve.get(valve.id)
        if found is None or found.box != before.id:
            where = found.box if found else ""
            yield Difference(what="left", valve=valve.id, before=before.id, after=where)


def _came(after: BuiltBox, then: AsBuilt, before: BuiltBox) -> Iterator[Difference]:
    here = {valve.id for valve in before.valves}
    for valve in after.valves:
        if valve.id not in here:
            found = then.valve.get(valve.id)
            where = found.box if found else ""
            yield Difference(what="came", valve=valve.id, before=where, after=after.id)


def _of_valve(before: BuiltValve, after: BuiltValve) -> Iterator[Difference]:
    for name in _OF_VALVE:
        if name not in _QUIET and not alike(before, after, name):
            old, new = getattr(before, name), getattr(after, name)
            yield Difference(what=name, valve=after.id, before=old, after=new)


def _of_box(before: BuiltBox, after: BuiltBox) -> Iterator[Difference]:
    for name in _OF_BOX[:-1]:
        yield from _other(name, getattr(before, name), getattr(after, name))
    were, are = _lying_in(before), _lying_in(after)
    for name in ("joints", "passing", "capped", "spares"):
        yield from _parted(name, were[name], are[name])
    yield from _other("commons", before.commons, after.commons)
    yield from _parted("neighbors", were["neighbors"], are["neighbors"])


def _other(what: str, old: object, new: object) -> Iterator[Difference]:
    if old != new:
        yield Difference(what=what, before=old, after=new)


def _parted(
    what: str, old: Mapping[Hashable, object], new: Mapping[Hashable, object]
) -> Iterator[Difference]:
    """Only what one of both has; their order tells nothing."""
    gone = tuple(each for key, each in old.items() if key not in new)
    came = tuple(each for key, each in new.items() if key not in old)
    if gone or came:
        yield Difference(what=what, before=gone, after=came)


# ---- what of each thing is compared ---------------------------------------------------------


def alike(one: BuiltValve, other: BuiltValve, name: str) -> bool:
    """That field of two valves; figures that a meter cannot tell apart are no change."""
    return bool(_of(one, name) == _of(other, name))


def _of(valve: BuiltValve, name: str) -> Any:
    """Behind a device ohms mean nothing."""
    return None if name == "coil" and valve.device else _known(getattr(valve, name))


def _known(value: object) -> Any:
    """What of it a change would be told of, as values that can be compared."""
    match value:
        case float():
            return round(value, 1)
        case Band():
            return round(value.expected, 1)
        case BuiltDecoder():
            return value.id, value.address, value.serial
        case BuiltStep():
            return value.conductor, value.contact, value.start, value.end, value.length
        case BuiltJoint():
            members = frozenset(map(_member, value.members))
            return frozenset(in_use(value.uses)), members, value.held, value.as_built
        case Passing():
            return value.mark, frozenset(in_use(value.uses))
        case Capped():
            return value.mark, value.toward
        case BuiltSpare():
            return value.id, value.mark, value.first, value.last, value.reserved_for
        case BuiltSensor():
            identity = value.id, value.kind, value.where, value.contact
            return *identity, value.in_common, value.wires
        case Terminal():
            return value.name, value.use, value.owners, frozenset(value.linked)
        case tuple():
            return tuple(map(_known, value))
    return value


def _member(end: Member) -> tuple[object, ...]:
    own = (end.gauge, end.length) if end.pigtail else ()
    return end.mark, end.lead, end.side, end.toward, end.arrives, *own


def _lying_in(box: BuiltBox) -> dict[str, dict[Hashable, object]]:
    """By kind what is in a box, each under what is compared of it.

    What is left over of a conductor is known by its capped ends; a spare's are told as a spare.
    """
    found: dict[str, Iterable[BuiltJoint | Passing | Capped | BuiltSpare | Neighbor]] = {
        "joints": box.joints,
        "passing": (each for each in box.passing if in_use(each.uses)),
        "capped": (each for each in box.capped if not each.is_spare),
        "spares": (each for each in box.spares if not each.dead),
        "neighbors": box.neighbors,
    }
    return {name: {_known(each): each for each in things} for name, things in found.items()}


# ---- whether two revisions are one ---------------------------------------------------------


def same(one: AsBuilt, other: AsBuilt) -> bool:
    """They say the same of every box, controller and spare; dates and log may differ."""
    return _compared(one) == _compared(other)


def _compared(built: AsBuilt) -> tuple[object, ...]:
    head = built.job_code, built.site, built.key, built.address, built.revision, built.water
    boxes = tuple(map(_box, built.boxes))
    controllers = tuple(map(_controller, built.controllers))
    return *head, boxes, controllers, frozenset((_known(s), s.dead) for s in built.spares)


def _box(box: BuiltBox) -> tuple[object, ...]:
    things = {name: frozenset(found) for name, found in _lying_in(box).items()}
    valves = tuple(tuple(_of(v, name) for name in _OF_VALVE) for v in box.valves)
    return box.id, *(getattr(box, name) for name in _OF_BOX), valves, things


def _controller(controller: BuiltController) -> tuple[object, ...]:
    wires = frozenset(
        (terminal.name, landed.mark, number, landed.by)
        for number, terminal in controller.numbered
        for landed in terminal.wires
    )
    return (
        *(controller.id, controller.where, controller.supply, controller.box),
        frozenset(map(_known, controller.terminals)),
        wires,
        _known(controller.sensors),
        *(controller.neighbors, controller.pigtails),
    )
