"""Check who uses which conductor: each leg of a conductor serves one thing."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations, pairwise

from cardgen.checks.reporting import error, note, spoken, warning
from cardgen.facts import Facts, named
from cardgen.lists import listed
from cardgen.problems import Also, Place, Problem
from cardgen.wiring.model import Conductor, Joint, Leg


def conductors_used_twice(facts: Facts) -> Iterator[Problem]:
    """One conductor in one leg serves two things, and neither of them is a spare."""
    told: set[tuple[str, str]] = set()
    for claims in facts.claimed.values():
        users = sorted((c for c in claims if c.role != "spare"), key=lambda c: c.place)
        first = users[0] if users else None
        for second in users[1:]:
            if first is None or second.owner == first.owner:
                continue
            if (second.conductor, second.owner) in told:
                continue
            told |= {(second.conductor, second.owner), (first.conductor, first.owner)}
            cable = facts.wiring.conductors[second.conductor].cable.id
            yield error(
                "conductor-used-twice",
                second.place,
                f"conductor '{second.conductor}' is given to {spoken(first.owner)} "
                f"and to {spoken(second.owner)}",
                _free(facts, cable),
                Also(place=first.place, text=f"first used here, for {spoken(first.owner)}"),
            )


def spares_in_use(facts: Facts) -> Iterator[Problem]:
    """A conductor listed as spare serves something, by what is written or by a joint."""
    for spare in facts.job.spares.values():
        for conductor, place in named(facts, spare.conductor):
            user = _user_of(facts, spare.id, conductor) or _live_by_joint(facts, conductor)
            if user is None:
                continue
            owner, at, text = user
            yield error(
                "spare-in-use",
                place,
                f"{spare.id} is no longer spare: '{conductor.name}' serves {spoken(owner)}",
                f"strike {spare.id} off the spares, or free the conductor",
                Also(place=at, text=text),
            )


def _user_of(facts: Facts, spare: str, conductor: Conductor) -> tuple[str, Place, str] | None:
    """Who else claims a leg that the spare claims, and where."""
    for leg in range(len(conductor.legs)):
        claims = facts.claimed.get((conductor.name, leg), [])
        others = [c for c in claims if c.role != "spare"]
        if others and any(c.owner == spare for c in claims):
            first = min(others, key=lambda c: c.place)
            return first.owner, first.place, f"used here, for {spoken(first.owner)}"
    return None


def _live_by_joint(facts: Facts, conductor: Conductor) -> tuple[str, Place, str] | None:
    """Whose joint puts a spare on something that is in use."""
    for joint in _joints_of(facts, conductor):
        for end in joint.ends if joint.as_built else ():
            owners = sorted(facts.owners_of(end) - facts.job.spares.keys())
            if end.of != conductor.name and owners:
                return owners[0], joint.place, f"joined here with {end.of}"
    return None


def _joints_of(facts: Facts, conductor: Conductor) -> Iterator[Joint]:
    for place in conductor.places:
        for end in conductor.ends_at(place):
            if end in facts.joint_of:
                yield facts.joint_of[end]


def spares_listed_twice(facts: Facts) -> Iterator[Problem]:
    """One conductor is promised as two spares."""
    first: dict[str, tuple[str, Place]] = {}
    for spare in facts.job.spares.values():
        for conductor, place in named(facts, spare.conductor):
            other, there = first.setdefault(conductor.name, (spare.id, place))
            if other != spare.id:
                yield warning(
                    "spare-listed-twice",
                    place,
                    f"'{conductor.name}' is listed as {other} and as {spare.id}",
                    "one conductor is one spare: keep one of the two",
                    Also(place=there, text=f"listed here as {other}"),
                )


def _free(facts: Facts, cable: str) -> str:
    """What is left in a cable; what a hot with another fault names is not."""
    words = facts.wiring.by_words
    promised = {words.get(said.value) for s in facts.job.spares.values() for said in s.conductor}
    named = set(words.values()) - promised
    spares = [c for c in facts.spares_of(cable) if c.name not in named]
    if not spares:
        return f"{cable} has no free conductor"
    return "free here: " + ", ".join(c.name.partition(" ")[2] for c in spares)


def spares_that_stop_short(facts: Facts) -> Iterator[Problem]:
    """A spare is promised in a box that it does not reach."""
    for spare in facts.job.spares.values():
        found = [facts.wiring.by_words.get(said.value) for said in spare.conductor]
        if spare.to is None or None in found or not found:
            continue
        last = facts.wiring.conductors[found[-1] or ""]
        if spare.to.value not in last.places:
            yield warning(
                "spare-stops-short",
                spare.to.place,
                f"{spare.id} is promised in '{spare.to.value}' but ends in '{last.places[-1]}'",
                "name the conductor that carries it on, or promise it only as far as it goes",
            )


def spares_not_carried_on(facts: Facts) -> Iterator[Problem]:
    """The conductors of one spare are not joined with each other."""
    for spare in facts.job.spares.values():
        found = list(named(facts, spare.conductor))
        if facts.wiring.broken & {c.cable.id for c, _ in found}:
            continue
        for (one, _), (two, place) in pairwise(found):
            shared = [at for at in one.places if at in two.places]
            if facts.wiring.broken.intersection(shared) or _one_metal(facts, one, two):
                continue
            where = f"in '{shared[0]}'" if shared else "anywhere"
            yield warning(
                "spare-stops-short",
                place,
                f"{spare.id} stops: {one.name} and {two.name} are not joined {where}",
                f"join them in '{shared[0]}'" if shared else "name conductors that meet in a box",
            )


def _one_metal(facts: Facts, one: Conductor, two: Conductor) -> bool:
    ends = [c.ends_at(c.places[0])[0] for c in (one, two)]
    return facts.network.group(ends[0]) == facts.network.group(ends[1])


def spares_tied(facts: Facts) -> Iterator[Problem]:
    """Two spares are joined, so neither can be used without the other."""
    for joint in facts.wiring.joints:
        if not joint.as_built:
            continue
        owners: set[str] = set()
        for end in joint.ends:
            owners |= facts.owners_of(end)
        if len(owners) > 1 and owners <= facts.job.spares.keys():
            names = listed(name for name in facts.job.spares if name in owners)
            yield warning(
                "spares-tied",
                joint.place,
                f"the spares {names} are joined in '{joint.at}'",
                "cap each by itself, or describe them as one",
            )


def home_runs_without_spare(facts: Facts) -> Iterator[Problem]:
    """A cable of valves leaves an AC controller with every conductor in use."""
    hots: dict[str, set[str]] = {}
    for claim in facts.claims:
        if claim.role == "hot" and claim.owner in facts.job.stations:
            cable_id = facts.wiring.conductors[claim.conductor].cable.id
            hots.setdefault(cable_id, set()).add(claim.owner)
    for cable in facts.job.cables.values():
        start = cable.run[0].at
        controller = facts.job.controllers.get(start)
        if controller is None or str(controller.supply.value.kind) != "AC":
            continue
        if len(hots.get(cable.id, ())) > 1 and not facts.spares_of(cable.id):
            yield warning(
                "no-spare",
                cable.place,
                f"all {len(facts.conductors_of[cable.id])} conductors of {cable.id} are in use: "
                "no spare on this home run",
                "the first broken conductor will need a new cable; pull one more at the next dig",
            )


def hots_told_apart_by_flags(facts: Facts) -> Iterator[Problem]:
    """Several stations' hots of one colour in one bundle: only the flags tell them apart."""
    hots: dict[tuple[str, str], dict[str, None]] = {}
    for claim in facts.claims:
        if claim.role != "hot" or claim.owner not in facts.job.stations:
            continue
        conductor = facts.wiring.conductors[claim.conductor]
        if conductor.flag:
            key = (conductor.cable.id, conductor.insulation.word)
            hots.setdefault(key, {})[claim.owner] = None
    for (cable, colour), owners in hots.items():
        if len(owners) > 1:
            yield note(
                "told-apart-by-flags",
                facts.job.cables[cable].place,
                f"in {cable} the hots of {listed(owners)} are all {colour}: "
                "only their flags tell them apart",
                "flag every one of them in every box",
            )


