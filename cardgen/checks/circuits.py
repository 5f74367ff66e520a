"""Check each coil's circuit: one lead on its own hot, the other on its own controller's common.

terminal --- hot ---[coil]--- common --- C        what metal connects is one *group*;
                                                  a fault is a lead in the wrong group
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass

from cardgen.checks.as_written import not_as_joined
from cardgen.checks.breaks import Dead, breaks
from cardgen.checks.reporting import error, place_of_joints
from cardgen.checks.stubs import live_stubs
from cardgen.checks.trunks import TRUNKS
from cardgen.facts import Facts
from cardgen.lists import listed
from cardgen.problems import Problem, Span
from cardgen.wiring.model import COMMON_TERMINAL, End, Load
from cardgen.wiring.trace import arrived_leads


def circuit_faults(facts: Facts) -> Iterator[Problem]:
    """Every coil that does not hang between its own hot and its own common, once for each cause."""
    done = set(facts.blamed)
    for trunk in TRUNKS:
        yield from trunk(facts, done)
    judge = _Judge(facts)
    verdicts = [
        verdict
        for load in facts.wiring.loads.values()
        if load.owner.id not in done and load.decoder is None and load.hot is not None
        for verdict in (judge.judge(load),)
        if verdict is not None
    ]
    yield from breaks(facts, [v for v in verdicts if isinstance(v, Dead)])
    faults = [v for v in verdicts if isinstance(v, _Fault)]
    yield from _crossed(facts, [f for f in faults if f.code == "hot-crossed"])
    yield from _shared(facts, [f for f in faults if f.trunk])
    yield from _left_out(facts, [f for f in faults if f.code == "lead-in-no-joint"])
    for fault in faults:
        if fault.code not in ("hot-crossed", "lead-in-no-joint") and not fault.trunk:
            yield _single(facts, fault)
    done |= {verdict.load.owner.id for verdict in verdicts} | {f.other for f in faults}
    yield from not_as_joined(facts, done)
    yield from live_stubs(facts, done)


@dataclass(frozen=True, slots=True)
class _Fault:
    """What is wrong with one load.

    Attributes:
        other: whose metal it is on, as owners are called: `A2`, `COM-B`, a terminal.
        trunk: it is so for all beyond some joint, not by the valve's own joint.
    """

    code: str
    load: Load
    other: str = ""
    trunk: bool = False
    series: tuple[str, ...] = ()


class _Judge:
    def __init__(self, facts: Facts) -> None:
        self.facts = facts
        self.network = facts.network
        self.in_series: set[str] = set()
        self.terminals: dict[int, list[End]] = defaultdict(list)
        for group, ends in facts.members.items():
            for end in ends:
                if end.of in facts.job.controllers or end.side in ("hot", "return"):
                    self.terminals[group].append(end)

    def judge(self, load: Load) -> _Fault | Dead | None:
        leads = (load.hot_lead, load.back_lead)
        groups = [self.network.group(lead) for lead in leads]
        hot, back = self.network.group(load.hot_end), self.network.group(load.back_end)
        if arrived_leads(load, self.network) is not None:
            return self._polarity(load)
        series = self._series(groups)
        if series:
            return self._in_series(load, series)
        out = [lead for lead in leads if lead not in self.facts.joint_of]
        if out and load.box in self.facts.job.joints:
            which = "a lead" if len(out) == 1 else "both leads"
            return _Fault("lead-in-no-joint", load, which)
        if groups[0] == groups[1]:
            return _Fault("coil-bridged", load)
        if hot in groups:
            return self._without_return(load, leads[1 - groups.index(hot)])
        if back in groups:
            return self._without_hot(load, groups[1 - groups.index(back)])
        return self._adrift(load, groups)

    def _polarity(self, load: Load) -> _Fault | None:
        arrived = arrived_leads(load, self.network)
        if load.hot_lead.side != "lead 1" and arrived != (load.hot_lead, load.back_lead):
            return _Fault("polarity-reversed", load)
        return None

    def _series(self, groups: list[int]) -> tuple[str, ...]:
        """The coils that hang together on a joint to which no conductor comes."""
        for group in groups:
            ends = self.facts.members[group]
            names = dict.fromkeys(end.of for end in ends)
            if len(names) > 1 and all(name in self.facts.wiring.loads for name in names):
                return tuple(names)
        return ()

    def _in_series(self, load: Load, series: tuple[str, ...]) -> _Fault | None:
        """Once for all coils of one row."""
        told = bool(self.in_series.intersection(series))
        self.in_series.update(series)
        return None if told else _Fault("coils-in-series", load, series=series)

    def _without_return(self, load: Load, lead: End) -> _Fault | Dead:
        group = self.network.group(lead)
        others = self.terminals.get(group, [])
        hots = [e for e in others if e.side not in (COMMON_TERMINAL, "return")]
        if hots:
            owner, own = self._owner(hots), f"COM-{load.controller}"
            direct = self._beside(lead, owner) and not self._beside(lead, own)
            return _Fault("valve-between-hots", load, owner, not direct)
        if others:
            owner = f"COM-{others[0].of}"
            return _Fault("return-on-other-common", load, owner, not self._beside(lead, owner))
        return Dead(load, hot=False, group=group)

    def _beside(self, lead: End, owner: str) -> bool:
        """Whether the lead's own joint holds something of that owner."""
        joint = self.facts.joint_of.get(lead)
        if joint is None:
            return True
        others = [e for e in joint.ends if e.of not in self.facts.wiring.loads]
        return any(owner in self.facts.owners_of(e) for e in others)

    def _without_hot(self, load: Load, group: int) -> _Fault | Dead:
        others = self.terminals.get(group, [])
        if others:
            return _Fault("hot-crossed", load, self._owner(others))
        return Dead(load, hot=True, group=None)

    def _adrift(self, load: Load, groups: list[int]) -> _Fault | Dead:
        others = [e for g in groups for e in self.terminals.get(g, [])]
        if others:
            return _Fault("on-other-circuit", load, self._owner(others))
        common = f"COM-{load.controller}"
        for group in groups:
            if any(common in self.facts.claimants(end) for end in self.facts.members[group]):
                return Dead(load, hot=True, group=group)
        return Dead(load, hot=True, group=groups[1])

    def _owner(self, terminals: list[End]) -> str:
        """The station on these terminals, or the terminal if no station is on it."""
        for end in terminals:
            for name in self.facts.owners_on.get(end, ()):
                return name
        first = terminals[0]
        if first.side == COMMON_TERMINAL:
            return f"COM-{first.of}"
        return f"terminal {first.side} of {first.of}"


