"""Check who uses which conductor: each leg of a conductor serves one thing."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from typing import NamedTuple

from cardgen.english_lists import english_list
from cardgen.facts import Facts, named, repeated
from cardgen.faults.conductor_faults import (
    CONDUCTOR_USED_TWICE,
    NO_SPARE,
    SPARE_IN_USE,
    SPARE_LISTED_TWICE,
    SPARE_STOPS_SHORT,
    SPARES_TIED,
    TOLD_APART_BY_FLAGS,
)
from cardgen.job.job_parts import Station
from cardgen.owners import Owner, OwnerKind
from cardgen.problems import Also, Problem, Span
from cardgen.wiring.uses import Role, Stretch, Use
from cardgen.wiring.wiring_parts import OUT, Conductor, End, Leg


def conductors_used_twice(facts: Facts) -> Iterator[Problem]:
    """One conductor in one leg serves two things, and neither of them is a spare."""
    told: set[tuple[str, Owner]] = set()
    for claims in facts.claimed.values():
        if len(claims) < 2:
            continue
        users = [c for c in claims if c.role is not Role.SPARE]
        if len({claim.owner for claim in users}) < 2:
            continue
        users = sorted((c for c in users if facts.is_needed(c)), key=lambda c: c.span)
        for second in users[1:]:
            first = users[0]
            if second.owner == first.owner or (second.conductor, second.owner) in told:
                continue
            told |= {(second.conductor, second.owner), (first.conductor, first.owner)}
            cable = facts.wiring.conductors[second.conductor].cable.id
            free = _free(facts, cable)
            name = first.owner.words
            yield CONDUCTOR_USED_TWICE.at(
                second.span,
                variant="" if free else "none free",
                conductor=second.conductor,
                first=name,
                second=second.owner.words,
                cable=cable,
                free=free,
                also=(Also(span=first.span, text=f"first used here, for {name}"),),
            )


def conductors_written_twice(facts: Facts) -> Iterator[Problem]:
    """One list names one conductor twice in a row: a slip for another one, or one too many."""
    for loads in facts.loads_of.values():
        owner = loads[0].owner
        back = () if isinstance(owner, Station) else owner.return_path
        for entry in (*repeated(owner.hot or ()), *repeated(back)):
            yield _twice(entry.value, entry.span, owner.id)
    for spare in facts.job.spares.values():
        for entry in repeated(spare.conductor):
            yield _twice(entry.value, entry.span, spare.id)
    for controller in facts.job.controllers.values():
        seen: set[tuple[str, str, str]] = set()
        for common in controller.common:
            way = common.value, common.begins, common.ends
            if way in seen:
                yield _twice(common.value, common.span, f"the common of {controller.id}")
            seen.add(way)


def _twice(words: str, span: Span, whose: str) -> Problem:
    return CONDUCTOR_USED_TWICE.at(span, variant="in one list", conductor=words, owner=whose)


def spares_in_use(facts: Facts) -> Iterator[Problem]:
    """A conductor serves something on a leg where it is promised as a spare."""
    for spare in facts.job.spares.values():
        for conductor, place in named(facts, spare.conductor):
            for leg in _promised_legs(facts, spare.id, conductor):
                user = _metal_user(facts, conductor, leg) or _written_user(facts, conductor, leg)
                if user is not None:
                    yield _in_use(spare.id, conductor, place, leg, user)
                    break


def _promised_legs(facts: Facts, spare: str, conductor: Conductor) -> list[int]:
    listed = Owner(OwnerKind.SPARE, spare)
    return [
        leg
        for leg in range(len(conductor.legs))
        if listed in {c.owner for c in facts.claimed.get((conductor.name, leg), ())}
    ]


class _User(NamedTuple):
    """What a spare serves, and where that is seen."""

    what: str
    at: Span
    text: str


def _in_use(spare: str, conductor: Conductor, span: Span, leg: int, user: _User) -> Problem:
    return SPARE_IN_USE.at(
        span,
        variant="further on" if leg else "",
        spare=spare,
        conductor=conductor.name,
        what=user.what,
        box=conductor.places[leg],
        also=(Also(span=user.at, text=user.text),),
    )


def _metal_user(facts: Facts, conductor: Conductor, leg: int) -> _User | None:
    """What it serves by metal; a terminal on which nothing else is may hold a spare."""
    found = [u for u in facts.uses.of_leg(conductor.name, leg) if u.role is not Role.TERMINAL]
    if not found:
        return None
    use, what = found[0], found[0].owner.words
    for claim in facts.claimed.get((conductor.name, leg), ()):
        if claim.owner == use.owner:
            return _User(what, claim.span, f"used here, for {what}")
    for joint in facts.wiring.joints:
        mine = [end for end in joint.ends if end.of == conductor.name]
        others = [e for e in joint.ends if e.of != conductor.name and use in facts.uses.of_end(e)]
        if joint.as_built and mine and others:
            return _User(what, joint.span, f"joined here with {others[0].of}")
    return _User(what, _place_of(facts, use), f"{what} is described here")


def _place_of(facts: Facts, use: Use) -> Span:
    if use.of in facts.loads_of:
        return facts.loads_of[use.of][0].span
    if use.of in facts.job.sensors:
        return facts.job.sensors[use.of].span
    return facts.job.controllers[use.of].span


def _written_user(facts: Facts, conductor: Conductor, leg: int) -> _User | None:
    """What is said to use a leg, where metal does not tell because of another fault."""
    if (conductor.name, leg) not in facts.unproved:
        return None
    claims = facts.claimed.get((conductor.name, leg), [])
    first = min((c for c in claims if c.role is not Role.SPARE), key=lambda c: c.span)
    name = first.owner.words
    return _User(name, first.span, f"used here, for {name}")


def spares_listed_twice(facts: Facts) -> Iterator[Problem]:
    """One conductor is promised as two spares on one leg."""
    told: set[tuple[str, Owner]] = set()
    for (name, _), claims in facts.claimed.items():
        if len(claims) < 2:
            continue
        first, *others = [c for c in claims if c.role is Role.SPARE] or claims[:1]
        for second in others:
            if second.owner != first.owner and (name, second.owner) not in told:
                told.add((name, second.owner))
                yield SPARE_LISTED_TWICE.at(
                    second.span,
                    conductor=name,
                    first=first.owner.words,
                    second=second.owner.words,
                    also=(Also(span=first.span, text=f"listed here as {first.owner.words}"),),
                )


def _free(facts: Facts, cable: str) -> str:
    """What is left in a cable, if anything; what a hot with another fault names is not."""
    words = facts.wiring.by_words
    promised = {words.get(entry.value) for s in facts.job.spares.values() for entry in s.conductor}
    named = set(words.values()) - promised
    free = facts.free_throughout - named
    spares = [c for c in facts.conductors_of.get(cable, ()) if c.name in free]
    return ", ".join(c.name.partition(" ")[2] for c in spares)


def spares_that_stop_short(facts: Facts) -> Iterator[Problem]:
    """A spare is promised in a box that it does not reach."""
    for spare in facts.job.spares.values():
        found = [facts.wiring.by_words.get(entry.value) for entry in spare.conductor]
        if None in found or not found or spare.id in facts.job.reported:
            continue
        first = facts.wiring.conductors[found[0] or ""]
        if spare.begins is not None and spare.begins.value not in first.places:
            yield SPARE_STOPS_SHORT.at(
                spare.begins.span,
                variant="does not begin",
                spare=spare.id,
                box=spare.begins.value,
                conductor=first.name,
            )
        if spare.to is None:
            continue
        last = facts.wiring.conductors[found[-1] or ""]
        if spare.to.value not in last.places:
            yield SPARE_STOPS_SHORT.at(
                spare.to.span, spare=spare.id, box=spare.to.value, last=last.places[-1]
            )


def spares_not_carried_on(facts: Facts) -> Iterator[Problem]:
    """The conductors of one spare are not joined with each other."""
    for spare in facts.job.spares.values():
        found = list(named(facts, spare.conductor))
        if len(found) < len(spare.conductor):
            continue  # nobody knows what the one that is named wrongly would join
        for (one, _), (two, place) in pairwise(found):
            shared = [at for at in one.places if at in two.places]
            if facts.wiring.reported.intersection(shared) or _one_metal(facts, one, two):
                continue
            yield SPARE_STOPS_SHORT.at(
                place,
                variant="not joined" if shared else "never meets",
                spare=spare.id,
                one=one.name,
                two=two.name,
                box=next(iter(shared), ""),
            )


def spares_cut(facts: Facts) -> Iterator[Problem]:
    """A joint cuts a spare short of the box where it is promised."""
    for spare in facts.job.spares.values():
        for conductor, place in named(facts, spare.conductor):
            mine = _promised_legs(facts, spare.id, conductor)
            cuts = [two for one, two in pairwise(mine) if not _touch(facts, conductor, one, two)]
            if not cuts or any(facts.uses.of_leg(conductor.name, leg) for leg in mine):
                continue  # one that is in use is told by itself
            yield SPARE_STOPS_SHORT.at(
                place,
                variant="cut",
                spare=spare.id,
                conductor=conductor.name,
                box=conductor.places[cuts[0]],
            )


def _touch(facts: Facts, conductor: Conductor, one: int, two: int) -> bool:
    ends = (End(conductor.name, conductor.places[leg], OUT) for leg in (one, two))
    return len({facts.network.group(end) for end in ends}) == 1


def _one_metal(facts: Facts, one: Conductor, two: Conductor) -> bool:
    ends = [c.ends_at(c.places[0])[0] for c in (one, two)]
    return facts.network.group(ends[0]) == facts.network.group(ends[1])


def spares_tied(facts: Facts) -> Iterator[Problem]:
    """Two spares are joined, so neither can be used without the other."""
    for joint in facts.wiring.joints:
        if not joint.as_built:
            continue
        owners: set[Owner] = set()
        for end in joint.ends:
            owners |= facts.claimants(end) or facts.owners_of(end)
        spares = {owner.id for owner in owners if owner.kind is OwnerKind.SPARE}
        if len(owners) == len(spares) > 1:
            names = english_list(name for name in facts.job.spares if name in spares)
            yield SPARES_TIED.at(joint.span, spares=names, at=joint.at)


def home_runs_without_spare(facts: Facts) -> Iterator[Problem]:
    """A cable of valves leaves an AC controller with every conductor in use."""
    hots: dict[str, set[str]] = {}
    for conductor, owner in _hots_of_stations(facts):
        hots.setdefault(conductor.cable.id, set()).add(owner)
    serving = _serving(facts)
    free = (*facts.free, *facts.maybe_hots)  # of these nobody knows which are
    leaving = {s.conductor.cable.id for s in free if s.start == 0}
    leaving |= {
        stretches[0].conductor.cable.id
        for name, stretches in facts.uses.stretches.items()
        if stretches and name not in serving and _may_be_freed(stretches[0])
    }
    for cable in facts.job.cables.values():
        start = cable.run[0].at
        controller = facts.job.controllers.get(start)
        if controller is None or str(controller.supply.value.kind) != "AC":
            continue
        if len(hots.get(cable.id, ())) > 1 and cable.id not in leaving:
            count = len(facts.conductors_of[cable.id])
            yield NO_SPARE.at(cable.span, count=count, cable=cable.id)


def _serving(facts: Facts) -> set[str]:
    """Conductors that a coil's way runs in, or that are said to serve something."""
    found = {claim.conductor for claim in facts.claims if claim.role is not Role.SPARE}
    for circuit in (*facts.circuits.values(), *facts.half_circuits.values()):
        found |= {s.conductor.name for s in (*circuit.hot, *circuit.back) if isinstance(s, Leg)}
    return found


