"""Check each coil's circuit: one lead on its own hot, the other on its own controller's common.

terminal --- hot ---[coil]--- common --- C        what metal connects is one *group*;
                                                  a fault is a lead in the wrong group
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator

from cardgen.checks.as_written import not_as_joined
from cardgen.checks.breaks import Dead, breaks
from cardgen.checks.reporting import place_of_joint, place_of_joints
from cardgen.checks.stubs import live_stubs
from cardgen.checks.trunks import TRUNKS
from cardgen.english_lists import english_list
from cardgen.facts import Facts
from cardgen.faults.circuit_faults import (
    COIL_BRIDGED,
    COILS_IN_SERIES,
    HOT_CROSSED,
    LEAD_IN_NO_JOINT,
    ON_OTHER_CIRCUIT,
    VALVE_BETWEEN_HOTS,
)
from cardgen.faults.common_faults import COMMON_ON_HOT, RETURN_ON_OTHER_COMMON
from cardgen.faults.fault import Fault
from cardgen.faults.latching_faults import POLARITY_REVERSED
from cardgen.light_dataclass import dataclass
from cardgen.owners import Owner, OwnerKind, common, station
from cardgen.problems import Problem, Span
from cardgen.wiring.trace import arrived_leads
from cardgen.wiring.wiring_parts import COMMON_TERMINAL, End, Load


def circuit_faults(facts: Facts) -> Iterator[Problem]:
    """Every coil that does not hang between its own hot and its own common, once for each cause."""
    reported = set(facts.reported)
    for trunk in TRUNKS:
        yield from trunk(facts, reported)
    judge = _Judge(facts)
    verdicts = [
        verdict
        for load in facts.wiring.loads.values()
        if load.owner.id not in reported and load.decoder is None and load.hot is not None
        for verdict in (judge.judge(load),)
        if verdict is not None
    ]
    yield from breaks(facts, [v for v in verdicts if isinstance(v, Dead)])
    findings = [v for v in verdicts if isinstance(v, _Finding)]
    yield from _crossed(facts, [f for f in findings if f.fault is HOT_CROSSED])
    yield from _shared(facts, [f for f in findings if f.trunk])
    yield from _left_out(facts, [f for f in findings if f.fault is LEAD_IN_NO_JOINT])
    for finding in findings:
        if finding.fault not in (HOT_CROSSED, LEAD_IN_NO_JOINT) and not finding.trunk:
            yield _single(facts, finding)
    reported |= {verdict.load.owner.id for verdict in verdicts}
    others = (finding.other for finding in findings if finding.other)
    reported |= {other.id for other in others if other.kind is OwnerKind.STATION}
    yield from not_as_joined(facts, reported)
    yield from live_stubs(facts, reported)


@dataclass(frozen=True, slots=True)
class _Finding:
    """What is wrong with one load.

    Attributes:
        other: whose metal it is on.
        leads: those that are in no joint.
        trunk: it is so for all beyond some joint, not by the valve's own joint.
    """

    fault: Fault
    load: Load
    other: Owner | None = None
    trunk: bool = False
    leads: str = ""
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

    def judge(self, load: Load) -> _Finding | Dead | None:
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
            return _Finding(LEAD_IN_NO_JOINT, load, leads=which)
        if groups[0] == groups[1]:
            return _Finding(COIL_BRIDGED, load)
        if hot in groups:
            return self._without_return(load, leads[1 - groups.index(hot)])
        if back in groups:
            return self._without_hot(load, groups[1 - groups.index(back)])
        return self._adrift(load, groups)

    def _polarity(self, load: Load) -> _Finding | None:
        arrived = arrived_leads(load, self.network)
        if load.hot_lead.side != "lead 1" and arrived != (load.hot_lead, load.back_lead):
            return _Finding(POLARITY_REVERSED, load)
        return None

    def _series(self, groups: list[int]) -> tuple[str, ...]:
        """The coils that hang together on a joint to which no conductor comes."""
        for group in groups:
            ends = self.facts.members[group]
            names = dict.fromkeys(end.of for end in ends)
            if len(names) > 1 and all(name in self.facts.wiring.loads for name in names):
                return tuple(names)
        return ()

    def _in_series(self, load: Load, series: tuple[str, ...]) -> _Finding | None:
        """Once for all coils of one row."""
        told = bool(self.in_series.intersection(series))
        self.in_series.update(series)
        return None if told else _Finding(COILS_IN_SERIES, load, series=series)

    def _without_return(self, load: Load, lead: End) -> _Finding | Dead:
        group = self.network.group(lead)
        others = self.terminals.get(group, [])
        hots = [e for e in others if e.side not in (COMMON_TERMINAL, "return")]
        if hots:
            owner, own = self._owner(hots), common(load.controller)
            direct = self._beside(lead, owner) and not self._beside(lead, own)
            return _Finding(VALVE_BETWEEN_HOTS, load, owner, not direct)
        if others:
            owner = common(others[0].of)
            return _Finding(RETURN_ON_OTHER_COMMON, load, owner, not self._beside(lead, owner))
        return Dead(load, hot=False, group=group)

    def _beside(self, lead: End, owner: Owner) -> bool:
        """Whether the lead's own joint holds something of that owner."""
        joint = self.facts.joint_of.get(lead)
        if joint is None:
            return True
        others = [e for e in joint.ends if e.of not in self.facts.wiring.loads]
        return any(owner in self.facts.owners_of(e) for e in others)

    def _without_hot(self, load: Load, group: int) -> _Finding | Dead:
        others = self.terminals.get(group, [])
        if others:
            return _Finding(HOT_CROSSED, load, self._owner(others))
        return Dead(load, hot=True, group=None)

    def _adrift(self, load: Load, groups: list[int]) -> _Finding | Dead:
        others = [e for g in groups for e in self.terminals.get(g, [])]
        if others:
            return _Finding(ON_OTHER_CIRCUIT, load, self._owner(others))
        own = common(load.controller)
        for group in groups:
            if any(own in self.facts.claimants(end) for end in self.facts.members[group]):
                return Dead(load, hot=True, group=group)
        return Dead(load, hot=True, group=groups[1])

    def _owner(self, terminals: list[End]) -> Owner:
        """The station on these terminals, or the terminal if no station is on it."""
        for end in terminals:
            for name in self.facts.owners_on.get(end, ()):
                return station(name)
        first = terminals[0]
        if first.side == COMMON_TERMINAL:
            return common(first.of)
        return Owner(OwnerKind.TERMINAL, first.of, first.side)