def _crossed(facts: Facts, faults: list[_Fault]) -> Iterator[Problem]:
    """A exchanged with B is one fault, told once."""
    onto = {f.load.owner.id: f.other for f in faults}
    told: set[str] = set()
    for fault in faults:
        name = fault.load.owner.id
        if name in told:
            continue
        chain = [name]
        while onto.get(chain[-1]) in onto and onto[chain[-1]] not in chain:
            chain.append(onto[chain[-1]])
        told |= set(chain)
        joint = facts.meeting([*chain, fault.other])
        parts = [f"{one}'s valve is on {_hot_of(onto[one])}" for one in chain]
        yield error(
            "hot-crossed",
            joint.span if joint and joint.as_built else _own_place(facts, fault),
            ", ".join(parts) + (f": crossed in '{joint.at}'" if joint else ""),
            "join each hot with its own going on, or correct which station is on which",
        )


def _hot_of(owner: str) -> str:
    return owner if owner.startswith("terminal ") else f"the hot of {owner}"


def _shared(facts: Facts, faults: list[_Fault]) -> Iterator[Problem]:
    """A common going on is on a hot, or on another common, for all beyond."""
    causes: dict[tuple[str, str, str], list[_Fault]] = defaultdict(list)
    for fault in faults:
        causes[fault.code, f"COM-{fault.load.controller}", fault.other].append(fault)
    for (code, own, other), found in causes.items():
        joint = facts.meeting([own, other])
        names = listed(dict.fromkeys(f.load.owner.id for f in found))
        controller = found[0].load.controller
        where = f"in '{joint.at}' " if joint else ""
        to_hot = code == "valve-between-hots"
        what = _hot_of(other) if to_hot else f"the common of {other.removeprefix('COM-')}"
        single = len({f.load.owner.id for f in found}) == 1
        yield error(
            "common-on-hot" if to_hot else code,
            joint.span if joint and joint.as_built else _own_place(facts, found[0]),
            f"{where}the common of {controller} going on is joined with {what}: "
            f"{names} {'does' if single else 'do'} not return to C of {controller}",
            f"join it with the common of {controller} coming in",
        )