def _may_be_freed(stretch: Stretch) -> bool:
    """A spare that lies on a terminal of its own, or hangs on a hot, which is told by itself."""
    return all(use.role in (Role.TERMINAL, Role.HOT) for use in stretch.uses)


def _hots_of_stations(facts: Facts) -> Iterator[tuple[Conductor, str]]:
    """Every stretch that is the hot of a station, or is to be one but for another fault."""
    for stretches in facts.uses.stretches.values():
        for stretch in stretches:
            for use in stretch.uses:
                if use.role is Role.HOT and use.of in facts.job.stations:
                    yield stretch.conductor, use.of
    for claim in facts.claims:
        missed = claim.role is Role.HOT and (claim.conductor, claim.leg) in facts.unproved
        if missed and claim.owner.id in facts.job.stations:
            yield facts.wiring.conductors[claim.conductor], claim.owner.id


def hots_told_apart_by_flags(facts: Facts) -> Iterator[Problem]:
    """Several stations' hots of one color in one bundle: only the flags tell them apart."""
    hots: dict[tuple[str, str], dict[str, None]] = {}
    for conductor, owner in _hots_of_stations(facts):
        if conductor.flag:
            key = (conductor.cable.id, conductor.insulation.word)
            hots.setdefault(key, {})[owner] = None
    for (cable, color), owners in hots.items():
        if len(owners) > 1:
            names = english_list(sorted(owners, key=facts.order.__getitem__))
            yield TOLD_APART_BY_FLAGS.at(
                facts.job.cables[cable].span, cable=cable, stations=names, color=color
            )
