"""Check who uses which conductor: each leg of a conductor serves one thing."""

from __future__ import annotations

from collections.abc import Iterator

from cardgen.checks.facts import Claim, Facts, error, listed, note, warning
from cardgen.problems import Also, Place, Problem
from cardgen.wiring.model import Conductor


def conductors_used_twice(facts: Facts) -> Iterator[Problem]:
    """One conductor in one leg serves two things, and neither of them is a spare."""
    for first, second in _clashes(facts):
        if "spare" in (first.role, second.role):
            continue
        cable = facts.wiring.conductors[second.conductor].cable.id
        yield error(
            "conductor-used-twice",
            second.place,
            f"conductor '{second.conductor}' is given to {first.owner} and to {second.owner}",
            _free(facts, cable),
            Also(place=first.place, text=f"first used here, for {first.owner}"),
        )


def spares_in_use(facts: Facts) -> Iterator[Problem]:
    """A conductor listed as spare serves something."""
    for first, second in _clashes(facts):
        spare, user = (first, second) if first.role == "spare" else (second, first)
        if spare.role != "spare" or user.role == "spare":
            continue
        yield error(
            "spare-in-use",
            spare.place,
            f"{spare.owner} is no longer spare: '{spare.conductor}' serves {user.owner}",
            f"strike {spare.owner} off the spares, or give {user.owner} another conductor",
            Also(place=user.place, text=f"used here, for {user.owner}"),
        )


def _clashes(facts: Facts) -> Iterator[tuple[Claim, Claim]]:
    """Two claims on one leg, once for each conductor and pair of owners."""
    seen: set[tuple[str, str, str]] = set()
    for claims in facts.claimed.values():
        ordered = sorted(claims, key=lambda c: c.place)
        for second in ordered[1:]:
            first = ordered[0]
            key = (first.conductor, first.owner, second.owner)
            if first.owner != second.owner and key not in seen:
                seen.add(key)
                yield first, second


def _free(facts: Facts, cable: str) -> str:
    spares = facts.spares_of(cable)
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


def spares_tied(facts: Facts) -> Iterator[Problem]:
    """Two spares are joined, so neither can be used without the other."""
    groups: dict[int, tuple[str, Conductor]] = {}
    for spare in facts.job.spares.values():
        names = [facts.wiring.by_words.get(said.value) for said in spare.conductor]
        for name in names:
            if name is None or name in facts.used_conductors:
                continue
            conductor = facts.wiring.conductors[name]
            group = facts.network.group(conductor.ends_at(conductor.places[0])[0])
            other, _ = groups.setdefault(group, (spare.id, conductor))
            if other != spare.id:
                yield warning(
                    "spares-tied",
                    _joint_place(facts, conductor) or spare.place,
                    f"the spares {other} and {spare.id} are joined",
                    "cap each by itself, or describe them as one",
                )
                break


def _joint_place(facts: Facts, conductor: Conductor) -> Place | None:
    for joint in facts.wiring.joints:
        if joint.as_built and any(end.of == conductor.name for end in joint.ends):
            return joint.place
    return None


def home_runs_without_spare(facts: Facts) -> Iterator[Problem]:
    """A cable of valves leaves an AC controller with every conductor in use."""
    for cable in facts.job.cables.values():
        start = cable.run[0].at
        controller = facts.job.controllers.get(start)
        if controller is None or str(controller.supply.value.kind) != "AC":
            continue
        names = [c.name for c in facts.wiring.conductors.values() if c.cable.id == cable.id]
        hots = {
            c.owner
            for c in facts.claims
            if c.role == "hot" and c.conductor in names and c.owner in facts.job.stations
        }
        if len(hots) > 1 and not facts.spares_of(cable.id):
            yield warning(
                "no-spare",
                cable.place,
                f"all {len(names)} conductors of {cable.id} are in use: no spare on this home run",
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
    for box in facts.job.boxes.values():
        changed: dict[str, None] = {}
        for joint in facts.wiring.joints:
            if joint.at != box.id:
                continue
            words = [
                facts.wiring.conductors[end.of]
                for end in joint.ends
                if end.of in facts.wiring.conductors
            ]
            colours = list(dict.fromkeys(c.insulation.word for c in words))
            if len(colours) > 1:
                changed[" to ".join(colours)] = None
        if changed:
            yield note(
                "colour-change",
                facts.job.joints[box.id].place if box.id in facts.job.joints else box.place,
                f"colours change in '{box.id}': {', '.join(changed)}",
                "flag both sides of each; the legend shows the colour at the controller, "
                "the tag the one at the valve",
            )