def _left_out(facts: Facts, faults: list[_Fault]) -> Iterator[Problem]:
    """All leads that the joints of one box leave out."""
    by_box: dict[str, dict[str, str]] = defaultdict(dict)
    for fault in faults:
        by_box[fault.load.box][fault.load.id] = fault.other
    for box, leads in by_box.items():
        names = listed(leads)
        what = f"a lead each of {names}"
        if len(leads) == 1 or "both leads" in leads.values():
            what = " and ".join(
                f"{which} of {listed(n for n in leads if leads[n] == which)}"
                for which in dict.fromkeys(leads.values())
            )
        yield error(
            "lead-in-no-joint",
            facts.job.joints[box].span,
            f"the joints of '{box}' leave out {what}",
            f"write {names} into the joint with the hot and into the one with the common",
        )


def _single(facts: Facts, fault: _Fault) -> Problem:
    load = fault.load
    words = {
        "id": load.id,
        "box": load.box,
        "controller": load.controller,
        "other": fault.other,
        "hot": _hot_of(fault.other),
        "series": listed(fault.series),
    }
    sentence, help_ = _SENTENCES[fault.code]
    return error(
        fault.code, _own_place(facts, fault), sentence.format(**words), help_.format(**words)
    )


def _own_place(facts: Facts, fault: _Fault) -> Span:
    """The joint that shows it, or where the joints of the box are written, or the load."""
    if fault.code != "coils-in-series":
        wrong = [fault.load.back_lead, fault.load.hot_lead]
        if fault.code in ("hot-crossed", "polarity-reversed"):
            wrong.reverse()
        for lead in wrong:
            joint = facts.joint_of.get(lead)
            if joint and joint.as_built:
                return joint.span
    if fault.code == "coils-in-series":
        for joint in facts.wiring.joints:
            if joint.as_built and {end.of for end in joint.ends} <= set(fault.series):
                return joint.span
    return place_of_joints(facts, fault.load.box) or fault.load.span


_SENTENCES = {
    "coil-bridged": (
        "both leads of {id} are joined with each other in '{box}'",
        "one lead goes to the hot, the other to the common",
    ),
    "polarity-reversed": (
        "{id} has its latching leads exchanged: it would close when told to open",
        "put each lead where 'polarity' of {controller} says",
    ),
    "valve-between-hots": (
        "{id} hangs between its own hot and {hot}: it has no common",
        "move that lead to the common in '{box}'",
    ),
    "return-on-other-common": (
        "{id} returns on a common that is not that of {controller}",
        "join its lead with the common of {controller} in '{box}'",
    ),
    "on-other-circuit": (
        "{id} hangs on the conductors of {other}, not on its own",
        "join one lead with the hot of {id} and the other with its common in '{box}'",
    ),
    "coils-in-series": (
        "{series} are wired one behind the other",
        "side by side only: one lead of each on the hot, the other on the common",
    ),
}