def colour_changes(facts: Facts) -> Iterator[Problem]:
    """A conductor goes on in another colour; one note for each box."""
    traced = _users_as_traced(facts)
    repaired = {
        (la.conductor.name, la.conductor.places[la.begins])
        for landings in facts.wiring.commons.values()
        for la in landings
        if la.begins
    }  # that a spare carries a common on from some box is told by itself
    for box in facts.job.boxes.values():
        changed: dict[str, None] = {}
        for joint in facts.joints_at.get(box.id, ()):
            changed |= dict.fromkeys(_changes(facts, joint, traced, repaired))
        if changed:
            yield note(
                "colour-change",
                facts.job.joints[box.id].place if box.id in facts.job.joints else box.place,
                f"colours change in '{box.id}': {', '.join(changed)}",
                "flag both sides of each; the legend shows the colour at the controller, "
                "the tag the one at the valve",
            )


def _users_as_traced(facts: Facts) -> dict[str, set[str]]:
    """By conductor, all that is said to use it or is found to."""
    users = {name: set(owners) for name, owners in facts.users.items()}
    for circuit in facts.circuits.values():
        back = "return of " if circuit.load.back else "COM of "
        for steps, owner in ((circuit.hot, ""), (circuit.back, back)):
            for step in steps:
                if isinstance(step, Leg):
                    name = owner + circuit.load.owner.id
                    users.setdefault(step.conductor.name, set()).add(name)
    return users


def _changes(
    facts: Facts, joint: Joint, traced: dict[str, set[str]], repaired: set[tuple[str, str]]
) -> Iterator[str]:
    """`red to green`, where both serve one thing; a wrong joint is no change of colour."""
    conductors = facts.wiring.conductors
    found = list(dict.fromkeys(conductors[e.of] for e in joint.ends if e.of in conductors))
    for one, two in combinations(found, 2):
        said = facts.users if {one.name, two.name} <= facts.users.keys() else traced
        shared = said.get(one.name, set()) & said.get(two.name, set())
        if repaired & {(one.name, joint.at), (two.name, joint.at)}:
            continue
        if shared and one.insulation.word != two.insulation.word:
            yield f"{one.insulation.word} to {two.insulation.word}"
