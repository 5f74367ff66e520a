"""Check what many stations share: cables, commons, terminals; each fault once, not once a station.

Every check here adds the stations of which it tells to `reported`: nothing more is said of them.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from itertools import combinations

from cardgen.checks.jumpers import linked_on_purpose
from cardgen.checks.reporting import place_of_joint
from cardgen.english_lists import english_list
from cardgen.facts import Facts
from cardgen.faults.circuit_faults import HOT_ON_COMMON, HOTS_JOINED
from cardgen.faults.common_faults import (
    COMMON_ON_WRONG_TERMINAL,
    COMMONS_JOINED,
    RETURN_ON_OTHER_COMMON,
)
from cardgen.faults.conductor_faults import CABLE_CUT_OFF
from cardgen.faults.terminal_faults import HOT_ON_WRONG_TERMINAL, JUMPER_ON_COMMON
from cardgen.owners import common, station
from cardgen.problems import Problem, Span
from cardgen.wiring.uses import Role
from cardgen.wiring.wiring_parts import COMMON_TERMINAL, End, Joint, Load


def cables_cut_off(facts: Facts, reported: set[str]) -> Iterator[Problem]:
    """A cable comes to no place that any wire from a controller reaches."""
    if facts.job.unread or facts.wiring.reported & facts.job.cables.keys():
        return  # a cable that could not be read may be the one that reaches it
    reached = set(facts.job.controllers)
    left = {c.id: [stop.at for stop in c.run] for c in facts.job.cables.values()}
    while near := [name for name, run in left.items() if reached.intersection(run)]:
        for name in near:
            reached.update(left.pop(name))
    while left:
        name, run = next(iter(left.items()))
        cluster = _hanging_together(name, left)
        places = {at for one in cluster for at in left.pop(one)}
        for load in facts.wiring.loads.values():
            if load.box in places:
                reported.add(load.owner.id)
        yield CABLE_CUT_OFF.at(facts.job.cables[name].run[0].span, box=run[0], cable=name)


def _hanging_together(name: str, left: dict[str, list[str]]) -> list[str]:
    places, found = set(left[name]), [name]
    while more := [n for n, run in left.items() if n not in found and places.intersection(run)]:
        found += more
        places.update(at for n in more for at in left[n])
    return found


def joined_commons(facts: Facts, _: set[str]) -> Iterator[Problem]:
    """COM-A and COM-B touch; that a valve returns on the wrong one is seen all the same."""
    hidden = _hidden(facts)
    given = [{c.owner for c in claims} for claims in facts.claimed.values()]
    for one, two in _joined_pairs(facts):
        both = {common(one), common(two)}
        if any(both <= owners for owners in given):
            continue  # one conductor given to both, which is spoken of elsewhere
        needy = hidden.get((one, two), ())
        variant = ("one needs it" if len(needy) == 1 else "several need it") if needy else ""
        joints = [j for j in facts.wiring.joints if {one, two} <= _commons_in(facts, j)]
        for place, where in [(j.span, f" in '{j.at}'") for j in joints] or [
            (facts.job.controllers[two].span, "")
        ]:
            yield COMMONS_JOINED.at(
                place,
                variant=variant,
                one=one,
                two=two,
                where=where,
                valves=english_list(load.id for load in needy),
                boxes=english_list(f"'{load.box}'" for load in needy),
            )


def _hidden(facts: Facts) -> dict[tuple[str, str], list[Load]]:
    """By two joined controllers the valves whose return works only as long as they are joined."""
    found: dict[tuple[str, str], list[Load]] = defaultdict(list)
    pairs = _joined_pairs(facts)
    for (_, _, other), loads in _on_other_commons(facts, frozenset()).items():
        for load in loads:
            for pair in pairs:
                if load.id in facts.circuits and load.controller in pair and other in pair:
                    found[pair].append(load)
    return found


def _joined_pairs(facts: Facts) -> list[tuple[str, str]]:
    """Controllers whose C is one piece of metal."""
    homes: dict[int, list[str]] = defaultdict(list)
    for controller in facts.job.controllers:
        end = End(controller, controller, COMMON_TERMINAL)
        if facts.network.knows(end):
            homes[facts.network.group(end)].append(controller)
    return [pair for found in homes.values() for pair in combinations(found, 2)]


def _commons_in(facts: Facts, joint: Joint) -> set[str]:
    """The controllers whose commons are in a joint, by what is written of each stretch."""
    claims = (claim for end in joint.ends for claim in facts.claims_on(end))
    return {claim.owner.id for claim in claims if claim.role is Role.COMMON}


def returns_on_other_commons(facts: Facts, reported: set[str]) -> Iterator[Problem]:
    """The joint itself shows it, even where joined commons would hide it."""
    found = _on_other_commons(facts, frozenset(reported))
    for (place, box, other), loads in found.items():
        reported |= {load.owner.id for load in loads}
        yield RETURN_ON_OTHER_COMMON.at(
            place,
            variant="in a box",
            box=box,
            valves=english_list(load.id for load in loads),
            returns="returns" if len(loads) == 1 else "return",
            other=other,
            controller=loads[0].controller,
        )


def _on_other_commons(
    facts: Facts, reported: frozenset[str]
) -> dict[tuple[Span, str, str], list[Load]]:
    """By place, box and controllers of the wrong common the valves that return on it."""
    joined = {name for pair in _joined_pairs(facts) for name in pair}
    found: dict[tuple[Span, str, str], list[Load]] = defaultdict(list)
    for load in facts.wiring.loads.values():
        if load.owner.id in reported or load.back is not None:
            continue
        if load.id in facts.circuits and load.controller not in joined:
            continue  # it returns on its own, whatever the record calls it
        for lead in (load.hot_lead, load.back_lead):
            joint = facts.joint_of.get(lead)
            others = _commons_in(facts, joint) if joint else set()
            own_hot = joint and any(
                station(load.owner.id) in facts.owners_of(e) for e in joint.ends if e.of != load.id
            )  # then it is the hot that touches a common
            if joint and others and load.controller not in others and not own_hot:
                place = place_of_joint(joint) or load.span
                found[place, load.box, english_list(sorted(others))].append(load)
    return found


def commons_on_wrong_terminals(facts: Facts, reported: set[str]) -> Iterator[Problem]:
    """A common lands on a terminal that is not C: whole home runs are dead."""
    for controller, landings in facts.wiring.commons.items():
        loads = facts.loads_on.get(controller, [])
        if loads and all(load.id in facts.circuits for load in loads):
            continue  # a second exchange makes good for it: the record is wrong, not the wiring
        wrong: dict[str, list[str]] = defaultdict(list)
        places: dict[str, Span] = {}
        for la in landings:
            joint = (
                None
                if controller not in la.places
                else _written_landing(facts, controller, la.ends_at(controller)[0])
            )
            if joint is None:
                continue
            sides = [e.side for e in joint.ends if e.of == controller]
            if COMMON_TERMINAL not in sides:
                wrong[sides[0]].append(la.conductor.name)
                places.setdefault(sides[0], joint.span)
        for terminal, names in wrong.items():
            reported |= {load.owner.id for load in loads}
            others = _instead(facts, controller)
            yield COMMON_ON_WRONG_TERMINAL.at(
                places[terminal],
                variant="exchanged" if others else "",
                conductors=english_list(names),
                terminal=terminal,
                controller=controller,
                others=others,
            )


def _instead(facts: Facts, controller: str) -> str:
    """What is on C in place of the common."""
    joint = facts.joint_of.get(End(controller, controller, COMMON_TERMINAL))
    return (
        english_list(e.of for e in joint.ends if e.of in facts.wiring.conductors) if joint else ""
    )


def _written_landing(facts: Facts, controller: str, end: End) -> Joint | None:
    """The joint that puts a conductor on terminals of a controller, if it is written out."""
    joint = facts.joint_of.get(end)
    if joint is None or not joint.as_built:
        return None
    return joint if any(e.of == controller for e in joint.ends) else None


def hots_on_wrong_terminals(facts: Facts, reported: set[str]) -> Iterator[Problem]:
    """Hots land on terminals that are not their stations'; what is exchanged is told once."""
    wrong: dict[str, tuple[Load, Joint, str]] = {}
    for owner, loads in facts.loads_of.items():
        load = loads[0]
        if owner in reported or load.hot is None or not load.hot.hops:
            continue
        if all(one.id in facts.circuits for one in loads):
            continue  # a second exchange makes good for it: the record is wrong, not the wiring
        joint = _written_landing(facts, load.controller, load.hot.hops[0].departure)
        if joint is None or load.hot_end in joint.ends:
            continue
        wrong[owner] = (load, joint, next(e.side for e in joint.ends if e.of == load.controller))
    while wrong:
        owner, (load, joint, terminal) = next(iter(wrong.items()))
        landed: list[tuple[str, str, str, str]] = []
        exchanged = owner
        while exchanged in wrong:
            moved, _, side = wrong.pop(exchanged)
            reported.add(exchanged)
            assert moved.hot is not None
            name = moved.hot.hops[0].conductor.name
            landed.append((name, exchanged, side, moved.terminal))
            there = End(moved.controller, moved.controller, side)
            exchanged = next(iter(facts.owners_on.get(there, ())), "")
        yield HOT_ON_WRONG_TERMINAL.at(
            joint.span,
            variant="exchanged" if len(landed) > 1 else "",
            conductor=landed[0][0],
            station=owner,
            terminal=terminal,
            controller=load.controller,
            own=load.terminal,
            others="".join(
                f"; {name} of {station} is on {side}, not on {own}"
                for name, station, side, own in landed[1:]
            ),
        )


