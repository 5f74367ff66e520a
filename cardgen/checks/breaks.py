"""Say where a hot or a common stops on its way to the valves: one problem for each break."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator

from cardgen.checks.reporting import place_of_joint, place_of_joints
from cardgen.english_lists import english_list
from cardgen.facts import Facts
from cardgen.faults.circuit_faults import HOT_STOPS, RETURN_STOPS
from cardgen.faults.common_faults import COMMON_NOT_LANDED, COMMON_STOPS
from cardgen.faults.fault import Fault
from cardgen.faults.terminal_faults import HOT_NOT_LANDED
from cardgen.light_dataclass import dataclass
from cardgen.problems import Also, Problem, Span
from cardgen.wiring.wiring_parts import End, Joint, Load, Route


@dataclass(frozen=True, slots=True)
class Dead:
    """A coil with a side that does not arrive.

    Attributes:
        hot: the hot does not arrive.
        group: the group of the lead that has no return; None if it has one.
    """

    load: Load
    hot: bool
    group: int | None


@dataclass(frozen=True, slots=True)
class _Stop:
    """Where a common stops; `at` is empty where it never came to the box at all.

    Attributes:
        what: the conductors or the load of which that is seen.
    """

    fault: Fault
    span: Span
    controller: str
    at: str
    box: str
    variant: str = ""
    what: str = ""


def breaks(facts: Facts, dead: Iterable[Dead]) -> Iterator[Problem]:
    """Each place where hots stop, each where a common stops; both at once where both do."""
    hots: dict[str, list[Dead]] = defaultdict(list)
    stops: dict[_Stop, list[Dead]] = defaultdict(list)
    told: list[Problem] = []
    for one in dead:
        stop = _stop(facts, one) if one.group is not None else None
        if one.hot:
            assert one.load.hot is not None
            fault = one.load.hot.fault
            at = _reached(facts, one.load.hot)
            if fault is not None:
                told.append(fault)
            else:
                hots[at].append(one)
            if stop and stop.at in ("", at):
                continue  # the same break, or a box where nothing comes
        if stop:
            stops[stop].append(one)
    yield from dict.fromkeys(told)
    for at, found in hots.items():
        yield from _hots_stop(facts, at, found)
    for stop, found in _by_controller(facts, stops):
        owners = dict.fromkeys(one.load.owner.id for one in found)
        yield stop.fault.at(
            stop.span,
            variant=stop.variant,
            controller=stop.controller,
            at=stop.at,
            box=stop.box,
            what=stop.what,
            owners=english_list(owners),
            have="have" if len(owners) > 1 else "has",
        )


def _by_controller(
    facts: Facts, stops: dict[_Stop, list[Dead]]
) -> Iterator[tuple[_Stop, list[Dead]]]:
    """Boxes to which one common never comes are one cause."""
    absent: dict[str, list[Dead]] = defaultdict(list)
    for stop, found in stops.items():
        if stop.at:
            yield stop, found
        else:
            absent[stop.controller].extend(found)
    for controller, found in absent.items():
        place = facts.wiring.commons[controller][-1].span
        boxes = english_list(f"'{one.load.box}'" for one in found)
        yield _Stop(COMMON_STOPS, place, controller, "", boxes, "absent"), found


# -- hots --------------------------------------------------------------------------------------


def _reached(facts: Facts, way: Route) -> str:
    """The last place to which metal carries a route."""
    group, reached = facts.network.group(way.begin), way.begin.at
    for hop in way.hops:
        for index in hop.indices:
            if facts.network.group(hop.arrival(index)) == group:
                reached = hop.conductor.places[index]
    return reached


def _hots_stop(facts: Facts, at: str, found: list[Dead]) -> Iterator[Problem]:
    if at in facts.job.controllers:
        yield from _not_landed(facts, at, found)
        return
    here = [one for one in found if one.load.box == at]
    by_owner: dict[str, list[Dead]] = defaultdict(list)
    for one in here:
        by_owner[one.load.owner.id].append(one)
    for valves in by_owner.values():
        yield _not_joined(facts, valves)
    beyond = [one for one in found if one.load.box != at]
    if beyond:
        yield _stopped(facts, at, beyond)


def _not_landed(facts: Facts, controller: str, found: list[Dead]) -> Iterator[Problem]:
    owners = {one.load.owner.id: one.load for one in found}
    parts = [
        f"{load.hot.hops[0].conductor.name} on {load.terminal}"
        for load in owners.values()
        if load.hot and load.hot.hops
    ]
    first = next(iter(owners.values()))
    yield HOT_NOT_LANDED.at(
        place_of_joints(facts, controller) or first.span,
        controller=controller,
        stations=english_list(owners),
        landings=english_list(parts),
        also=_described(first),
    )


def _described(load: Load) -> tuple[Also]:
    return (Also(span=load.span, text=f"{load.owner.id} is described here"),)


def _not_joined(facts: Facts, valves: list[Dead]) -> Problem:
    one, load = valves[0], valves[0].load
    joint = _joint_of_lead(facts, one)
    assert load.hot is not None
    return HOT_STOPS.at(
        place_of_joint(joint) or load.span,
        variant="nor the common" if one.group is not None else "not joined",
        station=load.owner.id,
        conductor=load.hot.hops[-1].conductor.name if load.hot.hops else "its hot",
        at=load.box,
        valves=english_list(valve.load.id for valve in valves),
        also=_described(load),
    )


def _joint_of_lead(facts: Facts, one: Dead) -> Joint | None:
    """The joint of the lead that should be on the hot."""
    back = facts.network.group(one.load.back_end)
    for lead in (one.load.hot_lead, one.load.back_lead):
        if facts.network.group(lead) != back:
            return facts.joint_of.get(lead)
    return None


def _stopped(facts: Facts, at: str, found: list[Dead]) -> Problem:
    owners = {one.load.owner.id: one.load for one in found}
    first = next(iter(owners.values()))
    commons = {one.load.controller for one in found if one.group is not None}
    assert first.hot is not None and first.hot.hops  # else it would not have left its terminal
    looks = "several" if len(owners) > 1 else "in a box"
    return HOT_STOPS.at(
        place_of_joints(facts, at) or first.span,
        variant=f"{looks} with common" if commons else looks,
        hot=f"{first.owner.id}'s hot",
        conductor=first.hot.hops[0].conductor.name,
        stations=english_list(owners),
        controllers=english_list(sorted(commons)),
        at=at,
        boxes=english_list(f"'{load.box}'" for load in owners.values()),
        also=_described(first),
    )


# -- commons -----------------------------------------------------------------------------------


def _stop(facts: Facts, one: Dead) -> _Stop | None:
    """Where the dead part of a common should have been joined with the live one."""
    load = one.load
    if load.back is not None:
        return _return_stops(facts, load)
    ends = _ends_by_place(facts, load.controller)
    if not ends:
        return None  # that there is no common is told for the controller
    home = facts.network.group(load.back_end)
    for at, here in ends.items():
        dead = [end for end in here if facts.network.group(end) == one.group]
        live = [end for end in here if facts.network.group(end) == home]
        if dead and at == load.controller:
            return _common_not_landed(facts, load, dead)
        if dead and live:
            return _common_stops(facts, load, at, live[0])
    for la in facts.wiring.commons[load.controller]:
        at = la.source or la.places[0]
        if any(facts.network.group(e) == one.group for e in la.conductor.ends_at(at)):
            name = la.conductor.name
            return _Stop(COMMON_STOPS, la.span, load.controller, at, "", "not fed", name)
    if load.box in ends:
        return _common_not_joined(facts, load)
    return _Stop(COMMON_STOPS, load.span, load.controller, "", load.box)


def _ends_by_place(facts: Facts, controller: str) -> dict[str, list[End]]:
    found: dict[str, list[End]] = defaultdict(list)
    for la in facts.wiring.commons[controller]:
        for at in la.places:
            found[at].extend(la.ends_at(at))
    return found


def _return_stops(facts: Facts, load: Load) -> _Stop:
    assert load.back is not None
    at = _reached(facts, load.back)
    place = load.back.fault.span if load.back.fault else place_of_joints(facts, at) or load.span
    return _Stop(RETURN_STOPS, place, load.controller, at, load.box, what=load.id)


def _common_not_landed(facts: Facts, load: Load, dead: list[End]) -> _Stop:
    home = load.controller
    place = place_of_joints(facts, home) or facts.job.controllers[home].span
    return _Stop(
        COMMON_NOT_LANDED, place, home, home, "", what=english_list(end.of for end in dead)
    )


def _common_stops(facts: Facts, load: Load, at: str, live: End) -> _Stop:
    joint = facts.joint_of.get(live)
    place = place_of_joint(joint) or place_of_joints(facts, at) or facts.job.boxes[at].span
    return _Stop(COMMON_STOPS, place, load.controller, at, "")


def _common_not_joined(facts: Facts, load: Load) -> _Stop:
    hot = facts.network.group(load.hot_end)
    lead = next(
        lead for lead in (load.back_lead, load.hot_lead) if facts.network.group(lead) != hot
    )
    joint = facts.joint_of.get(lead)
    place = place_of_joint(joint) or load.span
    return _Stop(COMMON_STOPS, place, load.controller, load.box, "", "lead off", load.id)