def _crossed(facts: Facts, findings: list[_Finding]) -> Iterator[Problem]:
    """A exchanged with B is one fault, told once."""
    onto = {station(f.load.owner.id): f.other for f in findings if f.other}
    told: set[Owner] = set()
    for finding in findings:
        name = station(finding.load.owner.id)
        if name in told or finding.other is None:
            continue
        chain = [name]
        while onto[chain[-1]] in onto and onto[chain[-1]] not in chain:
            chain.append(onto[chain[-1]])
        told |= set(chain)
        joint = facts.meeting([*chain, finding.other])
        yield HOT_CROSSED.at(
            place_of_joint(joint) or _own_place(facts, finding),
            variant="in a box" if joint else "",
            station=name.id,
            hot=finding.other.hot_words,
            others="".join(
                f", {other.id}'s valve is on {onto[other].hot_words}" for other in chain[1:]
            ),
            at=joint.at if joint else "",
        )


def _shared(facts: Facts, findings: list[_Finding]) -> Iterator[Problem]:
    """A common going on is on a hot, or on another common, for all beyond."""
    causes: dict[tuple[Fault, Owner, Owner], list[_Finding]] = defaultdict(list)
    for finding in findings:
        if finding.other:
            own = common(finding.load.controller)
            causes[finding.fault, own, finding.other].append(finding)
    for (kind, own, other), found in causes.items():
        joint = facts.meeting([own, other])
        names = english_list(dict.fromkeys(f.load.owner.id for f in found))
        to_hot = kind is VALVE_BETWEEN_HOTS
        single = len({f.load.owner.id for f in found}) == 1
        fault = COMMON_ON_HOT if to_hot else RETURN_ON_OTHER_COMMON
        yield fault.at(
            place_of_joint(joint) or _own_place(facts, found[0]),
            variant="" if to_hot else "going on",
            where=f"in '{joint.at}' " if joint else "",
            controller=found[0].load.controller,
            other=other.hot_words if to_hot else other.words,
            stations=names,
            do="does" if single else "do",
        )


def _left_out(facts: Facts, findings: list[_Finding]) -> Iterator[Problem]:
    """All leads that the joints of one box leave out."""
    by_box: dict[str, dict[str, str]] = defaultdict(dict)
    for finding in findings:
        by_box[finding.load.box][finding.load.id] = finding.leads
    for box, leads in by_box.items():
        names = english_list(leads)
        what = f"a lead each of {names}"
        if len(leads) == 1 or "both leads" in leads.values():
            what = " and ".join(
                f"{which} of {english_list(n for n in leads if leads[n] == which)}"
                for which in dict.fromkeys(leads.values())
            )
        yield LEAD_IN_NO_JOINT.at(facts.job.joints[box].span, box=box, leads=what, valves=names)


def _single(facts: Facts, finding: _Finding) -> Problem:
    load = finding.load
    return finding.fault.at(
        _own_place(facts, finding),
        valve=load.id,
        box=load.box,
        controller=load.controller,
        other=finding.other.words if finding.other else "",
        hot=finding.other.hot_words if finding.other else "",
        valves=english_list(finding.series),
    )


def _own_place(facts: Facts, finding: _Finding) -> Span:
    """The joint that shows it, or where the joints of the box are written, or the load."""
    if finding.fault is not COILS_IN_SERIES:
        wrong = [finding.load.back_lead, finding.load.hot_lead]
        if finding.fault in (HOT_CROSSED, POLARITY_REVERSED):
            wrong.reverse()
        for lead in wrong:
            if place := place_of_joint(facts.joint_of.get(lead)):
                return place
    if finding.fault is COILS_IN_SERIES:
        for joint in facts.wiring.joints:
            if joint.as_built and {end.of for end in joint.ends} <= set(finding.series):
                return joint.span
    return place_of_joints(facts, finding.load.box) or finding.load.span
