"""Say where a hot or a common stops on its way to the valves: one problem for each break."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from cardgen.checks.reporting import error, place_of_joints
from cardgen.facts import Facts
from cardgen.lists import listed
from cardgen.problems import Also, Problem, Span
from cardgen.wiring.model import End, Joint, Load, Route


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
class _Cause:
    """Where a common stops; `at` is empty where it never came to the box at all."""

    code: str
    span: Span
    where: str
    at: str
    help: str


def breaks(facts: Facts, dead: Iterable[Dead]) -> Iterator[Problem]:
    """Each place where hots stop, each where a common stops; both at once where both do."""
    hots: dict[str, list[Dead]] = defaultdict(list)
    causes: dict[_Cause, list[Dead]] = defaultdict(list)
    told: list[Problem] = []
    for one in dead:
        cause = _cause(facts, one) if one.group is not None else None
        if one.hot:
            assert one.load.hot is not None
            fault = one.load.hot.fault
            at = _reached(facts, one.load.hot)
            if fault is not None:
                told.append(fault)
            else:
                hots[at].append(one)
            if cause and cause.at in ("", at):
                continue  # the same break, or a box where nothing comes
        if cause:
            causes[cause].append(one)
    yield from dict.fromkeys(told)
    for at, found in hots.items():
        yield from _hots_stop(facts, at, found)
    for cause, found in _by_controller(facts, causes):
        names = listed(dict.fromkeys(one.load.owner.id for one in found))
        verb = "have" if len({one.load.owner.id for one in found}) > 1 else "has"
        sentence = f"{cause.where}: {names} {verb} no return"
        yield error(cause.code, cause.span, sentence, cause.help)


def _by_controller(
    facts: Facts, causes: dict[_Cause, list[Dead]]
) -> Iterator[tuple[_Cause, list[Dead]]]:
    """Boxes to which one common never comes are one cause."""
    absent: dict[str, list[Dead]] = defaultdict(list)
    for cause, found in causes.items():
        if cause.at:
            yield cause, found
        else:
            absent[found[0].load.controller].extend(found)
    for controller, found in absent.items():
        boxes = listed(f"'{one.load.box}'" for one in found)
        yield (
            _Cause(
                "common-stops",
                facts.wiring.commons[controller][-1].span,
                f"no conductor of the common of {controller} comes to {boxes}",
                "",
                f"list the one that carries it there under {controller}: 'common: [...]'",
            ),
            found,
        )


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
    yield error(
        "hot-not-landed",
        place_of_joints(facts, controller) or first.span,
        f"the joints of '{controller}' land no hot for {listed(owners)}",
        "land " + listed(parts),
        Also(span=first.span, text=f"{first.owner.id} is described here"),
    )


def _not_joined(facts: Facts, valves: list[Dead]) -> Problem:
    one, load = valves[0], valves[0].load
    names = listed(valve.load.id for valve in valves)
    joint = _joint_of_lead(facts, one)
    assert load.hot is not None
    name = load.hot.hops[-1].conductor.name if load.hot.hops else "its hot"
    neither = " nor is the common" if one.group is not None else ""
    return error(
        "hot-stops",
        joint.span if joint and joint.as_built else load.span,
        f"{load.owner.id}'s hot {name} comes to '{load.box}' and is not joined with {names}"
        + neither,
        f"join {name} with a lead of {names} in '{load.box}'",
        Also(span=load.span, text=f"{load.owner.id} is described here"),
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
    too = f" and the common of {listed(sorted(commons))}" if commons else ""
    boxes = listed(f"'{load.box}'" for load in owners.values())
    if len(owners) == 1 and first.hot and first.hot.hops:
        who = f"{first.owner.id}'s hot leaves on {first.hot.hops[0].conductor.name}"
        who += f"; it{too} stops in '{at}'" if too else f" and stops in '{at}'"
    else:
        who = f"the hots of {listed(owners)}{too} stop in '{at}'"
    return error(
        "hot-stops",
        place_of_joints(facts, at) or first.span,
        f"{who}; nothing carries {'it' if len(owners) == 1 and not too else 'them'} to {boxes}",
        f"join {'it' if len(owners) == 1 and not too else 'each'} with what goes on from '{at}'",
        Also(span=first.span, text=f"{first.owner.id} is described here"),
    )


# -- commons -----------------------------------------------------------------------------------


def _cause(facts: Facts, one: Dead) -> _Cause | None:
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
            return _common_not_landed(facts, at, dead)
        if dead and live:
            return _common_stops(facts, load.controller, at, live[0])
    for la in facts.wiring.commons[load.controller]:
        at = la.source or la.places[0]
        if any(facts.network.group(e) == one.group for e in la.conductor.ends_at(at)):
            where = f"nothing feeds {la.conductor.name} in '{at}'"
            return _Cause("common-stops", la.span, where, at, f"join it with the common in '{at}'")
    if load.box in ends:
        return _common_not_joined(facts, load)
    return _Cause("common-stops", load.span, load.box, "", "")


def _ends_by_place(facts: Facts, controller: str) -> dict[str, list[End]]:
    found: dict[str, list[End]] = defaultdict(list)
    for la in facts.wiring.commons[controller]:
        for at in la.places:
            found[at].extend(la.ends_at(at))
    return found


def _return_stops(facts: Facts, load: Load) -> _Cause:
    assert load.back is not None
    at = _reached(facts, load.back)
    place = load.back.fault.span if load.back.fault else place_of_joints(facts, at) or load.span
    where = f"the return of {load.id} stops in '{at}'"
    help_ = f"join it onward to '{load.box}', or name all of its conductors"
    return _Cause("return-stops", place, where, at, help_)


def _common_not_landed(facts: Facts, controller: str, dead: list[End]) -> _Cause:
    place = place_of_joints(facts, controller) or facts.job.controllers[controller].span
    names = listed(end.of for end in dead)
    where = f"{names} is not on C of {controller}"
    return _Cause("common-not-landed", place, where, controller, f"land {names} on C")


def _common_stops(facts: Facts, controller: str, at: str, live: End) -> _Cause:
    joint = facts.joint_of.get(live)
    place = joint.span if joint and joint.as_built else place_of_joints(facts, at)
    where = f"the common of {controller} stops in '{at}'"
    help_ = f"join the common of {controller} coming in with the one going on and the valve leads"
    return _Cause("common-stops", place or facts.job.boxes[at].span, where, at, help_)


def _common_not_joined(facts: Facts, load: Load) -> _Cause:
    hot = facts.network.group(load.hot_end)
    lead = next(
        lead for lead in (load.back_lead, load.hot_lead) if facts.network.group(lead) != hot
    )
    joint = facts.joint_of.get(lead)
    place = joint.span if joint and joint.as_built else load.span
    where = f"in '{load.box}' a lead of {load.id} is not on the common of {load.controller}"
    return _Cause("common-stops", place, where, load.box, "move it to the joint of the common")
