"""Faults of who is joined with whom: terminals, commons, and a job that says it otherwise."""

from __future__ import annotations

from collections.abc import Mapping
from copy import deepcopy
from dataclasses import replace

from tests.diagnosis.ground import circuit_of, common_end, common_joint, hot_end, hot_joint
from tests.diagnosis.metal import Part, bridged, moved
from tests.diagnosis.plans import OHMS_PER_FOOT, Plan, PlannedCable, PlannedValve
from tests.diagnosis.sites import Impossible, Injected, Site

# -- wrong terminals and wrong commons -------------------------------------------------------------


def _at_strip(conductor: str, controller: str) -> Part:
    return ("splice", conductor, controller, "out")


def _moved_on(site: Site, kind: str, valves: list[PlannedValve], end: str) -> Injected:
    """Each hot on the terminal of the next."""
    circuit = site.circuit
    for valve, other in zip(valves, [*valves[1:], valves[0]], strict=True):
        part = _at_strip(valve.hots[0], valve.controller)
        circuit = moved(circuit, part, one=hot_end(other))
    names = tuple(v.id for valve in valves for v in site.plan.of(end) if v.station == valve.station)
    return Injected(kind=kind, circuit=circuit, start=end, end=end, valves=names)


def _stations(site: Site, count: int) -> list[PlannedValve]:
    controller = site.pick(site.plan.controllers)
    of = list({v.station: v for v in site.plan.of(controller)}.values())
    if len(of) < count:
        raise Impossible
    return site.random.sample(of, count)


def exchanged(site: Site) -> Injected:
    valves = _stations(site, 2)
    return _moved_on(site, "exchanged", valves, valves[0].controller)


def three_moved_on(site: Site) -> Injected:
    valves = _stations(site, 3)
    return _moved_on(site, "three moved on", valves, valves[0].controller)


def four_moved_on(site: Site) -> Injected:
    valves = _stations(site, 4)
    return _moved_on(site, "four moved on", valves, valves[0].controller)


def common_exchanged(site: Site) -> Injected:
    """At the strip: all that is on C is on a terminal, and that terminal's hot on C."""
    valve = site.valve()
    controller, hot, circuit = (
        valve.controller,
        _at_strip(valve.hots[0], valve.controller),
        site.circuit,
    )
    for part, element in site.circuit.items():
        if element.one == common_end(controller):
            circuit = moved(circuit, part, one=hot_end(valve))
    circuit = moved(circuit, hot, one=common_end(controller))
    return Injected(
        kind="common exchanged",
        circuit=circuit,
        start=controller,
        end=controller,
        valves=site.on(valve.hots[0]),
    )


def one_common_exchanged(site: Site) -> Injected:
    """Of several commons on C only one."""
    controller = site.pick([c for c in site.plan.controllers if c not in site.plan.sensors])
    commons = [c for c in site.plan.commons(controller) if c.places[0] == controller]
    if len(commons) < 2:
        raise Impossible
    valve, cable = site.pick(list(site.plan.of(controller))), site.pick(commons)
    circuit = moved(site.circuit, _at_strip(cable.common, controller), one=hot_end(valve))
    circuit = moved(circuit, _at_strip(valve.hots[0], controller), one=common_end(controller))
    return Injected(
        kind="one common exchanged",
        circuit=circuit,
        start=controller,
        end=controller,
        valves=site.on(valve.hots[0]),
    )


def _shared(site: Site) -> list[tuple[str, str, str]]:
    """Boxes with valves of two controllers."""
    found: Mapping[str, set[str]] = {box: set() for box in site.plan.boxes}
    for valve in site.plan.valves.values():
        found[valve.box].add(valve.controller)
    both = ((box, *sorted(names)[:2]) for box, names in found.items() if len(names) > 1)
    return [(box, one, two) for box, one, two in both]


def other_common(site: Site) -> Injected:
    box, one, two = site.pick(_shared(site))
    valve = site.pick(
        [v for v in site.plan.valves.values() if v.box == box and v.controller in (one, two)]
    )
    other = two if valve.controller == one else one
    part = ("lead", valve.id, "back")
    circuit = moved(site.circuit, part, one=common_joint(other, box))
    return site.at_coil("other common", valve, circuit, 0.0)


def commons_joined(site: Site) -> Injected:
    box, one, two = site.pick(_shared(site))
    circuit = bridged(site.circuit, common_joint(one, box), common_joint(two, box), 0.0)
    return Injected(kind="commons joined", circuit=circuit, start=box, end=box)


def between_hots(site: Site) -> Injected:
    """A coil between its own hot and that of another valve of its box."""
    valve = site.valve()
    others = [
        v for v in site.plan.valves.values() if v.box == valve.box and v.station != valve.station
    ]
    other = site.pick([v for v in others if v.controller == valve.controller])
    part = ("lead", valve.id, "back")
    circuit = moved(site.circuit, part, one=hot_joint(other.station, valve.box))
    found = site.at_coil("between two hots", valve, circuit, 0.0)
    return replace(found, valves=(valve.id, other.id))


# -- the job is wrong ------------------------------------------------------------------------------


def wrong_gauge(site: Site) -> Injected:
    cable = site.cable()
    gauge = site.pick([g for g in OHMS_PER_FOOT if g != cable.gauge])
    plan = deepcopy(site.plan)
    plan.cables[cable.id].gauge = plan.cables[cable.id].common_gauge = gauge
    return _of_cable("wrong gauge", cable, plan, cable.places[0], cable.places[-1])


def wrong_length(site: Site) -> Injected:
    cable = site.cable()
    plan, leg = deepcopy(site.plan), site.random.randrange(len(cable.feet))
    plan.cables[cable.id].feet[leg] *= site.pick([0.3, 0.5, 2.0, 3.0])
    return _of_cable("wrong length", cable, plan, *cable.places[leg : leg + 2])


def _of_cable(kind: str, cable: PlannedCable, plan: Plan, start: str, end: str) -> Injected:
    return Injected(
        kind=kind,
        circuit=circuit_of(plan),
        start=start,
        end=end,
        conductors=(cable.common, *cable.hots.values()),
        name=cable.id,
    )


def wrong_box(site: Site) -> Injected:
    """The valve is in another box of its cable."""
    valve = site.pick([v for v in site.plan.valves.values() if not site.is_twin(v)])
    places = site.plan.cables[valve.cable].places[1:]
    other = site.pick([box for box in places if box != valve.box])
    plan = deepcopy(site.plan)
    plan.valves[valve.id].box = other
    if not any(
        v.box == valve.box and v.controller == valve.controller for v in plan.valves.values()
    ):
        raise Impossible  # its common would pass uncut; another yard will have it
    return Injected(
        kind="wrong box",
        circuit=circuit_of(plan),
        start=valve.box,
        end=valve.box,
        conductors=(valve.hots[-1],),
        valves=(valve.id,),
        name=other,
    )


def wrong_coil(site: Site) -> Injected:
    valve = site.valve()
    ohms = site.plan.coils[valve.coil] * site.pick([0.5, 0.6, 1.6, 2.0])
    part = ("coil", valve.id)
    circuit = {**site.circuit, part: replace(site.circuit[part], ohms=ohms)}
    return site.at_coil("wrong coil", valve, circuit, ohms)


def wrong_reading(site: Site) -> Injected:
    """A digit too many or too few, as of a range taken wrong."""
    station = site.valve().station
    valve = next(v for v in site.plan.valves.values() if v.station == station)  # it is read by
    found = site.at_coil("wrong reading", valve, site.circuit, 0.0)
    return replace(found, misread=site.pick([0.1, 10.0]))
