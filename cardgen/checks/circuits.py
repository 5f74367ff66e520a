"""Check each coil's circuit: one lead on its own hot, the other on its own controller's common.

terminal --- hot ---[coil]--- common --- C        what metal connects is one *group*;
                                                  a fault is a lead in the wrong group
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property

from cardgen.checks.facts import Facts, error, listed, place_of_joints
from cardgen.problems import Also, Place, Problem
from cardgen.wiring.model import COMMON_TERMINAL, End, Joint, Load
from cardgen.wiring.trace import arrived_leads


def circuit_faults(facts: Facts) -> Iterator[Problem]:
    """Every coil that does not hang between its own hot and its own common, once for each cause."""
    judge = _Judge(facts)
    yield from judge.joined_commons()
    yield from judge.commons_on_wrong_terminals()
    yield from judge.hots_joined()
    yield from judge.coils()


@dataclass(frozen=True, slots=True)
class _Verdict:
    """What is wrong with one load: the code, and what it shares with others of one cause."""

    code: str
    load: Load
    other: str = ""
    group: int = -1


class _Judge:
    def __init__(self, facts: Facts) -> None:
        self.facts = facts
        self.network = facts.network
        self.done: set[str] = set(facts.blamed)

    @cached_property
    def terminals(self) -> dict[int, list[End]]:
        """The terminals (and isolator outputs) in each group that has any."""
        found: dict[int, list[End]] = defaultdict(list)
        for group, ends in self.facts.members.items():
            for end in ends:
                if end.of in self.facts.job.controllers or end.side in ("hot", "return"):
                    found[group].append(end)
        return dict(found)

    # -- whole commons -------------------------------------------------------------------------

    def joined_commons(self) -> Iterator[Problem]:
        """COM-A and COM-B touch; and a valve that works only because they do."""
        homes: dict[int, str] = {}
        for controller in self.facts.job.controllers:
            end = End(controller, controller, COMMON_TERMINAL)
            if not self.network.knows(end):
                continue
            other = homes.setdefault(self.network.group(end), controller)
            if other != controller and not self._share_conductor(other, controller):
                place, where = self._joint_of_both(other, controller)
                yield error(
                    "commons-joined",
                    place,
                    f"the commons of {other} and {controller} are joined{where}",
                    "part them: each controller keeps its own common, in its own connector",
                )
        yield from self._returns_on_other_commons()

    def _share_conductor(self, one: str, two: str) -> bool:
        names = [{la.conductor.name for la in self.facts.wiring.commons[c]} for c in (one, two)]
        return bool(names[0] & names[1])

    def _joint_of_both(self, one: str, two: str) -> tuple[Place, str]:
        commons = self.facts.wiring.commons
        first = {la.conductor.name for la in commons[one]}
        second = {la.conductor.name for la in commons[two]}
        for joint in self.facts.wiring.joints:
            names = {end.of for end in joint.ends}
            if names & first and names & second:
                return joint.place, f" in '{joint.at}'"
        return self.facts.job.controllers[two].place, ""

    def _returns_on_other_commons(self) -> Iterator[Problem]:
        """The joint itself shows it, even where joined commons would hide it."""
        owner_of = {
            la.conductor.name: controller
            for controller, landings in self.facts.wiring.commons.items()
            for la in landings
        }
        for load in self.facts.wiring.loads.values():
            if load.owner.id in self.done or load.back is not None:
                continue
            for lead in (load.hot_lead, load.back_lead):
                joint = self.facts.joint_of.get(lead)
                owners = (
                    {owner_of[e.of] for e in joint.ends if e.of in owner_of} if joint else set()
                )
                if joint and owners and load.controller not in owners:
                    self.done.add(load.owner.id)
                    yield error(
                        "return-on-other-common",
                        joint.place if joint.as_built else load.place,
                        f"{load.id}'s return is on the common of {listed(sorted(owners))}",
                        f"join its lead with the common of {load.controller} in '{load.box}'",
                    )

    def commons_on_wrong_terminals(self) -> Iterator[Problem]:
        """A common lands on a terminal that is not C: whole home runs are dead."""
        for controller, landings in self.facts.wiring.commons.items():
            wrong: dict[str, list[str]] = defaultdict(list)
            place: Place | None = None
            for la in landings:
                if controller not in la.conductor.places or la.begins:
                    continue
                joint = self.facts.joint_of.get(la.conductor.ends_at(controller)[0])
                if joint is None or not joint.as_built:
                    continue
                sides = [e.side for e in joint.ends if e.of == controller]
                if sides and COMMON_TERMINAL not in sides:
                    wrong[sides[0]].append(la.conductor.name)
                    place = place or joint.place
            for terminal, names in wrong.items():
                assert place is not None
                self._blame_controller(controller)
                yield error(
                    "common-on-wrong-terminal",
                    place,
                    f"the common {listed(names)} is on terminal {terminal} "
                    f"of {controller}, not on C",
                    "land it on C; nothing but the common belongs there",
                )

    def _blame_controller(self, controller: str) -> None:
        loads = self.facts.wiring.loads.values()
        self.done |= {load.owner.id for load in loads if load.controller == controller}

    # -- hots ----------------------------------------------------------------------------------

    def hots_joined(self) -> Iterator[Problem]:
        """Two terminals feed one piece of metal."""
        owners = self._owners_by_terminal()
        for ends in self.terminals.values():
            busy = [e for e in ends if owners.get(e) and e.side != COMMON_TERMINAL]
            busy = [e for e in busy if not set(owners[e]) <= self.done]
            if len(busy) < 2 or self._one_joint(busy):
                continue
            names = [name for end in busy for name in owners[end]]
            self.done |= set(names)
            joint = self._joint_claimed_by(names)
            yield error(
                "hots-joined",
                joint.place if joint and joint.as_built else self._place_of(names[1]),
                f"the hots of {listed(names)} are joined" + (f" in '{joint.at}'" if joint else ""),
                "each station needs its own hot: part them",
            )

    def _owners_by_terminal(self) -> dict[End, list[str]]:
        owners: dict[End, list[str]] = defaultdict(list)
        for load in self.facts.wiring.loads.values():
            if load.hot is not None and load.owner.id not in owners[load.hot_end]:
                owners[load.hot_end].append(load.owner.id)
        return owners

    def _one_joint(self, ends: list[End]) -> bool:
        """Linked on the terminal strip itself, which the check of jumpers speaks of."""
        joints = {id(self.facts.joint_of.get(end)) for end in ends}
        return len(joints) == 1 and self.facts.joint_of.get(ends[0]) is not None

    def _joint_claimed_by(self, owners: Iterable[str]) -> Joint | None:
        """The joint in which conductors or leads of two of these owners come together."""
        wanted = set(owners)
        for joint in sorted(self.facts.wiring.joints, key=lambda j: not j.as_built):
            found = set()
            for end in joint.ends:
                found |= self._owners_of(end) & wanted
            if len(found) > 1:
                return joint
        return None

    @cached_property
    def _claimants(self) -> dict[str, set[str]]:
        found: dict[str, set[str]] = defaultdict(set)
        for claim in self.facts.claims:
            found[claim.conductor].add(claim.owner)
        return found

    def _owners_of(self, end: End) -> set[str]:
        load = self.facts.wiring.loads.get(end.of)
        return {load.owner.id} if load else self._claimants.get(end.of, set())

    def _place_of(self, owner: str) -> Place:
        return self.facts.loads_of[owner][0].place

    # -- coils ---------------------------------------------------------------------------------

    def coils(self) -> Iterator[Problem]:
        verdicts = [v for v in map(self._judge, self.facts.wiring.loads.values()) if v]
        yield from self._crossed([v for v in verdicts if v.code == "hot-crossed"])
        yield from self._common_stops([v for v in verdicts if v.code == "common-stops"])
        for verdict in verdicts:
            if verdict.code not in ("hot-crossed", "common-stops"):
                yield from self._single(verdict)

    def _judge(self, load: Load) -> _Verdict | None:
        if load.owner.id in self.done or load.decoder is not None or load.hot is None:
            return None
        groups = [self.network.group(lead) for lead in (load.hot_lead, load.back_lead)]
        hot, back = self.network.group(load.hot_end), self.network.group(load.back_end)
        if hot == back:
            return _Verdict("hot-on-common", load)
        if arrived_leads(load, self.network) is not None:
            return self._polarity(load)
        missing = [
            lead
            for lead in (load.hot_lead, load.back_lead)
            if lead not in self.facts.joint_of and load.box in self.facts.job.joints
        ]
        if missing:
            return _Verdict("lead-in-no-joint", load, missing[0].side)
        if groups[0] == groups[1]:
            return _Verdict("coil-bridged", load)
        if hot in groups:
            return self._without_return(load, groups[1 - groups.index(hot)])
        if back in groups:
            return self._without_hot(load, groups[1 - groups.index(back)])
        return self._adrift(load, groups)

    def _polarity(self, load: Load) -> _Verdict | None:
        arrived = arrived_leads(load, self.network)
        if load.hot_lead.side != "lead 1" and arrived != (load.hot_lead, load.back_lead):
            return _Verdict("polarity-reversed", load)
        return None

    def _without_return(self, load: Load, group: int) -> _Verdict:
        others = self.terminals.get(group, [])
        if any(e.side not in (COMMON_TERMINAL, "return") for e in others):
            return _Verdict("valve-between-hots", load, self._named(others))
        if others:
            return _Verdict("return-on-other-common", load, others[0].of)
        if self._only_leads(group):
            return _Verdict("coils-in-series", load, group=group)
        return _Verdict("common-stops", load, group=group)

    def _without_hot(self, load: Load, group: int) -> _Verdict:
        others = self.terminals.get(group, [])
        if others:
            return _Verdict("hot-crossed", load, self._named(others))
        if self._only_leads(group):
            return _Verdict("coils-in-series", load, group=group)
        return _Verdict("hot-stops", load)

    def _adrift(self, load: Load, groups: list[int]) -> _Verdict:
        others = [e for g in groups for e in self.terminals.get(g, [])]
        if others:
            return _Verdict("on-other-circuit", load, self._named(others))
        return _Verdict("hot-stops", load)

    def _named(self, terminals: list[End]) -> str:
        """The stations on these terminals, or the terminals where no station is."""
        owners = self._owners_by_terminal()
        names = [name for end in terminals for name in owners.get(end, ())]
        return listed(names) if names else f"terminal {terminals[0].side} of {terminals[0].of}"

    def _only_leads(self, group: int) -> bool:
        ends = self.facts.members[group]
        return len(ends) > 1 and all(end.of in self.facts.wiring.loads for end in ends)

    def _crossed(self, verdicts: list[_Verdict]) -> Iterator[Problem]:
        """A exchanged with B is one fault, told once."""
        onto = {v.load.owner.id: v.other for v in verdicts}
        told: set[str] = set()
        for verdict in verdicts:
            name = verdict.load.owner.id
            if name in told:
                continue
            chain = [name]
            while onto.get(chain[-1]) in onto and onto[chain[-1]] not in chain:
                chain.append(onto[chain[-1]])
            told |= set(chain)
            joint = self._joint_claimed_by([*chain, verdict.other])
            parts = [f"{one}'s valve is on the hot of {onto[one]}" for one in chain]
            yield error(
                "hot-crossed",
                joint.place if joint and joint.as_built else verdict.load.place,
                ", ".join(parts) + (f": crossed in '{joint.at}'" if joint else ""),
                "join each hot with its own going on, or correct which station is on which",
            )

    def _common_stops(self, verdicts: list[_Verdict]) -> Iterator[Problem]:
        """All that is cut off in one place is one fault."""
        causes: dict[tuple[str, Place, str], list[_Verdict]] = defaultdict(list)
        for verdict in verdicts:
            causes[self._break(verdict)].append(verdict)
        for (code, place, where), found in causes.items():
            names = listed(dict.fromkeys(v.load.owner.id for v in found))
            verb = "has" if len(found) == 1 else "have"
            controller = found[0].load.controller
            yield error(
                code,
                place,
                f"{where}: {names} {verb} no return",
                f"join the common of {controller} coming in with the one going on "
                "and the valve leads",
            )

    def _break(self, verdict: _Verdict) -> tuple[str, Place, str]:
        """Where the dead part of a common should have been joined with the live one."""
        load, common = verdict.load, f"the common of {verdict.load.controller}"
        home = self.network.group(load.back_end)
        landings = self.facts.wiring.commons[load.controller]
        if load.back is not None:
            where = f"the return of {load.id} stops before '{load.box}'"
            return "common-stops", load.back.fault.place if load.back.fault else load.place, where
        if not landings:
            controller = self.facts.job.controllers[load.controller]
            return "common-missing", controller.place, f"{controller.id} has no common written"
        ends_by_place: dict[str, list[End]] = defaultdict(list)
        for la in landings:
            for at in la.conductor.places[la.begins :]:
                ends_by_place[at].extend(la.conductor.ends_at(at))
        for at, ends in ends_by_place.items():
            dead = [end for end in ends if self.network.group(end) == verdict.group]
            live = [end for end in ends if self.network.group(end) == home]
            if dead and at == load.controller:
                said = place_of_joints(self.facts, at) or landings[0].place
                names = listed(end.of for end in dead)
                return "common-not-landed", said, f"{names} is not on C of {load.controller}"
            if dead and live:
                joint = self.facts.joint_of.get(live[0])
                written = joint.place if joint and joint.as_built else None
                written = written or place_of_joints(self.facts, at) or landings[0].place
                return "common-stops", written, f"{common} stops in '{at}'"
        for la in landings:
            at = la.conductor.places[la.begins]
            if any(self.network.group(e) == verdict.group for e in la.conductor.ends_at(at)):
                return "common-stops", la.place, f"nothing feeds {la.conductor.name} in '{at}'"
        come = "reach" if load.box in ends_by_place else "come to"
        return "common-stops", load.place, f"{common} does not {come} '{load.box}'"

    def _single(self, verdict: _Verdict) -> Iterator[Problem]:
        load = verdict.load
        joint = self.facts.joint_of.get(load.back_lead)
        place = place_of_joints(self.facts, load.box) or load.place
        if verdict.code == "hot-stops":
            yield self._hot_stops(load)
        elif verdict.code == "coils-in-series":
            if self._is_first_of_series(verdict):
                names = {e.of for e in self.facts.members[verdict.group]}
                yield error(
                    "coils-in-series",
                    place,
                    f"{listed(sorted(names))} are wired one behind the other",
                    "side by side only: one lead of each on the hot, the other on the common",
                )
        else:
            sentence, help_ = _SENTENCES[verdict.code]
            words = {"id": load.id, "box": load.box, "other": verdict.other}
            where = joint.place if joint and joint.as_built else place
            yield error(verdict.code, where, sentence.format(**words), help_.format(**words))

    def _is_first_of_series(self, verdict: _Verdict) -> bool:
        loads = self.facts.wiring.loads
        return verdict.load.id == min(
            (e.of for e in self.facts.members[verdict.group]), key=list(loads).index
        )

    def _hot_stops(self, load: Load) -> Problem:
        assert load.hot is not None
        if load.hot.fault is not None:
            return load.hot.fault
        hot = self.network.group(load.hot_end)
        first = load.hot.hops[0].conductor if load.hot.hops else None
        reached = load.controller
        for hop in load.hot.hops:
            for index in hop.indices:
                if self.network.group(hop.arrival(index)) == hot:
                    reached = hop.conductor.places[index]
        if reached == load.controller:
            sentence = f"nothing is landed on terminal {load.terminal} of {load.controller}"
        else:
            assert first is not None
            sentence = (
                f"{load.owner.id}'s hot leaves on {first.name} and stops in '{reached}'; "
                f"nothing carries it to '{load.box}'"
            )
        also = (Also(place=load.place, text=f"{load.owner.id} is described here"),)
        place = place_of_joints(self.facts, reached) or load.place
        return error("hot-stops", place, sentence, f"join it onward in '{reached}'", *also)


_SENTENCES = {
    "hot-on-common": (
        "the hot of {id} and its common are joined: the terminal is shorted",
        "part them; a short can blow the controller's fuse",
    ),
    "lead-in-no-joint": (
        "the joints of '{box}' leave out a lead of {id} ({other})",
        "write {id} into the joint with its hot and into the one with its common",
    ),
    "coil-bridged": (
        "both leads of {id} are in one joint of '{box}'",
        "one lead goes to the hot, the other to the common",
    ),
    "polarity-reversed": (
        "{id} has its latching leads exchanged: it would close when told to open",
        "put each lead where the controller's 'polarity' says",
    ),
    "valve-between-hots": (
        "{id} hangs between its own hot and the hot of {other}: it has no common",
        "move that lead to the common in '{box}'",
    ),
    "return-on-other-common": (
        "{id}'s return is on the common of {other}",
        "join its lead with its own controller's common in '{box}'",
    ),
    "on-other-circuit": (
        "{id} hangs on the conductors of {other}, not on its own",
        "check the joints of '{box}'",
    ),
}
