"""Check the commons as a whole: several on one C, fed both ways, carried on by a spare."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence

from cardgen.checks.boxes import pigtail_words
from cardgen.checks.rings import boxes_of, legs_of_rings
from cardgen.electrics.legs import key
from cardgen.english_lists import english_list
from cardgen.facts import Facts
from cardgen.faults.common_faults import (
    COMMON_MISSING,
    COMMON_ON_SPARE,
    COMMON_RING,
    SEVERAL_COMMONS,
)
from cardgen.light_dataclass import dataclass
from cardgen.problems import Problem, Span
from cardgen.units import SupplyKind
from cardgen.wiring.loads import landing_words
from cardgen.wiring.uses import Role
from cardgen.wiring.wiring_parts import COMMON_TERMINAL, IN, OUT, Conductor, End, Landing, Leg, Step


def commons_missing(facts: Facts) -> Iterator[Problem]:
    """A controller has valves and no common at all.

    Told before a hot is chosen, too: the common's conductor is not free for one. Where no cable is
    described yet, there is none to name.
    """
    if not facts.wiring.conductors:
        return
    for controller in facts.job.controllers.values():
        two_wire = controller.supply.value.kind is SupplyKind.TWO_WIRE
        broken = controller.id in facts.job.reported
        if controller.common or two_wire or broken:
            continue
        needy = [
            (load.span, load.id)
            for load in facts.loads_on.get(controller.id, ())
            if load.back is None and not getattr(load.owner, "common", ())
        ]
        needy += [
            (station.span, station.id)
            for station in facts.job.stations.values()
            if station.hot == () and not station.common
            if landing_words(station)[0] == controller.id
        ]
        if needy:
            names = [name for _, name in sorted(needy, key=lambda each: each[0])]
            yield COMMON_MISSING.at(
                controller.span,
                controller=controller.id,
                valves=english_list(names),
                example=_example(facts, controller.id, names[0]),
            )


def _example(facts: Facts, controller: str, load: str) -> str:
    """A free conductor in the cable that brings the hot, white if there is one."""
    known = facts.wiring.loads.get(load)
    if known and known.hot and known.hot.hops:
        here = facts.conductors_of.get(known.hot.hops[0].conductor.cable.id, ())
    else:  # no hot is chosen yet
        here = [c for c in facts.wiring.conductors.values() if controller in c.places]
    free = [c.name for c in here if c.name in facts.free_throughout]
    white = [name for name in free if " white" in name]
    return (white or free or ["A-K1 white"])[0]


@dataclass(frozen=True, slots=True)
class _Landed:
    """A conductor on C, or behind the contact of a sensor that is on C.

    Attributes:
        part: a number that two of them share where metal joins them beyond C.
    """

    conductor: Conductor
    end: End
    returns: bool
    span: Span
    part: int

    @property
    def name(self) -> str:
        """With its side where the conductor passes the controller."""
        passes = len(self.conductor.ends_at(self.end.at)) > 1
        return f"{self.conductor.name} {self.end.side}" if passes else self.conductor.name


def several_commons(facts: Facts) -> Iterator[Problem]:
    """More conductors land on C than it has screws: they need a connector with a pigtail."""
    for controller in facts.wiring.commons:
        landed = _landed(facts, controller)
        screws = facts.strips[controller].count(COMMON_TERMINAL)
        if len(landed) <= max(screws, 1) or not _is_crowded(facts, controller, landed):
            continue
        commons = sum(not one.returns for one in landed)
        counts = [_count(commons, "common"), _count(len(landed) - commons, "return")]
        yield SEVERAL_COMMONS.at(
            landed[1].span,
            variant="several screws" if screws > 1 else "",
            wires=" and ".join(filter(None, counts)),
            controller=controller,
            screws=screws,
            served="; ".join(_served(facts, controller, landed)),
            pigtail=pigtail_words(controller, landed[0].conductor.gauge),
            conductors=", ".join(one.name for one in landed),
        )


def _count(number: int, word: str) -> str:
    return f"{number} {word}{'' if number == 1 else 's'}" if number else ""


def _is_crowded(facts: Facts, controller: str, landed: list[_Landed]) -> bool:
    """Whether a C, or a contact behind it, holds more than one wire of the common."""
    terminal = End(controller, controller, COMMON_TERMINAL)
    pigtails = facts.job.pigtails.keys()
    wires = {one.conductor.name for one in landed} | pigtails | facts.job.sensors.keys()
    held: Counter[int] = Counter()
    for joint in facts.joints_at.get(controller, ()):
        count = sum(end.of in wires for end in joint.ends)
        if terminal in joint.ends:
            held[joint.which] += count
        elif count > 1 and not any(end.of in pigtails for end in joint.ends):
            return True
    return max(held.values(), default=0) > 1


def _landed(facts: Facts, controller: str) -> list[_Landed]:
    """Commons in the order of the file, then returns of their own."""
    hubs = _hubs(facts, controller)
    parts = _parts(facts, hubs)
    places = {la.conductor.name: la.span for la in facts.wiring.commons[controller]}
    for load in facts.loads_on.get(controller, ()):
        for hop in load.back.hops if load.back else ():
            written = load.owner.return_path[0].span if hasattr(load.owner, "return_path") else None
            places.setdefault(hop.conductor.name, written or load.span)
    found: list[_Landed] = []
    for conductor in facts.conductors_at.get(controller, ()):
        name = conductor.name
        found.extend(
            _Landed(
                conductor,
                end,
                Role.RETURN in _roles(facts, end)
                or any(use.role is Role.RETURN for use in facts.uses.of_end(end)),
                places.get(name, facts.job.controllers[controller].span),
                parts.get(facts.network.net(_far_end(conductor, end)), -1),
            )
            for end in conductor.ends_at(controller)
            # A hot on C is a fault.
            if facts.network.net(end) in hubs and Role.HOT not in _roles(facts, end)
        )
    order = list(places)
    return sorted(
        found,
        key=lambda one: (
            one.returns,
            order.index(one.conductor.name) if one.conductor.name in places else len(order),
        ),
    )


def _roles(facts: Facts, end: End) -> set[Role]:
    """What the leg of an end is said to be."""
    return {claim.role for claim in facts.claims_on(end)}


def _far_end(conductor: Conductor, end: End) -> End:
    """The other end of the leg that begins with this one."""
    step = 1 if end.side == OUT else -1
    far = conductor.places[conductor.places.index(end.at) + step]
    return End(conductor.name, far, IN if end.side == OUT else OUT)


def _hubs(facts: Facts, controller: str) -> set[int]:
    """The nets of C: its own, and those behind contacts."""
    terminal = End(controller, controller, COMMON_TERMINAL)
    if not facts.network.knows(terminal):
        return set()
    if any(use.role is Role.HOT for use in facts.uses.of_end(terminal)):
        return set()  # a short, which is told by itself
    hubs = {facts.network.net(terminal)}
    queue = list(hubs)
    while queue:
        net = queue.pop()
        for edge in facts.network.edges.get(net, ()):
            further, step = edge.traveled_from(net)
            if not isinstance(step, Leg) and further not in hubs:
                hubs.add(further)
                queue.append(further)
    return hubs


def _parts(facts: Facts, hubs: set[int]) -> dict[int, int]:
    """By net the number of the part that hangs together without C."""
    found: dict[int, int] = {}
    for hub in hubs:
        for edge in facts.network.edges.get(hub, ()):
            queue = [edge.traveled_from(hub)[0]]
            number = len(found)
            while queue:
                net = queue.pop()
                if net in found or net in hubs:
                    continue
                found[net] = number
                queue += [e.traveled_from(net)[0] for e in facts.network.edges.get(net, ())]
    return found


def _served(facts: Facts, controller: str, landed: list[_Landed]) -> Iterator[str]:
    """`K1 white (A1 to A3)`; where metal joins several beyond C, nobody divides the stations."""
    hubs = _hubs(facts, controller)
    parts = _parts(facts, hubs)
    served: dict[int, list[str]] = defaultdict(list)
    for circuit in facts.returning_to.get(controller, ()):
        lead = circuit.load.back_lead
        if facts.network.group(lead) != facts.network.group(circuit.load.back_end):
            lead = circuit.load.hot_lead
        part = parts.get(facts.network.net(lead))
        if part is not None:
            served[part].append(circuit.load.owner.id)
    for part in dict.fromkeys(one.part for one in landed):
        names = english_list(one.name for one in landed if one.part == part)
        owners = f" ({english_list(served[part])})" if served.get(part) else ""
        yield names + owners


def common_rings(facts: Facts) -> Iterator[Problem]:
    """A common is fed from both ends: one break in it shows on no meter."""
    rings = facts.network.rings()
    homes = [End(name, name, COMMON_TERMINAL) for name in facts.wiring.commons]
    groups = [facts.network.group(end) for end in homes if facts.network.knows(end)]
    for controller, landings in facts.wiring.commons.items():
        terminal = End(controller, controller, COMMON_TERMINAL)
        if not landings or not facts.network.knows(terminal):
            continue
        group = facts.network.group(terminal)
        if group in rings and groups.count(group) == 1:  # joined commons are told by themselves
            yield _ring(facts, controller, landings, group)


def _ring(facts: Facts, controller: str, landings: Sequence[Landing], group: int) -> Problem:
    around = legs_of_rings(facts, group)
    ways = {key(leg) for leg in around}
    fed = english_list(
        c.load.owner.id
        for c in facts.returning_to.get(controller, ())
        if any(key(step) in ways for step in c.back if isinstance(step, Leg))
    )
    return COMMON_RING.at(
        landings[0].span,
        variant="feeding" if fed else "",
        controller=controller,
        boxes=boxes_of(facts, around),
        stations=fed,
    )


def _runs_in(la: Landing, step: Step) -> bool:
    if not isinstance(step, Leg) or step.conductor.name != la.conductor.name:
        return False
    return {step.start, step.end} <= set(la.places)


def commons_on_spares(facts: Facts) -> Iterator[Problem]:
    """A spare carries a common on from some box: a repair that everyone must know."""
    for controller, landings in facts.wiring.commons.items():
        own = {la.conductor.name for la in landings if not la.begins}
        for la in landings:
            if la.begins and la.places[0] != controller and la.conductor.name not in own:
                begins, name = la.conductor.places[la.begins], la.conductor.name
                fed = english_list(
                    circuit.load.owner.id
                    for circuit in facts.returning_to.get(controller, ())
                    if any(_runs_in(la, step) for step in circuit.back)
                )
                yield COMMON_ON_SPARE.at(
                    la.span,
                    variant="feeding" if fed else "",
                    box=begins,
                    conductor=name,
                    controller=controller,
                    stations=fed,
                )
