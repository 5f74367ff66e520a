"""Faults along the way: breaks, bad splices, coils, and metal that touches."""

from __future__ import annotations

import math
from dataclasses import replace

from tests.diagnosis.metal import Part, added, bridged, split
from tests.diagnosis.sites import Injected, Site


def _in_series(site: Site, kind: str, conductors: set[str], ohms: float) -> Injected:
    """Half of them on a leg, half in a splice."""
    where = site.pick(["leg", "splice"])
    part = site.pick(site.parts(where, conductors))
    circuit = added(site.circuit, part, ohms)
    start, end = (part[2], part[3]) if where == "leg" else (part[2], part[2])
    return Injected(
        kind=kind,
        circuit=circuit,
        start=start,
        end=end,
        conductors=_spliced(site, part),
        valves=site.on(part[1]),
        ohms=ohms,
    )


def _spliced(site: Site, part: Part) -> tuple[str, ...]:
    """The conductor of a leg; of a splice all conductors in that connector."""
    if part[0] == "leg":
        return (part[1],)
    joint = site.circuit[part].one
    others = [p[1] for p, e in site.circuit.items() if p[0] == "splice" and e.one == joint]
    return tuple(dict.fromkeys([part[1], *others]))


def hot_open(site: Site) -> Injected:
    return _in_series(site, "hot open", site.hots, math.inf)


def hot_resistive(site: Site) -> Injected:
    return _in_series(site, "hot resistive", site.hots, site.extra())


def common_open(site: Site) -> Injected:
    return _in_series(site, "common open", site.commons, math.inf)


def common_resistive(site: Site) -> Injected:
    return _in_series(site, "common resistive", site.commons, site.extra())


def cable_cut(site: Site) -> Injected:
    cable = site.cable()
    cut = site.random.randrange(len(cable.feet))
    start, end = cable.places[cut : cut + 2]
    circuit = site.circuit
    for conductor in (cable.common, *cable.hots.values()):
        part = ("leg", conductor, start, end)
        if part in circuit:
            circuit = added(circuit, part, math.inf)
    gone = tuple(c for c in (cable.common, *cable.hots.values()))
    return Injected(
        kind="cable cut", circuit=circuit, start=start, end=end, conductors=gone, name=cable.id
    )


def contact_open(site: Site) -> Injected:
    controller, sensor = site.pick(list(site.plan.sensors.items()))
    circuit = added(site.circuit, ("contact", sensor), math.inf)
    landed = tuple(c.common for c in site.plan.commons(controller) if c.places[0] == controller)
    return Injected(
        kind="contact open",
        circuit=circuit,
        start=controller,
        end=controller,
        conductors=landed,
        name=sensor,
    )


def coil_open(site: Site) -> Injected:
    """The coil or a splice of its leads."""
    valve = site.pick([v for v in site.plan.valves.values() if not site.is_twin(v)])
    part = site.pick([("coil", valve.id), ("lead", valve.id, "hot"), ("lead", valve.id, "back")])
    return site.at_coil("coil open", valve, added(site.circuit, part, math.inf), math.inf)


def twin_coil_open(site: Site) -> Injected:
    valve = site.pick([v for v in site.plan.valves.values() if site.is_twin(v)])
    circuit = added(site.circuit, ("coil", valve.id), math.inf)
    return site.at_coil("one coil of a twin open", valve, circuit, math.inf)


def lead_resistive(site: Site) -> Injected:
    valve, ohms = site.valve(), site.extra()
    part = ("lead", valve.id, site.pick(["hot", "back"]))
    return site.at_coil("lead resistive", valve, added(site.circuit, part, ohms), ohms)


def coil_low(site: Site) -> Injected:
    valve, ohms = site.valve(), site.random.uniform(1, 15)
    part = ("coil", valve.id)
    circuit = {**site.circuit, part: replace(site.circuit[part], ohms=ohms)}
    return site.at_coil("coil low", valve, circuit, ohms)


def second_coil(site: Site) -> Injected:
    valve = site.valve()
    first = site.circuit["coil", valve.id]
    element = replace(first, ohms=site.plan.coils[valve.coil])
    circuit = {**site.circuit, ("coil", valve.id, "second"): element}
    return site.at_coil("second coil", valve, circuit, element.ohms)


# -- touches ---------------------------------------------------------------------------------------


def _touch(site: Site, kind: str, one: str, two: str, start: str, end: str) -> Injected:
    """Two conductors of a cable, the same way along the same leg."""
    share, ohms = site.random.random(), site.random.uniform(0, 50)
    circuit, first = split(site.circuit, ("leg", one, start, end), share)
    circuit, second = split(circuit, ("leg", two, start, end), share)
    valves = tuple(v for c in (one, two) if c in site.hots for v in site.on(c))
    return Injected(
        kind=kind,
        circuit=bridged(circuit, first, second, ohms),
        start=start,
        end=end,
        conductors=(one, two),
        valves=valves,
        ohms=ohms,
    )


def hots_touch(site: Site) -> Injected:
    legs = [leg for cable in site.plan.cables.values() for leg in site.legs(cable)]
    start, end, hots = site.pick([leg for leg in legs if len(leg[2]) > 1])
    one, two = site.random.sample(hots, 2)
    return _touch(site, "hots touch", one, two, start, end)


def hot_on_common(site: Site) -> Injected:
    legs = [(c, leg) for c in site.plan.cables.values() for leg in site.legs(c)]
    cable, (start, end, hots) = site.pick([(c, leg) for c, leg in legs if leg[2]])
    return _touch(site, "hot on common", site.pick(hots), cable.common, start, end)