def jumpers_on_commons(facts: Facts, reported: set[str]) -> Iterator[Problem]:
    """A declared jumper links C with a terminal that must be switched."""
    for controller in facts.job.controllers.values():
        for jumper in controller.jumpers:
            names = [name.value for name in jumper.value]
            others = [name for name in names if name != COMMON_TERMINAL]
            if COMMON_TERMINAL not in names or not others:
                continue
            for name in others:
                reported.update(facts.owners_on.get(End(controller.id, controller.id, name), ()))
            yield JUMPER_ON_COMMON.at(
                jumper.span, controller=controller.id, terminals=english_list(others)
            )


def hots_joined(facts: Facts, reported: set[str]) -> Iterator[Problem]:
    """Two terminals feed one piece of metal, or a hot touches its common."""
    fed: dict[int, list[End]] = defaultdict(list)
    for end in facts.network.ends:
        if end in facts.owners_on:
            fed[facts.network.group(end)].append(end)
    for group, ends in facts.members.items():
        busy = [e for e in fed.get(group, ()) if not reported.issuperset(facts.owners_on[e])]
        if not busy:
            continue
        commons = [e for e in ends if e.side == COMMON_TERMINAL and e.of in facts.job.controllers]
        if busy and (commons or any(_home(facts, e) == group for e in busy)):
            yield from _shorted(facts, busy, commons, reported)
        elif len(busy) > 1 and not linked_on_purpose(facts, busy):
            names = [name for end in busy for name in facts.owners_on[end]]
            reported |= set(names)
            joint = facts.meeting(map(station, names))
            # Terminals may be linked on purpose; then the job says so.
            on_terminals = joint is not None and all(end.of == joint.at for end in busy)
            yield HOTS_JOINED.at(
                place_of_joint(joint) or facts.loads_of[names[1]][0].span,
                variant="on terminals" if on_terminals else "",
                stations=english_list(names),
                where=f" in '{joint.at}'" if joint else "",
                controller=busy[0].of,
                terminals=", ".join(end.side for end in busy),
            )


def _home(facts: Facts, terminal: End) -> int:
    load = facts.loads_of[facts.owners_on[terminal][0]][0]
    return facts.network.group(load.back_end)


def _shorted(
    facts: Facts, busy: list[End], commons: list[End], reported: set[str]
) -> Iterator[Problem]:
    names = [name for end in busy for name in facts.owners_on[end]]
    controller = commons[0].of if commons else facts.loads_of[names[0]][0].controller
    reported |= set(names)
    meetings = (facts.meeting([station(name), common(controller)]) for name in names)
    joint = next(filter(None, meetings), None)
    place = place_of_joint(joint) or facts.loads_of[names[0]][0].span
    yield HOT_ON_COMMON.at(
        place,
        hots="hot" if len(names) == 1 else "hots",
        stations=english_list(names),
        controller=controller,
        where=f" in '{joint.at}'" if joint else "",
    )


TRUNKS = (
    cables_cut_off,
    joined_commons,
    returns_on_other_commons,
    commons_on_wrong_terminals,
    hots_on_wrong_terminals,
    jumpers_on_commons,
    hots_joined,
)
